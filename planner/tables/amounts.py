"""Money as text: the ISO 4217 code, thousands set apart, the currency's own places."""

from planner.money import from_minor
from planner.options import Option


def figure(minor: int, currency: str) -> str:
    """An amount without its currency, for a table whose heading names it: 12,340.00."""
    return f"{from_minor(minor, currency):,}"


def amount(minor: int, currency: str) -> str:
    """An amount with its currency: EUR 12,340.00."""
    return f"{currency} {figure(minor, currency)}"


def difference(minor: int, currency: str) -> str:
    """A signed difference without its currency: +830.00."""
    return f"{from_minor(minor, currency):+,}"


def client_difference(minor: int, currency: str) -> str:
    """The same as a page shows it, with a true minus sign and a thin blank after the sign.

    >>> client_difference(-830, "JPY")
    '\N{MINUS SIGN}\N{NARROW NO-BREAK SPACE}830'
    """
    sign = "+" if minor > 0 else "\N{MINUS SIGN}" if minor < 0 else ""
    return f"{sign}\N{NARROW NO-BREAK SPACE}{figure(abs(minor), currency)}" if sign else figure(0, currency)


def over_minor(option: Option, cheapest: Option) -> int:
    """What an option costs more than the cheapest, in minor units."""
    return option.measures.price_minor - cheapest.measures.price_minor
