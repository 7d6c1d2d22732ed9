"""Where the projects are kept, unless the `form` command is told otherwise."""

import os
from pathlib import Path

ENVIRONMENT = "PLANNER_PROJECTS"
"""The environment variable by which the command tells the form the folder."""

_USUAL = "home-theatre-projects"


def projects_folder() -> Path:
    """The folder that the environment names, else one in the user's home."""
    named = os.environ.get(ENVIRONMENT)
    return Path(named) if named else Path.home() / _USUAL
