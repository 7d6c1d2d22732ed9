"""Files to tables of text: decoding, and the bounds within which a file is taken up at all.

A file that cannot be taken up raises BadInput with one fault; what its cells mean is read
elsewhere. Quoting is that of RFC 4180.
"""

import csv
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from io import StringIO
from pathlib import Path

from planner.errors import BadInput, Fault

LARGEST_FILE_BYTES = 20_000_000
MOST_ROWS = 200_000
MOST_COLUMNS = 100

FORMULA_STARTS = ("=", "+", "-", "@")
_WORKBOOK_START = b"PK\x03\x04"
_OLD_WORKBOOK_START = b"\xd0\xcf\x11\xe0"
_WIDE_STARTS = (b"\xff\xfe", b"\xfe\xff")
_SAVE_AS_CSV = 'Save the sheet as "CSV UTF-8, comma separated".'


@dataclass(frozen=True, slots=True)
class Broken:
    """A cell of a workbook that holds no value to read."""

    value: str
    expected: str
    remedy: str


Cell = str | Broken


@dataclass(frozen=True, slots=True)
class Row:
    """One row that is not blank, numbered as a spreadsheet numbers it (the header is row 1)."""

    number: int
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class RawTable:
    """The rows of one sheet as text, without blanks around it. `where` begins its messages."""

    sheet: str
    where: str
    header: tuple[str, ...]
    rows: tuple[Row, ...]


def refusal(where: str, value: str, expected: str, remedy: str) -> BadInput:
    """The error of a file that cannot be taken up."""
    return BadInput((Fault(where=where, value=value, expected=expected, remedy=remedy),))


def file_bytes(path: Path) -> bytes:
    """The content of a file of bearable size. Raises BadInput."""
    try:
        if not path.is_file():
            raise refusal(path.name, "something else than a file", "a file", "Name an existing file.")
        with path.open("rb") as stream:
            return stream.read(LARGEST_FILE_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise refusal(path.name, f"a file that cannot be opened ({reason})", "a readable file",
                      "Check its name and its permissions.") from None  # fmt: skip


def check_size(where: str, content: bytes) -> None:
    """Refuses an empty file and a huge one."""
    if not content.strip():
        raise refusal(where, "an empty file", "a header row and data", "Add the rows, or delete the file.")
    if len(content) > LARGEST_FILE_BYTES:
        megabytes = LARGEST_FILE_BYTES // 1_000_000
        raise refusal(where, f"a file above {megabytes} MB", f"at most {megabytes} MB",
                      "Check that it is the right file, or remove what is not needed.")  # fmt: skip


def is_workbook(content: bytes) -> bool:
    """Whether a file looks like an .xlsx workbook, whatever its name."""
    return content.startswith(_WORKBOOK_START)


def csv_table(sheet: str, where: str, content: bytes) -> RawTable:
    """One CSV file as a table. Raises BadInput with one fault."""
    check_size(where, content)
    text = _decoded(where, content)
    rows = _csv_rows(where, text)
    return raw_table(sheet, where, rows)


def raw_table(sheet: str, where: str, rows: Iterable[tuple[int, tuple[Cell, ...]]]) -> RawTable:
    """A table from numbered rows: the first is the header, blank rows are dropped."""
    filled = bounded_rows(where, rows)
    number, header = next(filled, (0, ()))
    if number != 1:
        raise refusal(where, "no header in row 1", "the names of the columns in row 1", "Insert them as the first row.")
    names = tuple(cell if isinstance(cell, str) else cell.value for cell in header)
    _check_separator(where, names)
    return RawTable(sheet, where, names, tuple(Row(n, cells) for n, cells in filled))


def bounded_rows(where: str, rows: Iterable[tuple[int, tuple[Cell, ...]]]) -> Iterator[tuple[int, tuple[Cell, ...]]]:
    """The rows that are not blank. Raises BadInput where there are far too many, or one is far too long."""
    for number, cells in rows:
        if not any(cells):
            continue
        if number > MOST_ROWS + 1:
            raise refusal(where, f"more than {MOST_ROWS} rows", f"at most {MOST_ROWS} rows below the header",
                          "Remove the rows that are not needed.")  # fmt: skip
        if len(cells) > MOST_COLUMNS and any(cells[MOST_COLUMNS:]):
            raise refusal(where, f"more than {MOST_COLUMNS} columns in row {number}", f"at most {MOST_COLUMNS} columns",
                          "Remove the columns that are not needed.")  # fmt: skip
        yield number, cells


def _check_separator(where: str, header: tuple[str, ...]) -> None:
    if sum(1 for name in header if name) > 1:
        return
    for separator, name in ((";", "semicolons"), ("\t", "tabs"), ("|", "bars")):
        if separator in header[0]:
            raise refusal(where, f"columns separated by {name}", "columns separated by commas", _SAVE_AS_CSV)


def _decoded(where: str, content: bytes) -> str:
    """The text of a UTF-8 file, with or without a byte order mark."""
    if content.startswith(_WIDE_STARTS):
        raise refusal(where, "text in UTF-16", "text in UTF-8", _SAVE_AS_CSV)
    if is_workbook(content) or content.startswith(_OLD_WORKBOOK_START):
        raise refusal(where, "a workbook or an archive under the name of a CSV file", "text in UTF-8", _SAVE_AS_CSV)
    if b"\0" in content:
        raise refusal(where, "binary data or text in UTF-16", "text in UTF-8", _SAVE_AS_CSV)
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        byte = content[error.start]
        raise refusal(where, f"a byte 0x{byte:02X} in line {line} that is not UTF-8", "text in UTF-8",
                      _SAVE_AS_CSV) from None  # fmt: skip


def _csv_rows(where: str, text: str) -> Iterator[tuple[int, tuple[Cell, ...]]]:
    reader = csv.reader(StringIO(text, newline=""), strict=True)
    number = 0
    try:
        for number, cells in enumerate(reader, start=1):
            yield number, tuple(_bare(cell.strip()) for cell in cells)
    except csv.Error as error:
        raise refusal(where, f"a broken row {number + 1} ({error})", 'cells in plain text or between "…"',
                      'Close every quotation mark, and write one within a cell as "".') from None  # fmt: skip


def _bare(cell: str) -> str:
    """A cell without the apostrophe that keeps spreadsheets from taking text for a formula."""
    return cell[1:] if cell.startswith("'") and cell[1:].startswith((*FORMULA_STARTS, "'")) else cell


def guarded(cell: str) -> str:
    """Text that no spreadsheet takes for a formula when it opens the CSV file; read back by `_bare`."""
    return f"'{cell}" if cell.startswith(FORMULA_STARTS) or _bare(cell) != cell else cell
