"""One table of a TOML file, handing out its entries checked and noting every fault.

A reader asks for each entry by its key and type, and at the end calls `close`, which notes
the keys that nobody asked for. A fault never stops the reading: the entry comes back as a
harmless stand-in ("" for text, the default or not-a-number for a number), and `sound` tells
whether an entry was read as it stood, so that checks across entries can stay silent.
"""

import math
from collections.abc import Mapping
from datetime import date, datetime
from decimal import Decimal
from enum import StrEnum
from typing import TypeVar

from planner.brief.bounds import COORDINATE, Bounds
from planner.brief.records import Point
from planner.brief.values import as_decimal, as_number, as_text, as_whole, nearest, shown
from planner.errors import Fault

NOWHERE = Point(math.nan, math.nan, math.nan)
"""Stands for a position that could not be read; no comparison with it holds."""

Choice = TypeVar("Choice", bound=StrEnum)


class Table:
    """The entries of one table. `path` is its place in the file, empty for the whole file."""

    def __init__(self, entries: Mapping[str, object], file: str, path: str, faults: list[Fault]) -> None:
        self._entries = entries
        self._file = file
        self._path = path
        self._faults = faults
        self._asked: list[str] = []
        self._unsound: set[str] = set()

    # Where things are, and what is wrong with them

    def where(self, key: str) -> str:
        """The file and the path of an entry, such as "brief.toml seats[0].position"."""
        plain = key if key.isprintable() and key else shown(key)
        return f"{self._file} {self._path}.{plain}" if self._path else f"{self._file} {plain}"

    def fault(self, key: str, value: object, expected: str, remedy: str) -> None:
        """Note a fault with the value of entry `key`, or of an element of it such as "channels[2]"."""
        self.told(key, shown(value), expected, remedy)

    def told(self, key: str, found: str, expected: str, remedy: str) -> None:
        """Note a fault with entry `key` where `found` tells in words what stands there."""
        self._unsound.add(key.partition("[")[0])
        self._faults.append(Fault(where=self.where(key), value=found, expected=expected, remedy=remedy))

    def has(self, key: str) -> bool:
        """Whether the file has this entry; the key then counts as known."""
        if key not in self._asked:
            self._asked.append(key)
        return key in self._entries

    def sound(self, *keys: str) -> bool:
        """Whether none of these entries has had a fault so far."""
        return self._unsound.isdisjoint(keys)

    def close(self) -> None:
        """Note every key that nobody asked for, with the known key most like it."""
        for key in self._entries:
            if key not in self._asked:
                near = nearest(key, self._asked)
                remedy = f"Did you mean {near}?" if near else "Remove it; the brief has no such entry."
                self._faults.append(
                    Fault(
                        where=self.where(key),
                        value="an unknown key",
                        expected=f"one of {', '.join(self._asked)}",
                        remedy=remedy,
                    )
                )

    def _get(self, key: str, expected: str, example: str, optional: bool) -> object | None:
        """The entry as it stands; None where it is missing, which is a fault unless optional."""
        if self.has(key):
            return self._entries[key]
        if not optional:
            self._unsound.add(key)
            fault = Fault(where=self.where(key), value="nothing", expected=expected, remedy=f"Add {key} = {example}.")
            self._faults.append(fault)
        return None

    # Single values

    def text(self, key: str, example: str, *, blank: bool = False) -> str:
        """A line of text without blanks around it; empty only where `blank` allows it."""
        expected = "a line of text" if blank else "a line of text, not blank"
        found = self._get(key, expected, example, optional=False)
        if found is None:
            return ""
        text = as_text(found)
        if text is None or not (text or blank):
            self.fault(key, found, expected, f"Write {key} = {example}.")
        return text or ""

    def number(self, key: str, bounds: Bounds, example: str, default: float | None = None) -> float:
        """A number within bounds; without a default it must be there."""
        found = self.optional_number(key, bounds, example, optional=default is not None)
        if found is not None:
            return found
        return math.nan if default is None else default

    def optional_number(self, key: str, bounds: Bounds, example: str, *, optional: bool = True) -> float | None:
        """A number within bounds, or None where the file has none."""
        expected = f"a number {bounds}"
        found = self._get(key, expected, example, optional)
        number = as_number(found, bounds)
        if found is not None and number is None:
            self.fault(key, found, expected, f"Write {key} = {example}.")
        return number

    def whole(self, key: str, bounds: Bounds, example: str, default: int | None = None) -> int:
        """A whole number within bounds; without a default it must be there."""
        found = self.optional_whole(key, bounds, example, optional=default is not None)
        if found is not None:
            return found
        return int(bounds.low) if default is None else default

    def optional_whole(self, key: str, bounds: Bounds, example: str, *, optional: bool = True) -> int | None:
        """A whole number within bounds, or None where the file has none."""
        expected = f"a whole number {bounds}"
        found = self._get(key, expected, example, optional)
        whole = as_whole(found, bounds)
        if found is not None and whole is None:
            self.fault(key, found, expected, f"Write {key} = {example}.")
        return whole

    def optional_decimal(self, key: str, bounds: Bounds, example: str) -> Decimal | None:
        """An exact number of at most four decimals, written in quotes or bare; None where missing."""
        found = self._get(key, "", example, optional=True)
        exact = as_decimal(found, bounds)
        if found is not None and exact is None:
            self.fault(key, found, f"an amount {bounds}, of at most 4 decimals", f"Write {key} = {example}.")
        return exact

    def flag(self, key: str) -> bool:
        """True or false; false where missing."""
        found = self._get(key, "", "", optional=True)
        if found is not None and not isinstance(found, bool):
            self.fault(key, found, "true or false", f"Write {key} = true or {key} = false, without quotes.")
        return found is True

    def day(self, key: str, example: str) -> date:
        """A calendar date, written bare."""
        found = self._get(key, "a date", example, optional=False)
        if isinstance(found, date) and not isinstance(found, datetime):
            return found
        if found is not None:
            self.fault(key, found, "a date without a time", f"Write {key} = {example}, without quotes.")
        return date.min

    # Positions

    def point(self, key: str, corner: Point) -> Point:
        """A position [x, y, z] in the room, whose far corner is given."""
        found = self._get(key, "a position [x, y, z] in metres", "[1.0, 2.0, 1.2]", optional=False)
        return NOWHERE if found is None else self._point(key, found, corner)

    def points(self, key: str, corner: Point, *, blanks: bool = False) -> tuple[Point | None, ...]:
        """A list of positions in the room; `[]` stands for None where `blanks` allows it."""
        return tuple(
            None if blanks and element == [] else self._point(f"{key}[{index}]", element, corner)
            for index, element in enumerate(self._list(key, "[[1.0, 2.0, 1.2]]"))
        )

    def _point(self, key: str, value: object, corner: Point) -> Point:
        numbers = [as_number(element, COORDINATE) for element in value] if isinstance(value, list) else []
        match numbers:
            case [float(x_m), float(y_m), float(z_m)]:
                point = Point(x_m, y_m, z_m)
            case _:
                remedy = "Write it as [x, y, z], such as [1.0, 2.0, 1.2]."
                self.fault(key, value, "a position: three numbers in metres", remedy)
                return NOWHERE
        outside = _axes_outside(point, corner)
        if outside:
            expected = f"a position inside the room: {', '.join(outside)} m"
            self.fault(key, value, expected, "Move it, or correct the size of the room.")
        return point

    # Lists and tables

    def texts(self, key: str, example: str) -> tuple[str, ...]:
        """A list of lines of text; an element at fault comes back empty."""
        found = []
        for index, element in enumerate(self._list(key, example)):
            text = as_text(element)
            if not text:
                self.fault(f"{key}[{index}]", element, "a line of text, not blank", f"Write {key} = {example}.")
            found.append(text or "")
        return tuple(found)

    def choices(self, key: str, kind: type[Choice], default: tuple[Choice, ...]) -> tuple[Choice, ...]:
        """A list of names from an enum, no name twice; hyphens, blanks and capitals do not matter."""
        if not self.has(key):
            return default
        names = [str(member) for member in kind]
        found: list[Choice] = []
        for index, text in enumerate(self.texts(key, f'["{names[0]}"]')):
            name = text.casefold().replace("-", "_").replace(" ", "_")
            if name in names and kind(name) not in found:
                found.append(kind(name))
            elif name in names:
                self.fault(f"{key}[{index}]", text, "each name once", "Remove the repeated one.")
            elif text:
                near = nearest(name, names)
                remedy = f"Did you mean {near}?" if near else "Write one of these names."
                self.fault(f"{key}[{index}]", text, f"one of {', '.join(names)}", remedy)
        return tuple(found)

    def table(self, key: str, *, optional: bool = False) -> "Table":
        """The table [key]. One that must be there and is not is a single fault, not one for each entry."""
        found = self._get(key, f"a table [{key}]", "", optional=True)
        if isinstance(found, dict):
            return Table(found, self._file, key, self._faults)
        if found is not None or not optional:
            self.fault(key, found, f"a table [{key}]", f"Begin it with the line [{key}].")
        return Table({}, self._file, key, self._faults if found is None and optional else [])

    def tables(self, key: str) -> tuple["Table", ...]:
        """The tables that each begin with [[key]], in order; none where missing."""
        found = self._get(key, "", "", optional=True)
        if found is None:
            return ()
        if not isinstance(found, list) or not all(isinstance(element, dict) for element in found):
            self.fault(key, found, f"tables [[{key}]]", f"Begin each with the line [[{key}]].")
            return ()
        return tuple(Table(element, self._file, f"{key}[{index}]", self._faults) for index, element in enumerate(found))

    def _list(self, key: str, example: str) -> list[object]:
        """The list at `key`; empty where it is missing or something else, which is a fault."""
        found = self._get(key, "a list", example, optional=False)
        if isinstance(found, list):
            return found
        if found is not None:
            self.fault(key, found, "a list in square brackets", f"Write {key} = {example}.")
        return []


def _axes_outside(point: Point, corner: Point) -> list[str]:
    """The axes along which a point lies outside the room, none where a number could not be read."""
    axes = (("x", point.x_m, corner.x_m), ("y", point.y_m, corner.y_m), ("z", point.z_m, corner.z_m))
    return [f"{axis} 0 to {limit:.15g}" for axis, value, limit in axes if value < 0 or value > limit]
