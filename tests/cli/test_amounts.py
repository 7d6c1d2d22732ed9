"""Money as text, against Babel's own formatting of the CLDR's plain English patterns."""

import pytest
from babel.numbers import format_decimal, get_currency_precision
from hypothesis import given
from hypothesis import strategies as st

from planner.money import from_minor
from planner.tables.amounts import amount, difference, figure


@given(st.integers(min_value=-(10**12), max_value=10**12), st.sampled_from(["EUR", "JPY", "KWD", "GBP"]))
def test_figures_equal_babel_s(minor: int, currency: str) -> None:
    places = get_currency_precision(currency)
    pattern = "#,##0" + ("." + "0" * places if places else "")
    assert figure(minor, currency) == format_decimal(from_minor(minor, currency), pattern, locale="en")


@pytest.mark.parametrize(
    ("minor", "currency", "text"),
    # ISO 4217: minor units of EUR 2, JPY 0, KWD 3.
    [(1_234_000, "EUR", "EUR 12,340.00"), (1_234_000, "JPY", "JPY 1,234,000"), (1_234, "KWD", "KWD 1.234")],
)
def test_amounts_carry_the_currency_and_its_own_places(minor: int, currency: str, text: str) -> None:
    assert amount(minor, currency) == text


def test_differences_carry_their_sign() -> None:
    assert difference(83_000, "EUR") == "+830.00"
    assert difference(-5, "EUR") == "-0.05"
