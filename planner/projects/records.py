"""What a project keeps, as frozen records."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256

from planner.brief.records import Brief


@dataclass(frozen=True, slots=True)
class Demo:
    """The demo catalogue, wherever this program is installed."""


@dataclass(frozen=True, slots=True)
class Folder:
    """A catalogue folder or workbook on this machine, read as it stands there."""

    path: str


@dataclass(frozen=True, slots=True)
class Files:
    """A catalogue of the project's own: files by name. `digest` stands for names and content."""

    files: tuple[tuple[str, bytes], ...]
    digest: str

    @classmethod
    def of(cls, files: Iterable[tuple[str, bytes]]) -> "Files":
        """The files in the order of their names."""
        ordered = tuple(sorted(files))
        parts = (f"{name}\0{sha256(content).hexdigest()}\n" for name, content in ordered)
        return cls(ordered, sha256("".join(parts).encode()).hexdigest())


GearSource = Demo | Folder | Files


@dataclass(frozen=True, kw_only=True, slots=True)
class Work:
    """What the designer edits: a brief, sound or not yet, and the gear that it is put to."""

    brief: Brief
    gear: GearSource


@dataclass(frozen=True, kw_only=True, slots=True)
class Kept:
    """One version of a project as it was kept, and whether there is one before and after it."""

    project: str
    number: int
    work: Work
    can_undo: bool
    can_redo: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Summary:
    """A project in a list: what it is called now, and when it was last changed."""

    id: str
    name: str
    client: str
    reference: str
    changed: datetime
    versions: int
    archived: bool
