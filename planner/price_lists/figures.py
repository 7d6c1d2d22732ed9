"""Figures and days as suppliers write them, read only where they can mean one thing.

"1.299" is one and a bit in one country and over a thousand in another, "3/4/2026" is a day in
April or in March. So a column is read in one style throughout; which styles would do is worked
out from all its cells, and where two would, the user is asked.
"""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum
from functools import partial
from typing import TypeVar

from planner.catalogue.cells import Unreadable

GREATEST = Decimal(10) ** 10

Style = TypeVar("Style")


class FigureStyle(StrEnum):
    """What stands before the decimals."""

    POINT = "point"
    COMMA = "comma"


class DayStyle(StrEnum):
    """The order of a date's parts."""

    YEAR_FIRST = "year_first"
    DAY_FIRST = "day_first"
    MONTH_FIRST = "month_first"


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount as read, and the currency code or sign beside it, if any."""

    value: Decimal
    currency: str


# Thousands in groups of three, set apart by the other mark, a blank or an apostrophe; ",-" for no decimals.
_GROUPS = r"\d{{1,3}}(?:{other}\d{{3}})+|\d{{1,3}}(?:[ '’]\d{{3}})+|\d{{1,10}}"
_FIGURE: Mapping[FigureStyle, re.Pattern[str]] = {
    FigureStyle.POINT: re.compile(rf"({_GROUPS.format(other=',')})(?:\.(\d{{1,6}}|[-–—]{{1,2}}))?", re.ASCII),
    FigureStyle.COMMA: re.compile(rf"({_GROUPS.format(other='[.]')})(?:,(\d{{1,6}}|[-–—]{{1,2}}))?", re.ASCII),
}
_BESIDE = r"[A-Za-z]{3}|[€£¥$]|kr\.?|zł|Kč|Ft|Fr\."
_PRICED = re.compile(rf"({_BESIDE})?\s*(-?[\d][\d.,'’ \-–—]*)\s*({_BESIDE})?", re.ASCII)
_BLANKS = re.compile(r"[\s\u00a0\u2007\u2009\u202f]+")

CURRENCIES_OF_SIGN: Mapping[str, tuple[str, ...]] = {
    "€": ("EUR",),
    "£": ("GBP", "GIP", "FKP", "SHP", "EGP"),
    "¥": ("JPY", "CNY"),
    "$": ("USD", "CAD", "AUD", "NZD", "SGD", "HKD", "TWD", "MXN"),
    "kr": ("SEK", "NOK", "DKK", "ISK"),
    "kr.": ("SEK", "NOK", "DKK", "ISK"),
    "zł": ("PLN",),
    "Kč": ("CZK",),
    "Ft": ("HUF",),
    "Fr.": ("CHF",),
}
"""Which currencies a sign can stand for: common knowledge, ISO 4217 for the codes."""


def read_amount(text: str, style: FigureStyle) -> Amount:
    """The amount in a cell. Raises Unreadable.

    >>> read_amount("EUR 1.299,50", FigureStyle.COMMA)
    Amount(value=Decimal('1299.50'), currency='EUR')
    >>> read_amount("1'299.–", FigureStyle.POINT).value
    Decimal('1299')
    """
    found = _PRICED.fullmatch(_BLANKS.sub(" ", text).strip())
    if found is None:
        raise Unreadable("a price", "Write the figure alone, or leave the row out.")
    front, figure, back = found.groups()
    if front and back and front != back:
        raise Unreadable("one currency", "Write it once.")
    return Amount(read_figure(figure.strip(), style), front or back or "")


def read_figure(text: str, style: FigureStyle) -> Decimal:
    """The figure in a text, zero or more. Raises Unreadable."""
    expected = f"a figure with a {style.value} before its decimals"
    if text.startswith("-"):
        raise Unreadable(expected, "A price cannot be negative.")
    found = _FIGURE[style].fullmatch(text)
    if found is None:
        other = next(one for one in FigureStyle if one is not style)
        fits = _FIGURE[other].fullmatch(text) is not None
        remedy = f"It has a {other.value} there; write it like the others." if fits else "Write plain digits."
        raise Unreadable(expected, remedy)
    whole = re.sub(r"\D", "", found[1])
    decimals = found[2] if found[2] and found[2].isdigit() else ""
    value = Decimal(f"{whole}.{decimals}" if decimals else whole)
    if value >= GREATEST:
        raise Unreadable(f"a figure below {GREATEST}", "Correct it.")
    return value


def figure_styles(texts: Iterable[str]) -> frozenset[FigureStyle]:
    """The styles in which the most of these cells can be read; both where they read as different figures alike.

    >>> sorted(figure_styles(["1.299", "849"]))
    [<FigureStyle.COMMA: 'comma'>, <FigureStyle.POINT: 'point'>]
    >>> sorted(figure_styles(["1.299", "849,50"]))
    [<FigureStyle.COMMA: 'comma'>]
    >>> sorted(figure_styles(["1299", "849"]))
    [<FigureStyle.POINT: 'point'>]
    """
    cells = tuple(texts)
    values = {style: [_attempt(_amount_in(style), text) for text in cells] for style in FigureStyle}
    return _best(values, FigureStyle.POINT)


_DAY = re.compile(r"(\d{1,4})[-./ ](\d{1,2})[-./ ](\d{1,4})")


def read_day(text: str, style: DayStyle) -> date:
    """The day in a cell, within this century. Raises Unreadable.

    >>> read_day("3.4.2026", DayStyle.DAY_FIRST)
    datetime.date(2026, 4, 3)
    """
    expected = f"a date, {style.value.replace('_', ' ')}"
    found = _DAY.fullmatch(text.split("T")[0].strip())
    if found is None:
        raise Unreadable(expected, "Write it in figures, such as 2026-11-01.")
    parts = tuple(map(int, found.groups()))
    year, month, day = {
        DayStyle.YEAR_FIRST: parts,
        DayStyle.DAY_FIRST: parts[::-1],
        DayStyle.MONTH_FIRST: (parts[2], parts[0], parts[1]),
    }[style]
    try:
        read = date(year + 2000 if year < 100 else year, month, day)
    except ValueError:
        raise Unreadable(expected, "There is no such day in that order.") from None
    if not 2000 <= read.year <= 2099:
        raise Unreadable(f"{expected}, from 2000 to 2099", "Correct the year.")
    return read


def day_styles(texts: Iterable[str]) -> frozenset[DayStyle]:
    """The orders in which the most of these cells can be read; several where they read as different days alike.

    >>> sorted(day_styles(["3.4.2026", "25.4.2026"]))
    [<DayStyle.DAY_FIRST: 'day_first'>]
    """
    cells = tuple(texts)
    values = {style: [_attempt(partial(read_day, style=style), text) for text in cells] for style in DayStyle}
    return _best(values, DayStyle.YEAR_FIRST)


def _amount_in(style: FigureStyle) -> Callable[[str], object]:
    return lambda text: read_amount(text, style).value


def _attempt(read: Callable[[str], object], text: str) -> object:
    try:
        return read(text)
    except Unreadable:
        return None


def _best(values: Mapping[Style, list[object]], usual: Style) -> frozenset[Style]:
    """The styles that read the most cells; of several that read them alike, the usual one or the first."""
    most = max(sum(value is not None for value in read) for read in values.values())
    best = {style: read for style, read in values.items() if sum(value is not None for value in read) == most}
    if all(read == next(iter(best.values())) for read in best.values()):
        return frozenset({usual if usual in best else next(iter(best))})
    return frozenset(best)
