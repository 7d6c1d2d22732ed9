"""Prices worked out afresh in exact fractions, rounded once to whole minor units.

Minor units after ISO 4217, list one: the currencies named here differ from two digits.
"""

from decimal import Decimal
from fractions import Fraction
from math import floor

from planner.catalogue.records import Offer
from planner.house import House, Rounding, Task

_NO_DIGITS = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF"
_THREE_DIGITS = "BHD IQD JOD KWD LYD OMR TND"
_FOUR_DIGITS = "CLF UYW"
_DIGITS = (
    dict.fromkeys(_NO_DIGITS.split(), 0)
    | dict.fromkeys(_THREE_DIGITS.split(), 3)
    | dict.fromkeys(_FOUR_DIGITS.split(), 4)
)


def minor_per_major(currency: str) -> int:
    """How many minor units make one unit of a currency."""
    return int(10 ** _DIGITS.get(currency.upper(), 2))


def shown(amount_minor: int, currency: str) -> str:
    """An amount in plain figures for a message, for example "1234.50 NZD"."""
    digits = _DIGITS.get(currency.upper(), 2)
    return f"{Decimal(amount_minor).scaleb(-digits):f} {currency}"


def rounded(amount: Fraction, rounding: Rounding) -> int:
    """A fraction as a whole number; a tie goes away from zero, or to the even neighbour."""
    if rounding is Rounding.HALF_EVEN:
        return round(amount)
    size = floor(abs(amount) + Fraction(1, 2))
    return size if amount >= 0 else -size


def unit_price_minor(offer: Offer, house: House, quoting: str) -> int | None:
    """The selling price of one, in minor units of the quoting currency, without tax.

    None when the house's terms cannot give one: a rate is missing, or the margin is 100 %
    or more.
    """
    bought_at, sold_at = _per_house_unit(house, offer.currency), _per_house_unit(house, quoting)
    factor = _selling_factor(house)
    if bought_at is None or sold_at is None or factor is None:
        return None
    price = Fraction(offer.price) / bought_at * sold_at * factor
    return rounded(price * minor_per_major(quoting), house.rounding)


def task_price_minor(task: Task, house: House, quoting: str) -> int | None:
    """The price of one labour task in minor units, without tax; no margin is put on it."""
    sold_at = _per_house_unit(house, quoting)
    if sold_at is None:
        return None
    hours = Fraction(house.minutes.get(task, Decimal(0))) / 60
    return rounded(hours * Fraction(house.labour_rate) * sold_at * minor_per_major(quoting), house.rounding)


def tax_minor(subtotal_minor: int, tax_percent: Decimal, rounding: Rounding) -> int:
    """The tax on a subtotal, rounded once."""
    return rounded(subtotal_minor * Fraction(tax_percent) / 100, rounding)


def _per_house_unit(house: House, currency: str) -> Fraction | None:
    if currency == house.currency:
        return Fraction(1)
    rate = house.rates.get(currency)
    return Fraction(rate.per_house_unit) if rate is not None and rate.per_house_unit > 0 else None


def _selling_factor(house: House) -> Fraction | None:
    if house.margin_percent is not None:
        kept = 1 - Fraction(house.margin_percent) / 100
        return 1 / kept if kept > 0 else None
    return 1 + Fraction(house.markup_percent or 0) / 100
