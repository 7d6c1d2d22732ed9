"""Single values of a TOML file: each turned into what was asked for, or None if it is not that.

The file is read with every float as a Decimal, so that amounts stay exact; infinities and
not-a-number arrive as Decimals too and are refused here.
"""

import json
import math
import unicodedata
from collections.abc import Iterable
from datetime import date, time
from decimal import Decimal, InvalidOperation
from difflib import get_close_matches

from planner.brief.bounds import Bounds

_LONGEST_TEXT = 200
_LONGEST_SHOWN = 48
_MOST_DECIMALS = 4
_NOT_IN_A_LINE = frozenset({"Cc", "Zl", "Zp"})


def as_text(value: object) -> str | None:
    """Text of one line, at most 200 characters, without the blanks around it."""
    if not isinstance(value, str):
        return None
    text = value.strip()
    if len(text) > _LONGEST_TEXT or any(unicodedata.category(letter) in _NOT_IN_A_LINE for letter in text):
        return None
    return text


def as_number(value: object, bounds: Bounds) -> float | None:
    """A finite number within bounds. True and false are not numbers."""
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        return None
    try:
        number = float(value)
    except (OverflowError, ValueError):  # a whole number past all floats, or a signalling not-a-number
        return None
    return number if bounds.low <= number <= bounds.high else None


def as_whole(value: object, bounds: Bounds) -> int | None:
    """A whole number within bounds, written as one: 4, not 4.0."""
    if isinstance(value, bool) or not isinstance(value, int):
        return None
    return value if bounds.low <= value <= bounds.high else None


def as_decimal(value: object, bounds: Bounds) -> Decimal | None:
    """An exact number within bounds and of at most four decimals, from text or a bare number."""
    exact = _exact(value)
    if exact is None or not exact.is_finite() or not bounds.low <= exact <= bounds.high:
        return None
    exponent = exact.as_tuple().exponent
    return exact if isinstance(exponent, int) and exponent >= -_MOST_DECIMALS else None


def _exact(value: object) -> Decimal | None:
    if isinstance(value, bool) or not isinstance(value, str | int | Decimal):
        return None
    return exact_from_text(value) if isinstance(value, str) else Decimal(value)


def exact_from_text(text: str) -> Decimal:
    """The number that a text writes, or not-a-number."""
    try:
        return Decimal(text)
    except InvalidOperation:
        return Decimal(math.nan)


def nearest(text: str, names: Iterable[str]) -> str | None:
    """The name most like a text, if any is alike enough to be a slip of the pen."""
    return next(iter(get_close_matches(text, list(names), n=1, cutoff=0.6)), None)


def shown(value: object) -> str:
    """A value as the file would write it, shortened, for a message."""
    match value:
        case None:
            text = "nothing"
        case bool():
            text = str(value).lower()
        case str():
            text = json.dumps(value, ensure_ascii=False)
        case date() | time():
            text = value.isoformat()
        case dict():
            text = "a table"
        case list():
            elements = ["[…]" if isinstance(element, list) else shown(element) for element in value[:8]]
            text = f"[{', '.join(elements)}{', …' if len(value) > 8 else ''}]"
        case Decimal():
            text = str(value).lower().replace("infinity", "inf")
        case _:
            text = _shown_whole(value)
    return text if len(text) <= _LONGEST_SHOWN else f"{text[: _LONGEST_SHOWN - 1]}…"


def _shown_whole(value: object) -> str:
    """A whole number in digits, unless it has more of them than Python will print."""
    try:
        return str(value)
    except ValueError:
        return "a number of thousands of digits"
