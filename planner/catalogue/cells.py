"""What one cell of a catalogue can hold: text to value, and value back to text.

Each kind of cell is a small record with `read`, which raises `Unreadable`, and `write`, its
exact inverse. Numbers are written with a decimal point and no thousands separators, so that
a cell never means one thing in one country and another elsewhere.
"""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from difflib import get_close_matches
from enum import Enum, StrEnum
from typing import Any, Protocol
from unicodedata import category

from planner.channels import canonical
from planner.contacts import BARE_TAIL, Connector, Contact, Gender

LONGEST_TEXT = 200

# What spreadsheets show, and export, where a formula fails (ECMA-376 part 1, section 18.17.3,
# from memory; the last two are newer).
_FAILED_FORMULAS = frozenset(
    {"#DIV/0!", "#N/A", "#NAME?", "#NULL!", "#NUM!", "#REF!", "#VALUE!", "#GETTING_DATA", "#SPILL!", "#CALC!"}
)


class Unreadable(Exception):
    """A cell that cannot be read: what was expected, and how to mend it."""

    def __init__(self, expected: str, remedy: str) -> None:
        self.expected = expected
        self.remedy = remedy
        super().__init__(expected)


class Shown(Enum):
    """How a spreadsheet should hold a cell, so that people can sort and sum it."""

    TEXT = "text"
    NUMBER = "number"
    DATE = "date"


class Kind(Protocol):
    """A kind of cell."""

    @property
    def shown(self) -> Shown:
        """How a spreadsheet should hold it."""

    def read(self, text: str) -> object:
        """The value of a cell that is not empty. Raises Unreadable."""

    def write(self, value: Any) -> str:
        """The text that reads as this value."""


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that a misspelt one probably stands for."""
    return next(iter(get_close_matches(word[:LONGEST_TEXT].lower(), list(known), n=1, cutoff=0.6)), None)


def quoted(value: str) -> str:
    """A found value as messages show it: in quotes, shortened, control characters escaped."""
    if not value:
        return "nothing"
    visible = "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in value[:81])
    return f'"{visible[:80]}…"' if len(visible) > 80 else f'"{visible}"'


@dataclass(frozen=True, slots=True)
class Text:
    """Plain text of one line; `barred` characters are refused."""

    barred: str = ""
    shown = Shown.TEXT

    def read(self, text: str) -> str:
        """The text itself."""
        if len(text) > LONGEST_TEXT:
            raise Unreadable(f"at most {LONGEST_TEXT} characters", "Shorten it.")
        if not text.isprintable() and any(_unprintable(c) for c in text):
            raise Unreadable("plain text on one line", "Remove line breaks and control characters.")
        if text in _FAILED_FORMULAS:
            raise Unreadable("a value", "Mend the formula that failed, or write the value itself.")
        for character in self.barred:
            if character in text:
                raise Unreadable(f'text without "{character}"', f'"{character}" separates the entries of lists.')
        return text

    def write(self, value: str) -> str:
        """The text itself."""
        return value


def _unprintable(character: str) -> bool:
    """Whether a character has no place in a name, or none in XML (the last two)."""
    return category(character) in ("Cc", "Cs", "Zl", "Zp") or character in "\ufffe\uffff"


@dataclass(frozen=True, slots=True)
class Whole:
    """A whole number from `least` to `most`."""

    least: int
    most: int
    shown = Shown.NUMBER

    def read(self, text: str) -> int:
        """The number."""
        expected = f"a whole number from {self.least} to {self.most}"
        if not re.fullmatch(r"[+-]?[0-9]+", text):
            raise Unreadable(expected, "Write digits only.")
        value = int(text) if len(text) < 19 else None
        if value is None or not self.least <= value <= self.most:
            raise Unreadable(expected, "Correct the number.")
        return value

    def write(self, value: int) -> str:
        """The digits."""
        return str(value)


_NUMBER = re.compile(r"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]{1,3})?")
_NOT_FINITE = re.compile(r"[+-]?(nan|inf|infinity)", re.IGNORECASE)
_SEPARATED = re.compile(r"[+-]?[0-9][0-9.,'\s_]*")


def _number_remedy(text: str) -> str:
    if text.isdecimal():
        return "Correct the number."
    if _SEPARATED.fullmatch(text):
        return "Write a point before the decimals, and no thousands separators."
    return "Write the number alone, without a unit or a sign of currency."


@dataclass(frozen=True, slots=True)
class Number:
    """A decimal number from `least` to `most`, `least` itself left out if `above`."""

    least: float
    most: float
    above: bool = False
    shown = Shown.NUMBER

    def read(self, text: str) -> float:
        """The number as a finite float."""
        bound = f"above {self.least:g} and up to" if self.above else f"from {self.least:g} to"
        expected = f"a number {bound} {self.most:.15g}"
        if _NOT_FINITE.fullmatch(text):
            raise Unreadable(expected, "Leave the cell empty where the figure is not known.")
        if not _NUMBER.fullmatch(text):
            raise Unreadable(expected, _number_remedy(text))
        value = float(text)
        if not self.least <= value <= self.most or (self.above and value == self.least):
            raise Unreadable(expected, "Correct the number, and mind the unit in the name of the column.")
        return value

    def write(self, value: float) -> str:
        """The shortest text that reads as the same float."""
        exact = float(value)
        return str(int(exact)) if exact.is_integer() and abs(exact) < 1e15 else repr(exact)


_PRICE = re.compile(r"([0-9]{1,10})(\.[0-9]{1,6})?")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}\.[0-9]{3}")
_PRICE_EXPECTED = "a price such as 1299.00, zero or more and below 10000000000"


@dataclass(frozen=True, slots=True)
class Price:
    """A price in plain digits. "1.299" is refused: it can mean one or one thousand."""

    shown = Shown.NUMBER

    def read(self, text: str) -> Decimal:
        """The price, exactly as written."""
        if _THOUSANDS.fullmatch(text):
            whole = text.replace(".", "")
            raise Unreadable(_PRICE_EXPECTED, f"Write {whole}.00 or {text}0, whichever is meant.")
        if _PRICE.fullmatch(text):
            return Decimal(text)
        if _NOT_FINITE.fullmatch(text):
            raise Unreadable(_PRICE_EXPECTED, "Delete the row where the price is not known.")
        if text.startswith("-") and _PRICE.fullmatch(text[1:]):
            raise Unreadable(_PRICE_EXPECTED, "A price cannot be negative.")
        raise Unreadable(_PRICE_EXPECTED, _number_remedy(text))

    def write(self, value: Decimal) -> str:
        """The plain digits; a fourth decimal keeps three from looking like thousands."""
        text = format(value, "f")
        return text + "0" if _THOUSANDS.fullmatch(text) else text


@dataclass(frozen=True, slots=True)
class Currency:
    """A currency code in the form of ISO 4217: three letters."""

    shown = Shown.TEXT

    def read(self, text: str) -> str:
        """The code in capitals."""
        if not re.fullmatch(r"[A-Za-z]{3}", text):
            raise Unreadable("a currency code of three letters such as EUR", "Write the ISO 4217 code.")
        return text.upper()

    def write(self, value: str) -> str:
        """The code."""
        return value


@dataclass(frozen=True, slots=True)
class Day:
    """A date as ISO 8601 writes it, within this century."""

    shown = Shown.DATE

    def read(self, text: str) -> date:
        """The date."""
        expected = "a date such as 2026-11-01, from 2000 to 2099"
        if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
            raise Unreadable(expected, "Write year-month-day.")
        try:
            day = date.fromisoformat(text)
        except ValueError:
            raise Unreadable(expected, "There is no such day.") from None
        if not 2000 <= day.year <= 2099:
            raise Unreadable(expected, "Correct the year.")
        return day

    def write(self, value: date) -> str:
        """Year-month-day."""
        return value.isoformat()


@dataclass(frozen=True, slots=True)
class YesNo:
    """Yes or no; "true" and "false" are understood as well."""

    shown = Shown.TEXT

    def read(self, text: str) -> bool:
        """Whether it says yes."""
        match text.lower():
            case "yes" | "true":
                return True
            case "no" | "false":
                return False
        raise Unreadable("yes or no", "Write one of the two.")

    def write(self, value: bool) -> str:
        """Yes or no."""
        return "yes" if value else "no"


@dataclass(frozen=True, slots=True)
class OneOf:
    """One word of a fixed list."""

    words: type[StrEnum]
    shown = Shown.TEXT

    def read(self, text: str) -> StrEnum:
        """The member of the enumeration."""
        known = [word.value for word in self.words]
        if text.lower() in known:
            return self.words(text.lower())
        meant = nearest(text, known)
        remedy = f'Did you mean "{meant}"?' if meant else "Write one of these words."
        raise Unreadable(f"one of {', '.join(known)}", remedy)

    def write(self, value: StrEnum) -> str:
        """The word."""
        return value.value


@dataclass(frozen=True, slots=True)
class ContactCell:
    """A connector and a gender, such as "xlr male"; "bare" alone is a bare tail."""

    shown = Shown.TEXT

    def read(self, text: str) -> Contact:
        """The contact."""
        words = text.lower().split()
        if words in (["bare"], ["bare", "tail"]):
            return BARE_TAIL
        try:
            connector, gender = words
            contact = Contact(Connector(connector), Gender(gender))
        except ValueError:
            contact = BARE_TAIL
        if contact.connector is Connector.BARE:
            known = ", ".join(c.value for c in Connector if c is not Connector.BARE)
            raise Unreadable("a connector and a gender such as xlr male, or bare", f"Connectors are {known}.")
        return contact

    def write(self, value: Contact) -> str:
        """The connector and the gender."""
        return "bare" if value == BARE_TAIL else f"{value.connector.value} {value.gender.value}"


def _entries(text: str) -> list[str]:
    """The entries of a list separated by semicolons. Raises Unreadable for an empty one."""
    entries = [entry.strip() for entry in text.split(";")]
    if not all(entries):
        raise Unreadable('entries separated by ";", none of them empty', 'Remove the ";" too many.')
    return entries


@dataclass(frozen=True, slots=True)
class ListOf:
    """Entries separated by semicolons."""

    entry: Callable[[str], str]
    shown = Shown.TEXT

    def read(self, text: str) -> tuple[str, ...]:
        """The entries in order."""
        return tuple(self.entry(entry) for entry in _entries(text))

    def write(self, value: tuple[str, ...]) -> str:
        """The entries with semicolons between."""
        return ";".join(value)


@dataclass(frozen=True, slots=True)
class Channels:
    """Channel labels of ITU-R BS.2051, or trade names, separated by semicolons.

    Without a layout at hand "Ls" means M+110; beside a rear channel it can only be M+090.
    """

    shown = Shown.TEXT

    def read(self, text: str) -> tuple[str, ...]:
        """The labels of BS.2051 in order."""
        names = _entries(text)
        labels = [canonical(name) for name in names]
        if "M+135" in labels or "M-135" in labels:
            labels = [canonical(name, among=("M+090", "M-090")) for name in names]
        for name, label in zip(names, labels, strict=True):
            if label is None:
                raise Unreadable(
                    "channel labels of ITU-R BS.2051 or their trade names",
                    f"{quoted(name)} is neither; write for example M+030 or L, LFE1 or LFE.",
                )
        known = tuple(label for label in labels if label is not None)
        twice = next((label for label in known if known.count(label) > 1), None)
        if twice is not None:
            raise Unreadable("each channel once", f"{twice} is listed more than once.")
        return known

    def write(self, value: tuple[str, ...]) -> str:
        """The labels with semicolons between."""
        return ";".join(value)
