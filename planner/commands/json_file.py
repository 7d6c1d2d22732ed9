"""Where a command's JSON goes: a file, or standard output and nothing else there."""

import os
import sys
from io import TextIOWrapper
from pathlib import Path

from planner.errors import WrongUsage

STANDARD_OUTPUT = "-"


def json_path(text: str | None) -> Path | None:
    """The file named, None for none or standard output.

    Raises WrongUsage, before any long work, where it plainly cannot be written.
    """
    if text is None or text == STANDARD_OUTPUT:
        return None
    path = Path(text)
    folder = path.resolve().parent
    if path.is_dir():
        raise WrongUsage(f"cannot write JSON to {text}: it is a folder. Name a file.")
    if not folder.is_dir():
        raise WrongUsage(f"cannot write JSON to {text}: its folder does not exist. Make it first.")
    if not os.access(folder, os.W_OK):
        raise WrongUsage(f"cannot write JSON to {text}: its folder is write-protected. Name another.")
    return path


def write_json(path: Path, text: str) -> None:
    """Writes the whole text or nothing. Raises WrongUsage."""
    from planner.result_json import write_atomically  # late: it loads all figures of an option

    try:
        write_atomically(path, text)
    except OSError as error:
        raise WrongUsage(f"cannot write JSON to {path}: {error.strerror}.") from error


def print_json(text: str) -> None:
    """Writes the text to standard output, in UTF-8 whatever the terminal's letters."""
    if isinstance(sys.stdout, TextIOWrapper):
        sys.stdout.reconfigure(encoding="utf-8")
    sys.stdout.write(text)
