"""From one currency to another through the house's own, exact until it is rounded once."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.house import Rounding
from planner.money import converted, from_minor, has_rate, in_minor
from tests.money.terms import a_house
from tests.published.check_values import oracle

RATES = st.decimals("0.0001", "2000", places=4)


def test_foreign_is_divided_by_foreign_per_local() -> None:
    value = oracle("price.fx_usd1000_to_nzd_at_0_6125")
    amount = converted(Fraction(1000), "USD", "NZD", a_house("NZD", {"USD": "0.6125"}))
    assert from_minor(in_minor(amount, "NZD", Rounding.HALF_UP), "NZD") == Decimal(value.value), str(value)


def test_there_and_back_is_exact() -> None:
    value = oracle("price.fx_round_trip")
    house = a_house("NZD", {"USD": "0.6125"})
    there = converted(Fraction(1000), "USD", "NZD", house)
    assert converted(there, "NZD", "USD", house) == Fraction(value.value), str(value)


def test_a_currency_without_minor_units_is_rounded_to_whole_ones() -> None:
    value = oracle("price.fx_cross_jpy")
    amount = converted(Fraction(1000), "USD", "JPY", a_house("USD", {"JPY": "149.37"}))
    assert from_minor(in_minor(amount, "JPY", Rounding.HALF_UP), "JPY") == Decimal(value.value), str(value)


@given(amount=st.decimals(0, 10**7, places=3), euro=RATES, yen=RATES)
def test_two_foreign_currencies_convert_by_the_ratio_of_their_rates(
    amount: Decimal, euro: Decimal, yen: Decimal
) -> None:
    house = a_house("NZD", {"EUR": str(euro), "JPY": str(yen)})
    there = converted(Fraction(amount), "EUR", "JPY", house)
    assert there * Fraction(euro) == Fraction(amount) * Fraction(yen)
    assert converted(there, "JPY", "EUR", house) == Fraction(amount)


def test_one_currency_needs_no_rate_of_its_own() -> None:
    assert converted(Fraction(7), "GBP", "GBP", a_house("NZD")) == 7
    assert has_rate("NZD", a_house("NZD"))
    assert not has_rate("GBP", a_house("NZD"))


def test_a_currency_without_a_rate_cannot_be_converted() -> None:
    with pytest.raises(KeyError):
        converted(Fraction(7), "GBP", "NZD", a_house("NZD"))
