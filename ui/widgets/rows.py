"""Editable tables: rows in, rows out, with every cell read back as a value of its own type."""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum

import pandas as pd
import streamlit as st
from streamlit.column_config import (
    CheckboxColumn,
    ListColumn,
    MultiselectColumn,
    NumberColumn,
    SelectboxColumn,
    TextColumn,
)
from streamlit.elements.lib.column_types import ColumnConfig

from planner.lengths import read_length_m


class Cell(Enum):
    """What a column holds."""

    TEXT = "text"
    NUMBER = "number"
    WHOLE = "whole"
    TICK = "tick"
    CHOICE = "choice"
    TEXTS = "texts"


@dataclass(frozen=True, kw_only=True, slots=True)
class Column:
    """One column: its name in the rows, its heading with the unit, and one sentence of help.

    `choices` are the values offered; a TEXTS column with choices still takes others.
    `start` is what a new row begins with.
    """

    name: str
    heading: str
    cell: Cell
    help: str | None = None
    choices: tuple[str, ...] = ()
    words: Callable[[str], str] = str
    start: str | float | bool | None = None
    width: int | None = None


@dataclass(frozen=True, slots=True)
class Row:
    """One row as it was left: an empty cell reads as "", NaN, 0, False or ()."""

    cells: Mapping[str, object]

    def text(self, name: str) -> str:
        """A text or choice."""
        value = self.cells.get(name)
        return value if isinstance(value, str) else ""

    def number(self, name: str) -> float:
        """A number; NaN where nothing stands."""
        value = self.cells.get(name)
        return float(value) if isinstance(value, int | float) else math.nan

    def optional_number(self, name: str) -> float | None:
        """A number; None where nothing stands."""
        value = self.number(name)
        return None if math.isnan(value) else value

    def length_m(self, name: str) -> float:
        """A length in metres, also where it stands as text; NaN where nothing stands, or no length."""
        value = self.cells.get(name)
        read = read_length_m(value) if isinstance(value, str) else self.number(name)
        return math.nan if read is None else read

    def whole(self, name: str) -> int:
        """A whole number; 0 where nothing stands."""
        value = self.number(name)
        return int(value) if math.isfinite(value) else 0

    def tick(self, name: str) -> bool:
        """Whether the box is ticked."""
        return self.cells.get(name) is True

    def texts(self, name: str) -> tuple[str, ...]:
        """Several texts."""
        value = self.cells.get(name)
        return tuple(str(part) for part in value) if isinstance(value, Iterable) and not isinstance(value, str) else ()

    def blank(self, columns: Sequence[Column]) -> bool:
        """Whether nothing was entered in any column but its start value."""
        return all(self._untouched(column) for column in columns)

    def _untouched(self, column: Column) -> bool:
        match column.cell:
            case Cell.TEXT | Cell.CHOICE:
                return self.text(column.name) in ("", column.start)
            case Cell.NUMBER | Cell.WHOLE:
                value = self.number(column.name)
                return math.isnan(value) or value == column.start
            case Cell.TICK:
                return not self.tick(column.name)
            case Cell.TEXTS:
                return not self.texts(column.name)


def edit_rows(
    columns: Sequence[Column], rows: Iterable[Mapping[str, object]], *, key: str, label: str
) -> tuple[Row, ...]:
    """Shows the rows as a table that can be edited, and returns what it holds now.

    Rows in which nothing was entered are left out. Limits are not set here: what a cell
    may hold is for the planner to say.
    """
    edited = st.data_editor(
        _frame(columns, rows),
        key=key,
        num_rows="dynamic",
        hide_index=True,
        width="stretch",
        column_config={column.name: _configured(column) for column in columns},
        alt=label,
        placeholder="",
    )
    records = (Row({str(name): value for name, value in record.items()}) for record in edited.to_dict("records"))
    return tuple(row for row in records if not row.blank(columns))


def with_unnamed(sets: Sequence[Row], members: Sequence[Row]) -> tuple[tuple[Row, tuple[Row, ...]], ...]:
    """Each set by its "name" with the members that name it as their "set".

    Members of a repeated name go to its first set; a name that no set has makes a set of its own.
    """
    rows = list(sets)
    known = {row.text("name") for row in rows}
    for name in dict.fromkeys(member.text("set") for member in members):
        if name not in known:
            rows.append(Row({"name": name}))
    members_by_name: dict[str, tuple[Row, ...]] = {}
    for member in members:
        name = member.text("set")
        members_by_name[name] = (*members_by_name.get(name, ()), member)
    return tuple((row, members_by_name.pop(row.text("name"), ())) for row in rows)


def _frame(columns: Sequence[Column], rows: Iterable[Mapping[str, object]]) -> pd.DataFrame:
    listed = list(rows)
    return pd.DataFrame(
        {column.name: pd.Series([row.get(column.name) for row in listed], dtype=_dtype(column)) for column in columns}
    )


def _dtype(column: Column) -> str:
    """Whole numbers are held as floats, since a typed one can be larger than any integer cell.

    Objects can be missing, as every cell of a row that was just added is.
    """
    match column.cell:
        case Cell.NUMBER | Cell.WHOLE:
            return "float64"
        case Cell.TEXT | Cell.CHOICE | Cell.TEXTS | Cell.TICK:
            return "object"


def _configured(column: Column) -> ColumnConfig:
    heading, help_, width = column.heading, column.help, column.width
    match column.cell:
        case Cell.TEXT:
            return TextColumn(heading, help=help_, width=width, default=_text_start(column))
        case Cell.NUMBER:
            return NumberColumn(heading, help=help_, width=width, default=_number_start(column), format="%.2f")
        case Cell.WHOLE:
            return NumberColumn(heading, help=help_, width=width, default=_number_start(column), step=1, format="%d")
        case Cell.TICK:
            return CheckboxColumn(heading, help=help_, width=width, default=False)
        case Cell.CHOICE:
            return SelectboxColumn(
                heading,
                help=help_,
                width=width,
                options=list(column.choices),
                format_func=lambda value: column.words(str(value)),
                default=_text_start(column),
            )
        case Cell.TEXTS if column.choices:
            return MultiselectColumn(
                heading,
                help=help_,
                width=width,
                options=list(column.choices),
                accept_new_options=True,
                format_func=column.words,
            )
        case Cell.TEXTS:
            return ListColumn(heading, help=help_, width=width)


def _text_start(column: Column) -> str | None:
    return column.start if isinstance(column.start, str) else None


def _number_start(column: Column) -> float | None:
    return column.start if isinstance(column.start, int | float) else None
