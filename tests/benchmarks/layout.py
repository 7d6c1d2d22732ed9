"""Lines of a table that is printed row by row, so that widths are settled beforehand."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Column:
    """A heading, and the least width beneath it; figures stand to the right."""

    heading: str
    least_width: int = 0
    left: bool = False

    def cell(self, text: str) -> str:
        """A text padded to the column."""
        width = max(self.least_width, len(self.heading))
        return text.ljust(width) if self.left else text.rjust(width)


def line(columns: Sequence[Column], cells: Sequence[str] | None = None) -> str:
    """One row, or the headings; a row may be shorter than the table."""
    texts = [column.heading for column in columns] if cells is None else cells
    return "  ".join(column.cell(text) for column, text in zip(columns, texts, strict=False))
