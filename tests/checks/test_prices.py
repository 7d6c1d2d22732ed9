"""Money worked out by the verifier, against worked examples and ISO 4217."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from planner.catalogue.records import Offer
from planner.checks.prices import minor_per_major, rounded, shown, task_price_minor, tax_minor, unit_price_minor
from planner.house import House, Rate, Rounding, Task

DAY = date(2026, 11, 25)


def _offer(price: str, currency: str = "NZD") -> Offer:
    return Offer(sku="X", supplier="S", currency=currency, price=Decimal(price), priced_on=DAY)


def _rate(per_house_unit: str) -> Rate:
    return Rate(per_house_unit=Decimal(per_house_unit), dated=DAY)


@pytest.mark.parametrize(
    ("amount", "half_even", "half_up"),
    [
        # Decimal arithmetic, quantized to two places with ROUND_HALF_EVEN and ROUND_HALF_UP.
        ("2.665", 266, 267),
        ("2.675", 268, 268),
        ("2.685", 268, 269),
        ("0.125", 12, 13),
        ("-0.125", -12, -13),
        ("2.5049", 250, 250),
    ],
)
def test_ties_are_rounded_as_the_house_rounds(amount: str, half_even: int, half_up: int) -> None:
    minor = Fraction(amount) * 100
    assert rounded(minor, Rounding.HALF_EVEN) == half_even
    assert rounded(minor, Rounding.HALF_UP) == half_up


@pytest.mark.parametrize(
    ("currencies", "per_major"),
    [
        # ISO 4217, list one, published 2026-01-01.
        ("USD EUR GBP AUD NZD HUF TWD", 100),
        ("JPY KRW CLP ISK VND", 1),
        ("KWD BHD TND JOD OMR", 1000),
        ("CLF UYW", 10_000),
    ],
)
def test_minor_units_are_those_of_iso_4217(currencies: str, per_major: int) -> None:
    assert {minor_per_major(currency) for currency in currencies.split()} == {per_major}


@pytest.mark.parametrize(
    ("terms", "minor"),
    [
        # price = cost / (1 - margin): 600 at 40 % is 1000.00. price = cost x (1 + mark-up): 840.00.
        ({"margin_percent": Decimal(40)}, 100000),
        ({"markup_percent": Decimal(40)}, 84000),
        # A margin of 35 % is a mark-up of 53.846 %: 600 / 0.65 = 923.0769.
        ({"margin_percent": Decimal(35)}, 92308),
        ({}, 60000),
    ],
)
def test_margin_is_on_the_price_and_mark_up_on_the_cost(terms: dict[str, Decimal], minor: int) -> None:
    house = House(name="H", currency="NZD", **terms)  # type: ignore[arg-type]
    assert unit_price_minor(_offer("600"), house, "NZD") == minor


def test_foreign_currency_is_divided_by_its_rate() -> None:
    """1000 USD at 0.6125 USD for 1 NZD is 1632.65 NZD; 1000 USD at 149.37 JPY for 1 USD is 149370 JPY."""
    in_nzd = House(name="H", currency="NZD", rates={"USD": _rate("0.6125")})
    assert unit_price_minor(_offer("1000", "USD"), in_nzd, "NZD") == 163265
    in_usd = House(name="H", currency="USD", rates={"JPY": _rate("149.37")})
    assert unit_price_minor(_offer("1000", "USD"), in_usd, "JPY") == 149370


def test_conversion_and_margin_are_rounded_once() -> None:
    """100 USD / 0.6125 / 0.6 = 272.10884 NZD; rounding 163.265... first would give 272.12."""
    house = House(name="H", currency="NZD", rates={"USD": _rate("0.6125")}, margin_percent=Decimal(40))
    assert unit_price_minor(_offer("100", "USD"), house, "NZD") == 27211


def test_two_foreign_currencies_meet_in_the_house_currency() -> None:
    """612.5 USD at 0.6125 is 1000 NZD, at 0.55 EUR for 1 NZD 550 EUR."""
    house = House(name="H", currency="NZD", rates={"USD": _rate("0.6125"), "EUR": _rate("0.55")})
    assert unit_price_minor(_offer("612.5", "USD"), house, "EUR") == 55000


@pytest.mark.parametrize("terms", [{"margin_percent": Decimal(100)}, {"rates": {}}])
def test_terms_that_give_no_price_give_none(terms: dict[str, object]) -> None:
    house = House(name="H", currency="NZD", **{"rates": {"USD": _rate("0.6125")}, **terms})  # type: ignore[arg-type]
    assert unit_price_minor(_offer("600", "USD"), house, "NZD") is None


def test_labour_carries_no_margin_and_is_converted() -> None:
    """Ten minutes at 120 NZD an hour are 20 NZD, at 0.6125 they are 12.25 USD."""
    house = House(
        name="H",
        currency="NZD",
        rates={"USD": _rate("0.6125")},
        margin_percent=Decimal(40),
        labour_rate=Decimal(120),
        minutes={Task.LEAD: Decimal(10)},
    )
    assert task_price_minor(Task.LEAD, house, "NZD") == 2000
    assert task_price_minor(Task.LEAD, house, "USD") == 1225
    assert task_price_minor(Task.CARD, house, "NZD") == 0
    assert task_price_minor(Task.LEAD, house, "JPY") is None


def test_tax_is_rounded_once_on_the_subtotal() -> None:
    """Three lines of 0.35 at 15 %: 0.1575 on the total is 0.16; by line it would be 0.15."""
    assert tax_minor(105, Decimal(15), Rounding.HALF_UP) == 16
    assert tax_minor(10000, Decimal(15), Rounding.HALF_UP) == 1500  # 115.00 is 100.00 and 15 %
    assert tax_minor(86870, Decimal(15), Rounding.HALF_UP) == 13031  # 130.305, a tie
    assert tax_minor(86870, Decimal(15), Rounding.HALF_EVEN) == 13030


def test_amounts_are_shown_with_the_digits_of_their_currency() -> None:
    assert [shown(123450, "NZD"), shown(123450, "JPY"), shown(-5, "KWD")] == ["1234.50 NZD", "123450 JPY", "-0.005 KWD"]
