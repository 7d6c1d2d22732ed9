"""Exact money: whole minor units, fractions in between, one rounding where it is named.

Minor units are those of ISO 4217.
"""

from decimal import Decimal
from fractions import Fraction

from planner.house import House, Rounding

# ISO 4217, list one: the currencies that differ from two decimal places.
_PLACES = {
    0: "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF",
    3: "BHD IQD JOD KWD LYD OMR TND",
    4: "CLF UYW",
}
_PLACES_OF = {currency: places for places, currencies in _PLACES.items() for currency in currencies.split()}


def minor_digits(currency: str) -> int:
    """Decimal places of a currency: 2 for EUR, 0 for JPY, 3 for KWD.

    >>> minor_digits("EUR"), minor_digits("JPY"), minor_digits("KWD")
    (2, 0, 3)
    """
    return _PLACES_OF.get(currency.upper(), 2)


def rounded(value: Fraction, rounding: Rounding) -> int:
    """The nearest whole number; a tie goes away from zero (HALF_UP) or to the even one.

    >>> rounded(Fraction(5, 2), Rounding.HALF_UP), rounded(Fraction(5, 2), Rounding.HALF_EVEN)
    (3, 2)
    """
    if rounding is Rounding.HALF_EVEN:
        return round(value)
    magnitude = int(abs(value) + Fraction(1, 2))
    return magnitude if value >= 0 else -magnitude


def in_minor(amount: Fraction, currency: str, rounding: Rounding) -> int:
    """An amount in whole units as minor units, rounded once.

    >>> in_minor(Fraction("2.675"), "EUR", Rounding.HALF_UP)
    268
    """
    return rounded(amount * 10 ** minor_digits(currency), rounding)


def from_minor(minor: int, currency: str) -> Decimal:
    """Minor units as a decimal amount with the currency's own places."""
    return Decimal(minor).scaleb(-minor_digits(currency))


def converted(amount: Fraction, source: str, target: str, house: House) -> Fraction:
    """An amount in another currency, through the house currency, unrounded.

    Raises KeyError where the house has no rate for one of the two.
    """
    if source == target:
        return amount
    return amount / _per_house_unit(source, house) * _per_house_unit(target, house)


def has_rate(currency: str, house: House) -> bool:
    """Whether amounts in this currency can be converted."""
    return currency == house.currency or currency in house.rates


def _per_house_unit(currency: str, house: House) -> Fraction:
    if currency == house.currency:
        return Fraction(1)
    return Fraction(house.rates[currency].per_house_unit)
