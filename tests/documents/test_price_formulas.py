"""The formulas of the workbook's prices, put to an independent engine and held against worked examples."""

from decimal import Decimal
from fractions import Fraction

import formulas
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.documents.workbook.pricing import Rounded
from planner.house import Rounding
from planner.money import minor_digits, rounded
from tests.published.check_values import oracle

UP, EVEN = Rounding.HALF_UP, Rounding.HALF_EVEN


def engine(formula: str, **cells: float) -> float:
    """What the library `formulas` makes of a formula with these cells."""
    compiled = formulas.Parser().ast(f"={formula}")[1].compile()
    return float(str(compiled(*(cells[name] for name in compiled.inputs))))


@pytest.mark.parametrize("rounding", [UP, EVEN])
@pytest.mark.parametrize("amount", ["2.665", "2.675", "2.685", "0.125"])
def test_ties_fall_as_in_the_table_of_half_up_and_half_even(amount: str, rounding: Rounding) -> None:
    expected = oracle(f"price.{rounding.value}_{amount.replace('.', '_')}")
    found = engine(Rounded(2, rounding).formula("A1"), A1=float(amount))
    assert Decimal(f"{found:.2f}") == Decimal(expected.value), expected


@pytest.mark.parametrize("rounding", [UP, EVEN])
@pytest.mark.parametrize("amount", ["2.5", "3.5"])
def test_ties_in_a_currency_without_minor_unit(amount: str, rounding: Rounding) -> None:
    assert minor_digits("JPY") == oracle("price.minor_units_JPY").value
    expected = oracle(f"price.{rounding.value}_{amount.replace('.', '_')}")
    assert engine(Rounded(0, rounding).formula("A1"), A1=float(amount)) == float(expected.value), expected


def test_a_currency_of_three_places() -> None:
    digits = oracle("price.minor_units_KWD").value
    assert minor_digits("KWD") == digits == 3
    # By hand: 1.2345 lies in the middle of 1.234 and 1.235.
    assert engine(Rounded(digits, UP).formula("A1"), A1=1.2345) == 1.235
    assert engine(Rounded(digits, EVEN).formula("A1"), A1=1.2345) == 1.234


def test_margin_markup_and_tax_as_in_the_worked_examples() -> None:
    up = Rounded(2, UP)
    assert engine(up.formula("A1/(1-B1)"), A1=600.0, B1=0.4) == oracle("price.price_for_margin_40").value
    assert engine(up.formula("A1*(1+B1)"), A1=600.0, B1=0.4) == oracle("price.price_for_markup_40").value
    # Tax on top of a price without tax: 100.00 at 15 % is 115.00, and back.
    tax = engine(up.formula("A1*B1"), A1=float(oracle("price.tax_incl_115_at_15pct_ex").value), B1=0.15)
    assert tax == 15.0
    # Three lines of 0.35 at 15 %: rounded once, on the total.
    on_total = engine(up.formula("A1*B1"), A1=1.05, B1=0.15)
    assert on_total == float(oracle("price.tax_on_total_3x0_35_15pct").value)


def test_foreign_currency_as_in_the_worked_examples() -> None:
    up = Rounded(2, UP)
    assert engine(up.formula("A1/B1*C1"), A1=1000.0, B1=0.6125, C1=1.0) == float(
        oracle("price.fx_usd1000_to_nzd_at_0_6125").value
    )
    yen = engine(Rounded(0, UP).formula("A1/B1*C1"), A1=1000.0, B1=1.0, C1=149.37)
    assert yen == float(oracle("price.fx_cross_jpy").value)


@settings(max_examples=20)
@given(
    amount=st.decimals(0, 100_000, places=4),
    digits=st.sampled_from([0, 2, 3]),
    rounding=st.sampled_from(Rounding),
)
def test_the_formula_rounds_as_exact_arithmetic_does(amount: Decimal, digits: int, rounding: Rounding) -> None:
    exact = rounded(Fraction(amount) * 10**digits, rounding)
    how = Rounded(digits, rounding)
    assert how.comes_to(float(amount), exact)
    assert not how.comes_to(float(amount), exact + 1)
    assert round(engine(how.formula("A1"), A1=float(amount)) * 10**digits) == exact
