"""Selling prices: margin, mark-up, labour, tax on the total once, and which offer comes first."""

from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.costing import PriceList
from planner.design import Labour, Purchase
from planner.house import House, Rounding, Task
from planner.money import from_minor
from tests.money.terms import a_brief, a_house, offer, price_list
from tests.published.check_values import oracle

HALF_UP_NZD_15 = a_house("NZD", tax_percent=Decimal(15), rounding=Rounding.HALF_UP)


def unit_price(prices: PriceList, sku: str = "X") -> Decimal:
    return from_minor(prices.offers(sku)[0][0], prices.currency)


def bought(unit_price_minor: int, count: int = 1) -> Purchase:
    return Purchase(sku="X", supplier="Depot", count=count, unit_price_minor=unit_price_minor)


@pytest.mark.parametrize(
    ("house", "name"),
    [
        (a_house(margin_percent=Decimal(40)), "price.price_for_margin_40"),
        (a_house(markup_percent=Decimal(40)), "price.price_for_markup_40"),
    ],
)
def test_a_cost_of_600_sells_at_the_published_price(house: House, name: str) -> None:
    value = oracle(name)
    assert unit_price(price_list([offer("600")], house, a_brief())) == Decimal(str(value.value)), str(value)


def test_the_published_margin_and_mark_up_are_of_one_pair() -> None:
    """A cost of 600 sold at 1000 is the margin of the one entry, and the mark-up of the other."""
    margin, markup = oracle("price.margin_from_cost_price"), oracle("price.markup_from_cost_price")
    by_margin = a_house(margin_percent=Decimal(str(margin.value)) * 100)
    by_markup = a_house(markup_percent=Decimal(str(markup.value)) * 100)
    assert unit_price(price_list([offer("600")], by_margin, a_brief())) == Decimal("1000.00"), str(margin)
    assert unit_price(price_list([offer("600")], by_markup, a_brief())) == Decimal("1000.00"), str(markup)


@pytest.mark.parametrize(
    ("margin", "name"), [("0.35", "price.markup_of_margin_0_35"), ("0.333333333", "price.margin_of_markup_0_5")]
)
def test_a_margin_and_its_mark_up_give_one_price(margin: str, name: str) -> None:
    value = oracle(name)
    markup = str(value.value) if "markup_of" in name else "0.5"
    by_margin = a_house(margin_percent=Decimal(margin) * 100)
    by_markup = a_house(markup_percent=Decimal(markup) * 100)
    one, other = (unit_price(price_list([offer("741.30")], house, a_brief())) for house in (by_margin, by_markup))
    assert one == other, str(value)


def test_tax_is_on_the_total_once_and_not_by_line() -> None:
    once, by_line = oracle("price.tax_on_total_3x0_35_15pct"), oracle("price.tax_per_line_3x0_35_15pct")
    prices = price_list([], HALF_UP_NZD_15, a_brief())
    quote = prices.quote([bought(35), bought(35), bought(35)], [])
    assert from_minor(quote.tax_minor, "NZD") == Decimal(once.value), str(once)
    assert 3 * prices.tax_minor(35) == Decimal(by_line.value) * 100, str(by_line)


@pytest.mark.parametrize(
    ("inclusive", "percent", "rounding", "name"),
    [
        ("999.00", "15", Rounding.HALF_EVEN, "price.tax_in_999_at_15pct"),  # a tie: 15 % of 868.70 is 130.305
        ("999.00", "10", Rounding.HALF_UP, "price.tax_in_999_at_10pct"),
        ("999.00", "20", Rounding.HALF_UP, "price.tax_in_999_at_20pct"),
    ],
)
def test_the_tax_within_a_price_is_the_tax_on_what_is_left(
    inclusive: str, percent: str, rounding: Rounding, name: str
) -> None:
    value = oracle(name)
    prices = price_list([], a_house(tax_percent=Decimal(percent), rounding=rounding), a_brief())
    exclusive = Decimal(inclusive) - Decimal(value.value)
    assert from_minor(prices.tax_minor(int(exclusive * 100)), "NZD") == Decimal(value.value), str(value)
    assert from_minor(prices.total_minor(int(exclusive * 100)), "NZD") == Decimal(inclusive), str(value)


def test_the_exclusive_price_is_not_the_inclusive_one_less_its_percentage() -> None:
    value = oracle("price.tax_incl_115_at_15pct_ex")
    prices = price_list([], HALF_UP_NZD_15, a_brief())
    assert from_minor(prices.greatest_subtotal(115_00), "NZD") == Decimal(value.value), str(value)


@pytest.mark.parametrize(("tax", "expected"), [(None, 1150), ("0", 1000), ("20", 1200)])
def test_the_tax_of_the_brief_goes_before_that_of_the_house(tax: str | None, expected: int) -> None:
    assert price_list([], HALF_UP_NZD_15, a_brief(tax=tax)).total_minor(1000) == expected


def test_a_quote_adds_up_gear_labour_and_tax() -> None:
    """By hand: 2 × 12.34 + 3 × 5.00 = 39.68; 15 % of it is 5.952, rounded 5.95."""
    prices = price_list([], HALF_UP_NZD_15, a_brief())
    quote = prices.quote([bought(1234, 2)], [Labour(task=Task.LEAD, count=3, unit_price_minor=500)])
    assert (quote.gear_minor, quote.labour_minor, quote.subtotal_minor) == (2468, 1500, 3968)
    assert (quote.tax_minor, quote.total_minor, quote.currency) == (595, 4563, "NZD")


def test_tax_is_on_gear_and_labour_together() -> None:
    """By hand: 15 % of 0.70 is 0.105, rounded 0.11; of 0.35 and 0.35 apart it would be twice 0.05."""
    prices = price_list([], HALF_UP_NZD_15, a_brief())
    assert prices.quote([bought(35)], [Labour(task=Task.LEAD, count=1, unit_price_minor=35)]).tax_minor == 11


def test_labour_is_minutes_at_the_rate_converted_and_rounded_once_without_margin() -> None:
    """By hand: 5 min at 61.50 NZD is 5.125 NZD, a tie; at 0.6125 USD for 1 NZD it is 3.1390625 USD."""
    terms: dict[str, Any] = {
        "margin_percent": Decimal(40),
        "labour_rate": Decimal("61.50"),
        "minutes": {Task.LEAD: Decimal(5)},
    }
    house = a_house("NZD", {"USD": "0.6125"}, **terms)
    assert price_list([], house, a_brief("NZD")).labour_minor(Task.LEAD) == 513
    assert price_list([], house, a_brief("USD")).labour_minor(Task.LEAD) == 314
    assert price_list([], house, a_brief("NZD")).labour_minor(Task.CARD) == 0  # a task without minutes
    even = a_house("NZD", rounding=Rounding.HALF_EVEN, **terms)
    assert price_list([], even, a_brief("NZD")).labour_minor(Task.LEAD) == 512


def test_a_price_is_converted_then_given_its_margin_then_rounded_once() -> None:
    """By hand: 100 USD / 0.6125 / 0.6 = 272.108843… NZD. Rounding in between would give 272.12 (163.27 / 0.6)."""
    house = a_house("NZD", {"USD": "0.6125"}, margin_percent=Decimal(40))
    assert unit_price(price_list([offer("100", "USD")], house, a_brief())) == Decimal("272.11")


@pytest.mark.parametrize(("currency", "expected"), [("JPY", "14937"), ("KWD", "30.750"), ("USD", "100.00")])
def test_a_unit_price_has_the_places_of_the_quoting_currency(currency: str, expected: str) -> None:
    """By hand: 100 USD at 149.37 yen and 0.3075 dinar for a dollar."""
    house = a_house("USD", {"JPY": "149.37", "KWD": "0.3075"})
    assert str(unit_price(price_list([offer("100", "USD")], house, a_brief(currency)))) == expected


def test_the_cheapest_offer_comes_first_whatever_its_currency() -> None:
    """At 0.6125 USD for 1 NZD, 60 USD is 97.96 NZD: dearer than 97 NZD, cheaper than 98 NZD."""
    offers = [offer("98", "NZD", "South"), offer("60", "USD", "Abroad"), offer("97", "NZD", "North")]
    prices = price_list(offers, a_house("NZD", {"USD": "0.6125"}), a_brief())
    assert [o.supplier for _, o in prices.offers("X")] == ["North", "Abroad", "South"]
    assert [minor for minor, _ in prices.offers("X")] == [9700, 9796, 9800]


def test_equal_prices_go_by_the_supplier_s_name_whatever_the_order_of_rows() -> None:
    """61.25 USD at 0.6125 USD for 1 NZD is 100 NZD."""
    offers = [offer("100", supplier="West"), offer("61.25", "USD", "Abroad"), offer("100", supplier="East")]
    house = a_house("NZD", {"USD": "0.6125"})
    for rows in (offers, offers[::-1]):
        assert [o.supplier for _, o in price_list(rows, house, a_brief()).offers("X")] == ["Abroad", "East", "West"]


def test_an_offer_in_a_currency_without_a_rate_is_not_there() -> None:
    prices = price_list([offer("1", "JPY"), offer("9", "NZD", "South")], a_house(), a_brief())
    assert [o.supplier for _, o in prices.offers("X")] == ["South"]
    assert prices.offers("not sold") == ()


TAXES = st.decimals(0, 40, places=3)


@given(tax=TAXES, total=st.integers(0, 10**8), rounding=st.sampled_from(Rounding))
def test_the_greatest_subtotal_is_within_the_total_and_the_next_is_not(
    tax: Decimal, total: int, rounding: Rounding
) -> None:
    prices = price_list([], a_house(rounding=rounding), a_brief(tax=str(tax)))
    greatest = prices.greatest_subtotal(total)
    assert prices.total_minor(greatest) <= total < prices.total_minor(greatest + 1)


@given(tax=TAXES, subtotal=st.integers(0, 10**8), rounding=st.sampled_from(Rounding))
def test_the_greatest_subtotal_undoes_the_total(tax: Decimal, subtotal: int, rounding: Rounding) -> None:
    prices = price_list([], a_house(rounding=rounding), a_brief(tax=str(tax)))
    assert prices.greatest_subtotal(prices.total_minor(subtotal)) == subtotal
    assert prices.total_minor(subtotal) < prices.total_minor(subtotal + 1)


@given(cost=st.decimals(0, 10**6, places=2), margin=st.decimals(0, 95, places=1))
def test_the_margin_is_that_of_the_price(cost: Decimal, margin: Decimal) -> None:
    """Margin is 1 - cost/price, so (1 - margin) of the price is the cost, to half a minor unit of the price."""
    prices = price_list([offer(str(cost))], a_house(margin_percent=margin), a_brief())
    price = Fraction(unit_price(prices))
    assert abs(price * (1 - Fraction(margin) / 100) - Fraction(cost)) <= Fraction(1, 200)
