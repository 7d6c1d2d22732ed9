"""Prices by the house's terms, in exact fractions ("Price" in DEVELOPERS.md)."""

from decimal import Decimal
from fractions import Fraction

from babel.numbers import get_currency_precision

from planner.catalogue.records import Offer
from planner.house import House, Rounding, Task
from tests.oracle.instance import Instance

HALF = Fraction(1, 2)


def rounded(amount: Fraction, rounding: Rounding) -> int:
    """A whole number of minor units; only an exact half is a tie. `amount` is not negative."""
    whole, rest = divmod(amount, 1)
    up = rest > HALF or (rest == HALF and (rounding is Rounding.HALF_UP or whole % 2 == 1))
    return int(whole) + up


def offer_price(instance: Instance, offer: Offer) -> int:
    """What one unit of an offer costs the client, in minor units without tax."""
    house = instance.house
    cost = Fraction(offer.price) / _per_house_unit(house, offer.currency)
    if house.margin_percent is not None:
        cost /= 1 - Fraction(house.margin_percent) / 100
    if house.markup_percent is not None:
        cost *= 1 + Fraction(house.markup_percent) / 100
    return _quoted(instance, cost)


def task_price(instance: Instance, task: Task) -> int:
    """What one of a task costs the client, in minor units without tax."""
    house = instance.house
    minutes = Fraction(house.minutes.get(task, Decimal(0)))
    return _quoted(instance, minutes / 60 * Fraction(house.labour_rate))


def with_tax(instance: Instance, subtotal: int) -> int:
    """The total of a quote: it rises with the subtotal, so the least of one is that of both."""
    project, house = instance.brief.project, instance.house
    percent = house.tax_percent if project.tax_percent is None else project.tax_percent
    return subtotal + rounded(subtotal * Fraction(percent) / 100, house.rounding)


def within_budget(instance: Instance, total: int) -> bool:
    """Whether a total with tax, in minor units, is no more than the budget."""
    budget = instance.brief.limits.budget
    return budget is None or total <= Fraction(budget) * _minor_units(instance.brief.project.currency)


def _quoted(instance: Instance, amount: Fraction) -> int:
    """An amount in house currency as whole minor units of the quote's currency."""
    currency = instance.brief.project.currency
    exact = amount * _per_house_unit(instance.house, currency) * _minor_units(currency)
    return rounded(exact, instance.house.rounding)


def _minor_units(currency: str) -> int:
    """Minor units in one unit of a currency (CLDR's table, through Babel)."""
    return int(10 ** get_currency_precision(currency))


def _per_house_unit(house: House, currency: str) -> Fraction:
    if currency == house.currency:
        return Fraction(1)
    return Fraction(house.rates[currency].per_house_unit)
