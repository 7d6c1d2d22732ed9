"""A supplier's file to rows of text: CSV of any separator and encoding, or a workbook.

Bounded as the catalogue's own files are: size, rows, columns, and what a workbook unpacks to. No
formula is worked out and nothing of the file is run; its name is used without folders.
"""

import csv
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from io import StringIO
from pathlib import PurePath

from planner.catalogue.tables import Broken, Cell, Row, bounded_rows, check_size, is_workbook, refusal
from planner.catalogue.workbook import open_workbook

MOST_ROWS_ABOVE = 30
"""How far down the names of the columns are looked for, below a supplier's letterhead."""

_SEPARATORS = (";", "\t", ",", "|")
_BYTE_ORDER_MARKS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
_OLD_WORKBOOK_START = b"\xd0\xcf\x11\xe0"
_PROBED_LINES = 60


@dataclass(frozen=True, kw_only=True, slots=True)
class PriceSheet:
    """One sheet of a supplier's file. Titles are unique and never empty; rows are those below them.

    `where` begins its messages, `header_row` is numbered as a spreadsheet numbers it, and
    `sheets` are the titles of all sheets, none for a CSV file.
    """

    where: str
    titles: tuple[str, ...]
    rows: tuple[Row, ...]
    header_row: int
    sheet: str = ""
    sheets: tuple[str, ...] = ()

    def cell(self, row: Row, title: str) -> Cell:
        """The cell of a row in the column of this title; empty where the row is short."""
        index = self.titles.index(title)
        return row.cells[index] if index < len(row.cells) else ""

    def column(self, title: str) -> tuple[str, ...]:
        """The texts of a column that are not empty."""
        cells = (self.cell(row, title) for row in self.rows)
        return tuple(cell for cell in cells if isinstance(cell, str) and cell)


def read_price_sheet(name: str, content: bytes, *, sheet: str = "", header_row: int | None = None) -> PriceSheet:
    """The sheet of this title, or the longest one; the names of the columns in `header_row`, or found.

    Raises BadInput with one fault where the file cannot be taken up.
    """
    where = PurePath(name.replace("\\", "/")).name or "price list"
    check_size(where, content)
    if is_workbook(content):
        return _from_workbook(where, content, sheet, header_row)
    return _headed(where, _csv_rows(where, _decoded(where, content)), header_row)


def _from_workbook(where: str, content: bytes, sheet: str, header_row: int | None) -> PriceSheet:
    with open_workbook(where, content) as book:
        titles = [sheet] if sheet in book.titles else list(book.titles)
        rows_by_title = {title: tuple(Row(*row) for row in book.rows(title)) for title in titles}
        sheets = book.titles
    if not rows_by_title:
        raise refusal(where, "a workbook without sheets", "a sheet with a list of prices", "Save it anew.")
    longest = max(rows_by_title, key=lambda title: len(rows_by_title[title]))
    return _headed(f"{where} sheet {longest}", rows_by_title[longest], header_row, longest, sheets)


def _headed(
    where: str, rows: Sequence[Row], header_row: int | None, sheet: str = "", sheets: tuple[str, ...] = ()
) -> PriceSheet:
    """The rows below the names of the columns."""
    header = next((row for row in rows if row.number == header_row), None) if header_row else _header(rows)
    if header is None:
        found = f"no names of columns in row {header_row}" if header_row else "no row of names above the prices"
        raise refusal(where, found, "a row that names the columns", "Say which row it is, or add it.")
    return PriceSheet(
        where=where,
        titles=_unique(header.cells),
        rows=tuple(row for row in rows if row.number > header.number),
        header_row=header.number,
        sheet=sheet,
        sheets=sheets,
    )


def _header(rows: Sequence[Row]) -> Row | None:
    """The row with the most names, the topmost of those: a letterhead has fewer, the rows below have figures."""
    candidates = [row for row in rows[:MOST_ROWS_ABOVE] if _names(row) >= 2 and _names(row) == _filled(row)]
    return max(candidates, key=lambda row: (_names(row), -row.number), default=None)


def _filled(row: Row) -> int:
    return sum(1 for cell in row.cells if cell)


def _names(row: Row) -> int:
    """How many cells could be the name of a column: text with more letters than digits."""
    texts = (cell for cell in row.cells if isinstance(cell, str) and cell)
    return sum(1 for text in texts if sum(map(str.isalpha, text)) > sum(map(str.isdigit, text)))


def _unique(cells: Iterable[Cell]) -> tuple[str, ...]:
    """Titles to tell the columns apart by, also where the file repeats one or leaves it empty."""
    titles: list[str] = []
    for number, cell in enumerate(cells, start=1):
        title = " ".join(cell.split())[:80] if isinstance(cell, str) else ""
        title = title or f"column {number}"
        titles.append(title if title not in titles else f"{title} (column {number})")
    return tuple(titles)


def _decoded(where: str, content: bytes) -> str:
    """The text, by its byte order mark, else as UTF-8, else as the common Western encoding (Windows-1252)."""
    if content.startswith(_OLD_WORKBOOK_START):
        raise refusal(where, "a workbook in the old .xls format", "CSV or .xlsx", "Save it anew as .xlsx.")
    encodings = [encoding for mark, encoding in _BYTE_ORDER_MARKS if content.startswith(mark)] or ["utf-8", "cp1252"]
    for encoding in encodings:
        try:
            text = content.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" not in text:
            return text
    raise refusal(where, "binary data", "CSV or .xlsx", "Export the list anew as CSV in UTF-8, or as .xlsx.")


def _csv_rows(where: str, text: str) -> tuple[Row, ...]:
    """The rows that are not blank, numbered by record."""
    body, separator = _separated(text)
    reader = csv.reader(StringIO(body, newline=""), delimiter=separator)
    numbered: Iterator[tuple[int, tuple[Cell, ...]]] = (
        (number, tuple(cell.strip() for cell in cells)) for number, cells in enumerate(reader, start=1)
    )
    try:
        return tuple(Row(number, cells) for number, cells in bounded_rows(where, numbered))
    except csv.Error as error:
        raise refusal(where, f"a broken row {reader.line_num} ({error})", "rows of cells",
                      'Close every quotation mark, and write one within a cell as "".') from None  # fmt: skip


def _separated(text: str) -> tuple[str, str]:
    """The text, and what separates its cells: as a first line "sep=;" says, else what splits it most evenly."""
    first, _, rest = text.partition("\n")
    if first.strip().lower().startswith("sep=") and len(first.strip()) == 5:
        return f"\n{rest}", first.strip()[4]
    return text, max(_SEPARATORS, key=lambda separator: _evenness(text, separator))


def _evenness(text: str, separator: str) -> tuple[int, int]:
    """How many of the first rows have the commonest number of cells above one, and that number."""
    lines = [line for line in text.splitlines()[: _PROBED_LINES * 2] if line.strip()][:_PROBED_LINES]
    try:
        widths = Counter(len(cells) for cells in csv.reader(lines, delimiter=separator) if len(cells) > 1)
    except csv.Error:
        return (0, 0)
    return max(((count, width) for width, count in widths.items()), default=(0, 0))


def shown(cell: Cell) -> str:
    """A cell as text, also one that holds no value."""
    return cell.value if isinstance(cell, Broken) else cell
