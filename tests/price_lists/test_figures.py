"""Figures and days in suppliers' habits. Expected values are written out by hand."""

from datetime import date
from decimal import Decimal

import pytest
from babel.numbers import format_decimal
from hypothesis import given
from hypothesis import strategies as st

from planner.catalogue.cells import Unreadable
from planner.price_lists.figures import DayStyle, FigureStyle, day_styles, figure_styles, read_amount, read_day

POINT, COMMA = FigureStyle.POINT, FigureStyle.COMMA


@pytest.mark.parametrize(
    ("text", "style", "value", "currency"),
    [
        ("1299", POINT, "1299", ""),
        ("1,299.50", POINT, "1299.50", ""),
        ("1.299,50", COMMA, "1299.50", ""),
        ("1 299,50", COMMA, "1299.50", ""),
        ("1\u202f299,50\u00a0€", COMMA, "1299.50", "€"),
        ("1'299.-", POINT, "1299", ""),
        ("CHF 1’299.50", POINT, "1299.50", "CHF"),
        ("£1,234,567.89", POINT, "1234567.89", "£"),
        ("0,5", COMMA, "0.5", ""),
        ("12,--", COMMA, "12", ""),
    ],
)
def test_an_amount_is_read_exactly(text: str, style: FigureStyle, value: str, currency: str) -> None:
    amount = read_amount(text, style)
    assert (amount.value, amount.currency) == (Decimal(value), currency)


@pytest.mark.parametrize(
    ("text", "style"),
    [
        ("", POINT), ("abc", POINT), ("-5", POINT), ("1.2.3", POINT), ("1,23", POINT), ("1,2345.00", POINT),
        ("1.23", COMMA), ("12.34.567,00", COMMA), ("=1+1", POINT), ("1e5", POINT), ("NaN", POINT), ("€ 5 £", POINT),
        ("99999999999", POINT), ("٣", POINT),
    ],
)  # fmt: skip
def test_what_is_no_amount_in_this_style_is_refused(text: str, style: FigureStyle) -> None:
    with pytest.raises(Unreadable):
        read_amount(text, style)


@pytest.mark.parametrize(
    ("texts", "styles"),
    [
        (["1.299", "2.499"], {POINT, COMMA}),
        (["1,299", "849"], {POINT, COMMA}),
        (["1.299", "849,50"], {COMMA}),
        (["1,299", "849.50"], {POINT}),
        (["849", "12"], {POINT}),
        (["1.299,00", "n/a", "849,00"], {COMMA}),
        ([], {POINT}),
    ],
)
def test_a_column_says_its_style_or_the_user_is_asked(texts: list[str], styles: set[FigureStyle]) -> None:
    assert figure_styles(texts) == styles


@given(st.decimals(min_value=0, max_value=10**7, places=2))
def test_amounts_as_the_locale_data_of_the_unicode_consortium_writes_them(value: Decimal) -> None:
    """CLDR's number formats for German, English, French and Swiss German, by way of Babel."""
    for locale, style in (("de_DE", COMMA), ("en_GB", POINT), ("fr_FR", COMMA), ("de_CH", POINT)):
        text = format_decimal(value, format="#,##0.00", locale=locale)
        assert read_amount(text, style).value == value


@pytest.mark.parametrize(
    ("text", "style", "day"),
    [
        ("2026-11-03", DayStyle.YEAR_FIRST, date(2026, 11, 3)),
        ("3.11.2026", DayStyle.DAY_FIRST, date(2026, 11, 3)),
        ("11/03/26", DayStyle.MONTH_FIRST, date(2026, 11, 3)),
    ],
)
def test_a_day_is_read_in_its_order(text: str, style: DayStyle, day: date) -> None:
    assert read_day(text, style) == day


@pytest.mark.parametrize("text", ["", "31.2.2026", "1.1.1999", "tomorrow", "2026"])
def test_what_is_no_day_is_refused(text: str) -> None:
    with pytest.raises(Unreadable):
        read_day(text, DayStyle.DAY_FIRST)


def test_days_that_could_be_months_are_asked_for() -> None:
    assert day_styles(["3/4/2026", "5/6/2026"]) == {DayStyle.DAY_FIRST, DayStyle.MONTH_FIRST}
    assert day_styles(["3/4/2026", "25/6/2026"]) == {DayStyle.DAY_FIRST}
    assert day_styles(["2026-04-03"]) == {DayStyle.YEAR_FIRST}
