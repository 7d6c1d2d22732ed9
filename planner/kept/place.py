"""Where what is worked out is kept, unless the environment says otherwise."""

import os
import sys
from pathlib import Path

ENVIRONMENT = "PLANNER_KEPT"
"""The environment variable that names another folder; `off` keeps nothing."""

OFF = "off"
_OURS = "home-theatre-planner"


def kept_file() -> Path | None:
    """The file, in the folder where this system keeps what can be made again; None where nothing is to be kept."""
    named = os.environ.get(ENVIRONMENT)
    if named == OFF:
        return None
    return (Path(named) if named else _usual_folder() / _OURS) / "kept.sqlite"


def _usual_folder() -> Path:
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local")
    return Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache")
