"""Plain text in columns: widths as a terminal shows them, wrapping, and aligned tables."""

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass

WIDTH = 80
_GAP = "  "


@dataclass(frozen=True, slots=True)
class Column:
    """One column. A `flexible` one gives way, and wraps, where the page is too narrow."""

    heading: str
    right: bool = False
    flexible: bool = False


def printable(text: str) -> str:
    """The text with every control character as a blank, so that no file can steer a terminal."""
    return "".join(letter if letter.isprintable() else " " for letter in text)


def display_width(text: str) -> int:
    """Terminal columns that a text takes: wide East Asian letters two, combining marks none."""
    return len(text) if text.isascii() else sum(_letter_width(letter) for letter in text)


def wrapped(text: str, width: int) -> list[str]:
    """The text in lines of at most `width` columns, broken at blanks, or within a long word."""
    lines = [""]
    for word in text.split():
        joined = f"{lines[-1]} {word}" if lines[-1] else word
        if display_width(joined) <= width:
            lines[-1] = joined
            continue
        pieces = _broken(word, width)
        lines = [*lines, *pieces] if lines[-1] else pieces
    return lines


def paragraph(text: str, indent: str = "", first: str | None = None) -> list[str]:
    """A text across the page, under an indent; `first` stands in front of the first line."""
    lines = wrapped(printable(text), WIDTH - len(indent))
    return [(first if first is not None and n == 0 else indent) + line for n, line in enumerate(lines)]


def section(title: str, lines: Sequence[str]) -> list[str]:
    """A titled block, with a blank line before it."""
    return ["", title, "=" * len(title), *lines]


def grid(columns: Sequence[Column], rows: Sequence[Sequence[str]], notes: Sequence[str] = ()) -> list[str]:
    """A table with a heading, at most 80 columns wide as far as flexible columns allow.

    `notes`, where given, are one for each row, and stand indented under it.
    """
    cells = [[printable(cell) for cell in row] for row in rows]
    headings = [column.heading for column in columns]
    widths = _widths(columns, [headings, *cells])
    lines = _row(columns, widths, headings)
    lines.append(_GAP.join("-" * width for width in widths))
    for n, row in enumerate(cells):
        lines.extend(_row(columns, widths, row))
        lines.extend(paragraph(notes[n], indent=" " * 8) if notes else ())
    return lines


def _widths(columns: Sequence[Column], rows: Sequence[Sequence[str]]) -> list[int]:
    natural = [max(display_width(row[n]) for row in rows) for n in range(len(columns))]
    excess = sum(natural) + len(_GAP) * (len(columns) - 1) - WIDTH
    flexible = [n for n, column in enumerate(columns) if column.flexible]
    while excess > 0 and flexible:
        widest = max(flexible, key=lambda n: natural[n])
        if natural[widest] <= display_width(columns[widest].heading):
            break
        natural[widest] -= 1
        excess -= 1
    return natural


def _row(columns: Sequence[Column], widths: Sequence[int], cells: Sequence[str]) -> list[str]:
    """One table row as printed lines: as many as its tallest cell needs."""
    columns_of_lines = [wrapped(cell, width) for cell, width in zip(cells, widths, strict=True)]
    lines = []
    for n in range(max(len(cell_lines) for cell_lines in columns_of_lines)):
        printed = [
            _padded(cell_lines[n] if n < len(cell_lines) else "", width, column.right)
            for cell_lines, width, column in zip(columns_of_lines, widths, columns, strict=True)
        ]
        lines.append(_GAP.join(printed).rstrip())
    return lines


def _padded(text: str, width: int, right: bool) -> str:
    blanks = " " * (width - display_width(text))
    return blanks + text if right else text + blanks


def _letter_width(letter: str) -> int:
    if unicodedata.combining(letter):
        return 0
    return 2 if unicodedata.east_asian_width(letter) in ("W", "F") else 1


def _broken(word: str, width: int) -> list[str]:
    pieces = [""]
    for letter in word:
        if display_width(pieces[-1] + letter) > max(width, 2):
            pieces.append("")
        pieces[-1] += letter
    return pieces
