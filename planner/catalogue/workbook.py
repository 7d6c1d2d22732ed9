"""An .xlsx workbook to tables of text, so that typed cells read the same as a CSV file.

The archive is bounded before it is parsed. Formulas are never worked out: the value that the
spreadsheet saved beside one is taken, and a formula without it is a broken cell.
"""

import warnings
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date, datetime, time
from io import BytesIO
from itertools import repeat
from typing import Any

from planner.catalogue.tables import (
    MOST_COLUMNS,
    MOST_ROWS,
    Broken,
    Cell,
    RawTable,
    Row,
    bounded_rows,
    check_size,
    is_workbook,
    raw_table,
    refusal,
)
from planner.errors import BadInput

LARGEST_UNPACKED_BYTES = 100_000_000
MOST_PARTS = 1_000
_WIDEST_ROW = 10 * MOST_COLUMNS  # blank cells included, which cost time too
_LAST_ROW = 1_048_576  # of any sheet; a forged number beyond would be counted up to for ever
_SAVE_AS_XLSX = "Save it anew from a spreadsheet program as .xlsx."
_FORMULA_TAGS = (b"<f>", b"<f ", b"<f/", b":f>", b":f ")
_FORMULA_CELL = Broken(
    "a formula without a saved value",
    "a value",
    "Open the workbook, let it calculate and save it, or write the value itself.",
)


class Workbook:
    """An open workbook: its saved values and, where it holds formulas, the same with those."""

    def __init__(self, name: str, books: tuple[Any, ...]) -> None:
        self._name = name
        self._sheets = {sheets[0].title: sheets for sheets in zip(*(b.worksheets for b in books), strict=True)}

    @property
    def titles(self) -> tuple[str, ...]:
        """The titles of all sheets of cells."""
        return tuple(self._sheets)

    def table(self, sheet: str, title: str) -> RawTable:
        """One sheet as a table, its rows as long as its header. Raises BadInput with one fault."""
        table = raw_table(sheet, f"{self._name} sheet {title}", self._cells(title))
        blanks = ("",) * len(table.header)
        rows = tuple(Row(row.number, row.cells + blanks[len(row.cells) :]) for row in table.rows)
        return replace(table, rows=rows)

    def rows(self, title: str) -> Iterator[tuple[int, tuple[Cell, ...]]]:
        """The rows of one sheet that are not blank, numbered. Raises BadInput with one fault."""
        return bounded_rows(f"{self._name} sheet {title}", self._cells(title))

    def _cells(self, title: str) -> Iterator[tuple[int, tuple[Cell, ...]]]:
        return _rows(self._name, title, self._sheets[title])


@contextmanager
def open_workbook(name: str, content: bytes) -> Iterator[Workbook]:
    """Opens a workbook for reading. Raises BadInput where it is none, or far too large."""
    _check_archive(name, content)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # openpyxl warns of charts and the like that it leaves out
        books: tuple[Any, ...] = ()
        try:
            with _parsing(name):
                books = _books(content)
            yield Workbook(name, books)
        finally:
            for book in books:
                book.close()


@contextmanager
def _parsing(name: str) -> Iterator[None]:
    """Turns any failure of the parser into BadInput.

    The parser meets bytes from a stranger and raises whatever they lead to, hence the
    broad clause; it surrounds calls of the parser and nothing else.
    """
    try:
        yield
    except Exception:
        raise _damaged(name) from None


def _damaged(name: str) -> BadInput:
    return refusal(name, "a damaged workbook", "an .xlsx workbook", _SAVE_AS_XLSX)


def _books(content: bytes) -> tuple[Any, ...]:
    from openpyxl import load_workbook  # late: most catalogues are CSV

    with zipfile.ZipFile(BytesIO(content)) as archive:
        parts = (archive.read(part) for part in archive.namelist() if part.endswith(".xml"))
        formulas = any(tag in xml for xml in parts for tag in _FORMULA_TAGS)
    modes = (True, False) if formulas else (True,)
    return tuple(load_workbook(BytesIO(content), read_only=True, data_only=saved) for saved in modes)


def _check_archive(name: str, content: bytes) -> None:
    check_size(name, content)
    if not is_workbook(content):
        raise refusal(name, "something else than an .xlsx workbook", "an .xlsx workbook", _SAVE_AS_XLSX)
    with _parsing(name), zipfile.ZipFile(BytesIO(content)) as archive:
        parts = archive.infolist()
    if len(parts) > MOST_PARTS or sum(part.file_size for part in parts) > LARGEST_UNPACKED_BYTES:
        megabytes = LARGEST_UNPACKED_BYTES // 1_000_000
        raise refusal(name, "a workbook that unpacks to far more than a catalogue",
                      f"at most {megabytes} MB in {MOST_PARTS} parts",
                      "Check that it is the right file, or copy the sheets needed to a new workbook.")  # fmt: skip


def _rows(name: str, title: str, sheets: tuple[Any, ...]) -> Iterator[tuple[int, tuple[Cell, ...]]]:
    """The rows of one sheet that hold cells, numbered, as text."""
    for sheet in sheets:
        sheet.reset_dimensions()  # the size that a file states for itself can be wrong
    saved, *others = (_cells_by_row(name, sheet) for sheet in sheets)
    formulas = others[0] if others else repeat(())
    for number, (row, formula_row) in enumerate(zip(saved, formulas, strict=False), start=1):
        if number > (MOST_ROWS + 1 if row else _LAST_ROW) or len(row) > _WIDEST_ROW:
            raise refusal(f"{name} sheet {title}", f"cells as far as row {number}, column {len(row)}",
                          f"at most {MOST_ROWS} rows of {MOST_COLUMNS} columns below the header",
                          "Delete the rows and columns that are not needed, blank ones too.")  # fmt: skip
        if row:
            cells = zip(row, formula_row or repeat(None), strict=False)
            yield number, tuple(_text(cell, formula) for cell, formula in cells)


def _cells_by_row(name: str, sheet: Any) -> Iterator[tuple[Any, ...]]:
    rows = sheet.iter_rows()
    while True:
        try:
            row = next(rows, None)
        except Exception:  # as in `_parsing`, which would be slow for every row
            raise _damaged(name) from None
        if row is None:
            return
        yield row


def _text(cell: Any, formula: Any) -> Cell:
    """The text of a cell as a CSV file would have it."""
    value = cell.value
    if value is None:
        # A formula may well have come to an empty text; then the cell says that it is text.
        unsaved = formula is not None and formula.data_type == "f" and cell.data_type != "str"
        return _FORMULA_CELL if unsaved else ""
    return value.strip() if isinstance(value, str) else _typed(value)


def _typed(value: object) -> str:
    """Numbers to fifteen digits, which is all that spreadsheets keep; dates by ISO 8601."""
    match value:
        case bool():
            return "yes" if value else "no"
        case float():
            return str(int(value)) if value.is_integer() and abs(value) < 1e15 else format(value, ".15g")
        case datetime() if value.time() == time():
            return value.date().isoformat()
        case date():
            return value.isoformat()
    return str(value)
