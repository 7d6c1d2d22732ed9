"""Rows of text to records, each with its place, so that later checks can name row and column."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Generic, TypeVar, cast

from planner.catalogue.cells import Unreadable, nearest, quoted
from planner.catalogue.schema import Column, Sheet
from planner.catalogue.tables import Broken, Cell, RawTable, Row
from planner.errors import Fault

MOST_FAULTS_TOLD = 10_000

R = TypeVar("R")


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A row of a sheet; places sort as the sheets do in a catalogue."""

    sheet_order: int
    row: int
    where: str

    def __str__(self) -> str:
        return f"{self.where} row {self.row}"


@dataclass(frozen=True, slots=True)
class Flaw:
    """A fault with its place, so that faults can be told in the order of the rows."""

    place: Place
    fault: Fault


@dataclass(frozen=True, slots=True)
class Complaint:
    """What is wrong in one column of a row, of the row as a whole if `column` is empty."""

    column: str
    found: str
    expected: str
    remedy: str

    def at(self, place: Place) -> Flaw:
        """The complaint with the row that it is about."""
        where = f"{place}, column {self.column}" if self.column else str(place)
        return Flaw(place, Fault(where=where, value=self.found, expected=self.expected, remedy=self.remedy))


@dataclass(frozen=True, slots=True)
class Entry(Generic[R]):
    """A record and the row it was read from."""

    record: R
    place: Place


@dataclass(frozen=True, slots=True)
class SheetReading:
    """What came of one sheet.

    `doubtful` holds the skus (for ports, the devices) of rows that became no record, with
    their places; `named` is false where even those could not be read.
    """

    sheet: Sheet
    entries: tuple[Entry[Any], ...] = ()
    flaws: tuple[Flaw, ...] = ()
    doubtful: tuple[tuple[str, Place], ...] = ()
    named: bool = True


def placed(entry: Entry[Any], complaints: Iterable[Complaint]) -> Iterator[Flaw]:
    """Complaints about one entry with its row."""
    return (complaint.at(entry.place) for complaint in complaints)


class Entries:
    """All records that could be read, by type, and what could not be.

    Checks look here, so as not to complain of what is only missing because of another fault.
    """

    def __init__(self, readings: Sequence[SheetReading]) -> None:
        self._readings: Mapping[type[Any], SheetReading] = {r.sheet.record: r for r in readings}

    def of(self, record: type[R]) -> tuple[Entry[R], ...]:
        """The entries of one type of record, in the order of the rows."""
        return cast(tuple[Entry[R], ...], self._readings[record].entries)

    def doubtful(self, record: type[Any]) -> frozenset[str]:
        """The skus or devices of the rows of this type that became no record."""
        return frozenset(name for name, _ in self._readings[record].doubtful)

    def named_rows(self, record: type[Any]) -> tuple[tuple[str, Place], ...]:
        """The sku and place of every row of this type of item, whether or not it became a record."""
        reading = self._readings[record]
        sound = ((entry.record.sku, entry.place) for entry in reading.entries)
        return (*sound, *((name, place) for name, place in reading.doubtful if name))

    def named(self, record: type[Any]) -> bool:
        """Whether the sku or device of every row of this type is known."""
        return self._readings[record].named


def read_sheet(sheet: Sheet, order: int, table: RawTable) -> SheetReading:
    """Every record of a table, and every flaw of its header and of its rows."""
    header = _Header(sheet, Place(order, 1, table.where), table.header)
    flaws = list(header.flaws())
    complete = not header.missing
    entries: list[Entry[Any]] = []
    doubtful: list[tuple[str, Place]] = []
    for row in table.rows:
        place = Place(order, row.number, table.where)
        if len(flaws) >= MOST_FAULTS_TOLD:
            flaws.append(_rest_unread(place))
            return SheetReading(sheet, tuple(entries), tuple(flaws), named=False)
        values, found = header.read(row, place)
        if complete and not found:
            entries.append(Entry(sheet.build(values), place))
        else:
            flaws += found
            doubtful.append((header.name_of(row), place))
    return SheetReading(sheet, tuple(entries), tuple(flaws), tuple(doubtful), named=header.named)


def _rest_unread(place: Place) -> Flaw:
    fault = Fault(
        where=place.where,
        value=f"{MOST_FAULTS_TOLD} faults or more above row {place.row}",
        expected="a file with the columns of this sheet",
        remedy="Mend those listed, then read the file again: the rows from there on were not read.",
    )
    return Flaw(place, fault)


class _Header:
    """The columns that a table has, and how to read a row by them."""

    def __init__(self, sheet: Sheet, place: Place, titles: tuple[str, ...]) -> None:
        self._sheet, self._place = sheet, place
        names = [_plain(title) for title in titles]
        while names and not names[-1]:
            names.pop()
        self._titles, self._names = titles[: len(names)], names
        self._absent = [c for c in sheet.columns if c.name not in names]
        self.missing = [c.name for c in self._absent if c.required]
        self.named = sheet.columns[0].name in names
        self._columns = [(names.index(c.name), c) for c in sheet.columns if c.name in names]

    def flaws(self) -> Iterator[Flaw]:
        """Unknown, repeated, nameless and missing columns; a misspelt one counts once."""
        known = [c.name for c in self._sheet.columns]
        meant = set()
        for index, (title, name) in enumerate(zip(self._titles, self._names, strict=True)):
            if not name:
                yield self._flaw(f"data in column {index + 1} without a name", "a name in row 1 for every column",
                                 "Name the column, or delete it.")  # fmt: skip
            elif name not in known:
                guess = nearest(name, [c.name for c in self._absent]) or nearest(name, known)
                meant.add(guess)
                yield self._flaw(f"an unknown column {quoted(title)}", f"the columns {', '.join(known)}",
                                 f'Did you mean "{guess}"?' if guess else "Delete the column.")  # fmt: skip
            elif name in self._names[:index]:
                yield self._flaw(f"the column {quoted(title)} twice", "each column once", "Delete one of the two.")
        for name in self.missing:
            if name not in meant:
                needed = ", ".join(c.name for c in self._sheet.columns if c.required)
                remedy = "Add the column and fill it in."
                yield self._flaw(f'no column "{name}"', f"at least the columns {needed}", remedy)

    def read(self, row: Row, place: Place) -> tuple[dict[str, object], list[Flaw]]:
        """The values of a row by column name, and its flaws."""
        if len(row.cells) < len(self._names) or any(row.cells[len(self._names) :]):
            return {}, [self._misfit(row).at(place)]
        values: dict[str, object] = {column.name: column.default for column in self._absent}
        flaws = []
        for index, column in self._columns:
            try:
                values[column.name] = _value(column, row.cells[index])
            except Unreadable as error:
                shown = _shown(row.cells[index])
                flaws.append(Complaint(column.name, shown, error.expected, error.remedy).at(place))
        return values, flaws

    def _misfit(self, row: Row) -> Complaint:
        """The complaint about a row with too few cells or too many."""
        wide = len(self._names)
        if len(row.cells) < wide:
            count, remedy = len(row.cells), "Add the cells that are missing, empty ones too."
        else:
            count = max(number for number, cell in enumerate(row.cells, start=1) if cell)
            remedy = "Write decimals with a point, and put a text that holds a comma between quotes."
        return Complaint("", f"{count} cells", f"{wide} cells as in the header", remedy)

    def name_of(self, row: Row) -> str:
        """The sku or device that a row names, as far as it can be told."""
        index = self._columns[0][0] if self.named else len(row.cells)
        cell = row.cells[index] if index < len(row.cells) else ""
        return cell if isinstance(cell, str) else ""

    def _flaw(self, value: str, expected: str, remedy: str) -> Flaw:
        return Complaint("", value, expected, remedy).at(self._place)


def _plain(title: str) -> str:
    """A column's title in lower case, with underscores for blanks and hyphens."""
    return "_".join(title.lower().replace("-", " ").replace("_", " ").split())


def _value(column: Column, cell: Cell) -> object:
    if isinstance(cell, Broken):
        raise Unreadable(cell.expected, cell.remedy)
    if cell:
        return column.kind.read(cell)
    if column.required:
        raise Unreadable("a value", "Fill in the cell; this column may not be empty.")
    return column.default


def _shown(cell: Cell) -> str:
    return cell.value if isinstance(cell, Broken) else quoted(cell)
