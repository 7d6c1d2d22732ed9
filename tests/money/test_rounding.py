"""Rounding and minor units, held against exact decimals and the ISO 4217 list."""

from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest
from babel.core import get_global
from hypothesis import given
from hypothesis import strategies as st

from planner.checks.prices import minor_per_major
from planner.house import Rounding
from planner.money import from_minor, in_minor, minor_digits, rounded
from tests.published.check_values import CheckValue, oracle, oracles

DECIMAL_MODE = {Rounding.HALF_UP: ROUND_HALF_UP, Rounding.HALF_EVEN: ROUND_HALF_EVEN}


def amount_in(name: str) -> Fraction:
    """The amount that the name of a rounding entry spells: "price.half_up_neg0_125" is -0.125."""
    spelt = name.removeprefix("price.half_up_").removeprefix("price.half_even_")
    return Fraction(spelt.replace("neg", "-").replace("_", "."))


@pytest.mark.parametrize("value", oracles("price.half_"), ids=lambda value: value.name)
def test_a_tie_is_rounded_as_published(value: CheckValue) -> None:
    rounding = Rounding.HALF_UP if "half_up" in value.name else Rounding.HALF_EVEN
    expected = Decimal(value.value)
    places = -int(expected.as_tuple().exponent)
    assert Decimal(rounded(amount_in(value.name) * 10**places, rounding)).scaleb(-places) == expected, str(value)


@given(amount=st.decimals(-(10**9), 10**9, places=4), rounding=st.sampled_from(Rounding))
def test_any_amount_is_rounded_as_the_decimal_library_does(amount: Decimal, rounding: Rounding) -> None:
    """Python's decimal module follows the General Decimal Arithmetic Specification."""
    expected = amount.quantize(Decimal("0.01"), rounding=DECIMAL_MODE[rounding])
    assert from_minor(in_minor(Fraction(amount), "EUR", rounding), "EUR") == expected


@given(thirds=st.integers(-(10**6), 10**6), rounding=st.sampled_from(Rounding))
def test_what_is_no_tie_goes_to_the_nearest_whole_number(thirds: int, rounding: Rounding) -> None:
    value = Fraction(thirds, 3)
    assert abs(rounded(value, rounding) - value) < Fraction(1, 2)


@pytest.mark.parametrize("value", oracles("price.minor_units_"), ids=lambda value: value.name)
def test_minor_units_are_those_of_iso_4217(value: CheckValue) -> None:
    assert minor_digits(value.name.removeprefix("price.minor_units_")) == value.value, str(value)


def test_currencies_without_and_with_three_minor_digits() -> None:
    """Hand-computed: 1234.5 yen is 1235 yen half-up; 1.2345 dinar is 1235 fils."""
    assert in_minor(Fraction("1234.5"), "JPY", Rounding.HALF_UP) == 1235
    assert in_minor(Fraction("1.2345"), "KWD", Rounding.HALF_UP) == 1235
    assert in_minor(Fraction("1.2345"), "KWD", Rounding.HALF_EVEN) == 1234
    assert str(from_minor(1235, "JPY")) == "1235"
    assert str(from_minor(1235, "KWD")) == "1.235"


def test_a_binary_fraction_would_have_gone_wrong() -> None:
    value = oracle("price.half_up_2_675")
    assert str(round(2.675, 2)) == "2.67"  # what binary floating point makes of it
    assert from_minor(in_minor(Fraction("2.675"), "EUR", Rounding.HALF_UP), "EUR") == Decimal(value.value), str(value)


def test_the_verifier_counts_the_same_minor_units_for_every_currency() -> None:
    """IQD is one where ISO 4217 (three) and the CLDR tables (none) differ."""
    assert minor_digits("IQD") == 3
    for currency in get_global("all_currencies"):
        assert 10 ** minor_digits(currency) == minor_per_major(currency), currency
