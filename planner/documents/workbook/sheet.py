"""One sheet: a title, a heading that stays in sight and repeats in print, and typed cells.

Text goes in by `write_string` and by nothing else, so that no name of a client or an article can
become a formula or a link.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from xlsxwriter import Workbook
from xlsxwriter.format import Format
from xlsxwriter.utility import xl_rowcol_to_cell

from planner.documents.workbook.looks import Looks
from planner.tables.layout import wrapped

_TITLE, _SUBTITLE, _HEADING = 0, 1, 3
FIRST_ROW = _HEADING + 1
_A4 = 9
_LINE_HEIGHT, _GROUP_HEIGHT, _TITLE_HEIGHT = 15, 22, 24


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a sheet: its heading, its width in letters, and whether it holds figures."""

    heading: str
    width: float
    right: bool = False


class Sheet:
    """A sheet being filled, row by row from `FIRST_ROW`."""

    def __init__(
        self, book: Workbook, looks: Looks, name: str, title: tuple[str, str], columns: Sequence[Column]
    ) -> None:
        self.looks = looks
        self.name = name
        self._last_row = _HEADING
        self._columns = columns
        self._lines_by_row: dict[int, int] = {}
        self._sheet = book.add_worksheet(name)
        self._sheet.set_row(_TITLE, _TITLE_HEIGHT)
        self._sheet.write_string(_TITLE, 0, title[0], looks.title)
        self._sheet.write_string(_SUBTITLE, 0, title[1], looks.subtitle)
        for at, column in enumerate(columns):
            self._sheet.set_column(at, at, column.width)
            look = looks.heading_right if column.right else looks.heading
            self._sheet.write_string(_HEADING, at, column.heading, look)

    def text(self, row: int, column: int, text: str, look: Format | None = None) -> None:
        """Writes text as text, whatever it looks like."""
        self._sheet.write_string(row, column, text, look or self.looks.text)
        self._last_row = max(self._last_row, row)
        if look is None:  # the one that wraps
            lines = len(wrapped(text, max(1, int(self._columns[column].width))))
            self._lines_by_row[row] = max(self._lines_by_row.get(row, 1), lines)

    def group(self, row: int, words: str) -> None:
        """Writes a line that names the rows below it, ruled off from those above."""
        for column in range(len(self._columns)):
            self._sheet.write_string(row, column, "" if column else words, self.looks.group)
        self._sheet.set_row(row, _GROUP_HEIGHT)
        self._last_row = max(self._last_row, row)

    def number(self, row: int, column: int, value: float, look: Format) -> None:
        """Writes a number."""
        self._sheet.write_number(row, column, value, look)
        self._last_row = max(self._last_row, row)

    def formula(self, row: int, column: int, formula: str, value: float, look: Format) -> None:
        """Writes a formula, without its "=", and what it comes to."""
        self._sheet.write_formula(row, column, f"={formula}", look, value)
        self._last_row = max(self._last_row, row)

    def rows(self, rows: Sequence[Sequence[str | float]]) -> None:
        """Writes a plain table from `FIRST_ROW` on: text as text, numbers as counts."""
        for at, cells in enumerate(rows):
            for column, cell in enumerate(cells):
                if isinstance(cell, str):
                    self.text(FIRST_ROW + at, column, cell)
                else:
                    self.number(FIRST_ROW + at, column, cell, self.looks.count)

    def address(self, row: int, column: int) -> str:
        """A cell as formulas of other sheets name it."""
        return f"'{self.name}'!{absolute(row, column)}"

    def finish(self, footer: str, *, landscape: bool = True) -> None:
        """Sets what is printed and how: all of it, a page wide, the heading on every page."""
        sheet = self._sheet
        for row, lines in self._lines_by_row.items():
            if lines > 1:  # a spreadsheet does not find the height of wrapped text by itself when it opens a file
                sheet.set_row(row, _LINE_HEIGHT * lines)
        sheet.freeze_panes(FIRST_ROW, 0)
        sheet.print_area(0, 0, self._last_row, len(self._columns) - 1)
        sheet.repeat_rows(_HEADING)
        sheet.fit_to_pages(1, 0)
        sheet.set_paper(_A4)
        sheet.set_margins(left=0.5, right=0.5, top=0.6, bottom=0.7)
        if landscape:
            sheet.set_landscape()
        sheet.set_footer(f"&L{_plain(footer)}&R&A, &P / &N")
        sheet.hide_gridlines(2)


def cell(row: int, column: int) -> str:
    """A cell as formulas of its own sheet name it."""
    return str(xl_rowcol_to_cell(row, column))


def absolute(row: int, column: int) -> str:
    """The same, so that copying a formula does not move it."""
    return str(xl_rowcol_to_cell(row, column, row_abs=True, col_abs=True))


def _plain(text: str) -> str:
    """Text for a header or footer, where & begins a code; at most what fits the line."""
    return text.replace("&", "&&")[:200]
