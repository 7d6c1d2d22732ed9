"""A folder of papers, written whole or not at all.

The files are written into a folder beside the one wanted, brought safely to the disk, and that
folder takes the name in one step. Whoever stops the run at any moment, even by pulling the plug,
leaves the old folder whole, or the new one.
"""

import contextlib
import ctypes
import os
import shutil
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path

from planner.documents.paper import Paper
from planner.errors import WrongUsage


def refuse_folder(folder: Path, *, replace: bool, ours: Iterable[str]) -> None:
    """Raises WrongUsage, before any long work, where papers plainly cannot go into this folder.

    A folder that exists is only replaced when asked, and only where it holds nothing but papers:
    files named as in `ours`.
    """
    target = folder.absolute()
    if not target.name:
        raise WrongUsage(f"cannot write papers to {folder}: name a folder to be made.")
    if not target.parent.is_dir():
        raise WrongUsage(f"cannot write papers to {folder}: the folder above it does not exist. Make it first.")
    if not os.access(target.parent, os.W_OK):
        raise WrongUsage(f"cannot write papers to {folder}: the folder above it is write-protected. Name another.")
    if target.is_symlink() or (target.exists() and not target.is_dir()):
        raise WrongUsage(f"cannot write papers to {folder}: it is no folder. Name another.")
    if not target.exists():
        return
    if not replace:
        raise WrongUsage(
            f"{folder} exists already, and nothing in it was touched. Name another folder, or replace it with"
            " --replace."
        )
    strangers = sorted({entry.name for entry in target.iterdir()} - set(ours))
    if strangers:
        shown = ", ".join(strangers[:5]) + (f" and {len(strangers) - 5} more" if len(strangers) > 5 else "")
        raise WrongUsage(
            f"{folder} is not replaced, since it holds what is no paper of the planner's: {shown}. Move that"
            " elsewhere, or name another folder."
        )


def write_folder(folder: Path, papers: Sequence[Paper]) -> None:
    """Makes the folder with these files, or puts it in place of the one that is there. Raises OSError."""
    target = folder.absolute()
    part = target.with_name(f".{target.name}.{os.getpid()}.part")
    shutil.rmtree(part, ignore_errors=True)
    try:
        part.mkdir()
        for paper in papers:
            _write(part / paper.name, paper.content)
        _flush(part)
        _put_in_place(part, target)
        _flush(target.parent)
    finally:
        shutil.rmtree(part, ignore_errors=True)


def _write(path: Path, content: bytes) -> None:
    with path.open("xb") as stream:
        stream.write(content)
        stream.flush()
        os.fsync(stream.fileno())


def _flush(folder: Path) -> None:
    """Brings a folder's own entries to the disk, where the system can."""
    with contextlib.suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)


def _put_in_place(part: Path, target: Path) -> None:
    """The new folder under the wanted name, the old one, if any, under the other; at once where the system can."""
    if not target.exists():
        part.rename(target)
    elif not _exchanged(part, target):
        _exchange_in_steps(part, target)


def _exchanged(one: Path, other: Path) -> bool:
    """Whether two names were exchanged in one step: Linux does so by renameat2 with RENAME_EXCHANGE."""
    rename = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None) if sys.platform == "linux" else None
    if rename is None:
        return False
    here, exchange = -100, 2  # AT_FDCWD and RENAME_EXCHANGE, linux/fcntl.h and linux/fs.h
    return bool(rename(here, os.fsencode(one), here, os.fsencode(other), exchange) == 0)


def _exchange_in_steps(part: Path, target: Path) -> None:
    """The same where there is no such step: the old folder is brought back should the second fail."""
    aside = target.with_name(f".{target.name}.{os.getpid()}.before")
    target.rename(aside)
    try:
        part.rename(target)
    except OSError:
        aside.rename(target)
        raise
    aside.rename(part)
