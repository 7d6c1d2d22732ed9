"""Projects kept in a folder: every version of a brief with the gear it was put to, undo, copies, archive.

`records` says what is kept, `store` keeps it in one SQLite file, `compare` tells two briefs apart.
"""

from planner.projects.location import projects_folder
from planner.projects.records import Demo, Files, Folder, GearSource, Kept, Summary, Work
from planner.projects.store import ProjectStore, Superseded

__all__ = [
    "Demo",
    "Files",
    "Folder",
    "GearSource",
    "Kept",
    "ProjectStore",
    "Summary",
    "Superseded",
    "Work",
    "projects_folder",
]
