"""Keys of content: a brief whose key is that of a kept result need not be answered again.

A key covers all that a result depends on: the brief's text, every file of the catalogue, the house
settings, and the planner itself with the schema of its result. Keys are made before the files are
read, so a file that changes in between can only have a brief done once more, never once too few.
"""

from pathlib import Path

from planner.kept.content import digest, planner_key


def shared_key(catalogue: Path, house: Path) -> str:
    """The key of what all briefs of a batch have in common: hexadecimal digits."""
    sheets = (
        sorted(file for file in catalogue.iterdir() if file.suffix.lower() == ".csv")
        if catalogue.is_dir()
        else [catalogue]
    )
    named = [*((file.name, file) for file in sheets), ("house settings", house)]
    return digest([*((name, content_of(file)) for name, file in named), ("planner", planner_key().encode())])


def brief_key(brief: bytes, shared: str) -> str:
    """The key of one brief's answer: hexadecimal digits."""
    return digest([("shared", shared.encode()), ("brief", brief)])


def content_of(file: Path) -> bytes:
    """What a file holds; nothing where it cannot be opened, which its reader tells."""
    try:
        return file.read_bytes()
    except OSError:
        return b""
