"""From a file or a text to the entries of a TOML document, or one clear fault why not."""

import re
import tomllib
from pathlib import Path

from planner.brief.values import exact_from_text, shown
from planner.errors import BadInput, Fault

LARGEST_FILE_BYTES = 1_000_000


def read_text(path: Path) -> str:
    """The text of a brief's file. Raises BadInput with one fault if there is none to be had."""
    try:
        with path.open("rb") as file:
            raw = file.read(LARGEST_FILE_BYTES + 1)
    except OSError as error:
        reason = error.strerror or type(error).__name__
        raise _refusal(path.name, reason.lower(), "a readable file", "Check the name and the folder.") from error
    return decoded(raw, path.name)


def decoded(raw: bytes, name: str) -> str:
    """The text of a file's content. Raises BadInput with one fault if it is none."""
    if len(raw) > LARGEST_FILE_BYTES:
        raise _too_large(name)
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        found = f"bytes that are not UTF-8 text (at byte {error.start})"
        raise _refusal(name, found, "a text file", "Save it as plain text, encoded as UTF-8.") from error


def entries(text: str, name: str) -> dict[str, object]:
    """The entries of a TOML text, floats as Decimal. Raises BadInput with one fault."""
    if len(text) > LARGEST_FILE_BYTES:
        raise _too_large(name)
    if "\0" in text:
        raise _refusal(name, "bytes that are not text", "a text file", "Save it as plain text, encoded as UTF-8.")
    if not text.strip():
        raise _refusal(name, "an empty file", "a brief", "Begin with [project], [room] and [[seats]].")
    try:
        return tomllib.loads(text, parse_float=exact_from_text)
    except RecursionError as error:
        raise _refusal(name, "brackets nested too deeply", "a TOML file", "Remove the nested brackets.") from error
    except tomllib.TOMLDecodeError as error:
        raise _malformed(text, name, str(error)) from error
    except ValueError as error:  # Python refuses whole numbers of thousands of digits
        raise _refusal(name, "a number of thousands of digits", "numbers of a sane size", "Shorten it.") from error


def _malformed(text: str, name: str, message: str) -> BadInput:
    """What the TOML reader said, with the line that it stopped at."""
    what, _, place = message.partition(" (at ")
    line = re.match(r"line (\d+)", place)
    lines = text.splitlines() or [""]
    number = int(line[1]) if line else len(lines)
    found = shown(lines[min(number, len(lines)) - 1].strip())
    remedy = f"Mend this line or the one before it: {what[:1].lower()}{what[1:]}."
    return _refusal(f"{name} line {number}", found, "a line of TOML", remedy)


def _too_large(name: str) -> BadInput:
    return _refusal(name, "more than 1 MB", "a brief, a few kilobytes of text", "Check that this is the right file.")


def _refusal(where: str, found: str, expected: str, remedy: str) -> BadInput:
    return BadInput((Fault(where=where, value=found, expected=expected, remedy=remedy),))
