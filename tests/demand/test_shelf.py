"""What can be had and for how much: the cheapest purchase against every purchase there is."""

from collections.abc import Iterator
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.brief.records import Owned
from planner.catalogue.records import Catalogue, Offer
from planner.demand.shelf import Shelf
from tests.demand.shop import brief, offer, shelf

MOST_WANTED = 6


@st.composite
def offers(draw: st.DrawFn) -> tuple[Offer, ...]:
    """Up to three offers, each with or without stock and a least order."""
    return tuple(
        offer(
            "X",
            draw(st.integers(0, 20)),
            supplier,
            stock=draw(st.none() | st.integers(0, 6)),
            least_order=draw(st.integers(1, 5)),
        )
        for supplier in ("A", "B", "C")[: draw(st.integers(0, 3))]
    )


def shelf_of(rows: tuple[Offer, ...], owned: int = 0, excluded: bool = False) -> Shelf:
    entries = (Owned(sku="X", count=owned),) if owned else ()
    found = brief(owned=entries, excluded=("X",) if excluded else ())
    return shelf(found, Catalogue(offers={"X": rows}))


def every_purchase(rows: tuple[Offer, ...], count: int) -> Iterator[tuple[int, int]]:
    """(pieces, cost in cents) of every purchase that breaks no bound, each offer by at most what can matter."""
    ways = [
        [n for n in range(max(count, row.least_order) + 1) if n == 0 or row.least_order <= n <= _most(row, n)]
        for row in rows
    ]
    for numbers in product(*ways):
        yield sum(numbers), sum(n * int(row.price * 100) for n, row in zip(numbers, rows, strict=True))


def _most(row: Offer, otherwise: int) -> int:
    return otherwise if row.stock is None else row.stock


@given(rows=offers(), count=st.integers(0, MOST_WANTED), owned=st.integers(0, 3))
def test_the_cheapest_purchase_is_the_cheapest_of_all(rows: tuple[Offer, ...], count: int, owned: int) -> None:
    wanted = max(0, count - owned)
    expected = min((cost for pieces, cost in every_purchase(rows, count) if pieces >= wanted), default=None)
    found = shelf_of(rows, owned)
    assert found.cost_minor("X", count) == expected
    bought = found.cheapest_purchase("X", count)
    assert (bought is None) == (expected is None)
    for _, entry, number in bought or ():
        assert number >= entry.least_order
        assert entry.stock is None or number <= entry.stock
    if bought is not None:
        assert sum(number for _, _, number in bought) >= wanted
        assert len({entry.supplier for _, entry, _ in bought}) == len(bought)


@given(rows=offers(), owned=st.integers(0, 3), count=st.integers(1, MOST_WANTED))
def test_the_floor_is_never_above_the_cost(rows: tuple[Offer, ...], owned: int, count: int) -> None:
    found = shelf_of(rows, owned)
    cost = found.cost_minor("X", count)
    assert cost is None or found.floor_minor("X") * count <= cost


@given(rows=offers(), owned=st.integers(0, 3))
def test_a_simple_sku_costs_its_unit_price_each(rows: tuple[Offer, ...], owned: int) -> None:
    found = shelf_of(rows, owned)
    if found.simple("X"):
        costs = [found.cost_minor("X", count) for count in range(MOST_WANTED + 1)]
        assert costs == [count * found.unit_minor("X") for count in range(MOST_WANTED + 1)]


@given(rows=offers(), owned=st.integers(0, 3))
def test_what_is_available_can_be_had_and_one_more_cannot(rows: tuple[Offer, ...], owned: int) -> None:
    found = shelf_of(rows, owned)
    most = found.available("X")
    if most is None:
        assert found.cost_minor("X", 50) is not None
    else:
        assert found.cost_minor("X", most) is not None
        assert found.cost_minor("X", most + 1) is None


def test_a_least_order_can_make_the_dearer_offer_cheaper() -> None:
    """By hand: one for 5, or four for at least 4 × 2 = 8. Two pieces: 8 in the lot, 10 singly."""
    found = shelf_of((offer("X", 2, "Lots", least_order=4), offer("X", 5, "Singly")))
    assert [found.cost_minor("X", n) for n in range(6)] == [0, 500, 800, 800, 800, 1000]


def test_stock_runs_out_and_the_dearer_offer_goes_on() -> None:
    """By hand: two at 3, every further one at 7."""
    found = shelf_of((offer("X", 3, "Few", stock=2), offer("X", 7, "Many")))
    assert [found.cost_minor("X", n) for n in range(5)] == [0, 300, 600, 1300, 2000]


def test_owned_pieces_go_first_and_cost_nothing() -> None:
    found = shelf_of((offer("X", 3),), owned=2)
    assert [found.cost_minor("X", n) for n in range(5)] == [0, 0, 0, 300, 600]
    assert not found.simple("X")
    assert found.floor_minor("X") == 0


def test_excluded_gear_is_not_there_even_if_owned() -> None:
    found = shelf_of((offer("X", 3),), owned=2, excluded=True)
    assert not found.usable("X")
    assert found.available("X") == 0
    assert found.cost_minor("X", 1) is None


def test_an_offer_of_less_stock_than_it_sells_at_once_sells_nothing() -> None:
    found = shelf_of((offer("X", 1, "Never", stock=2, least_order=3), offer("X", 9, "Singly")))
    assert [entry.supplier for _, entry in found.offers("X")] == ["Singly"]
    assert found.cost_minor("X", 3) == 2700


@pytest.mark.parametrize("sku", ["X", "unknown"])
def test_what_nobody_offers_cannot_be_had(sku: str) -> None:
    assert not shelf_of(()).usable(sku)
    assert shelf_of(()).cost_minor(sku, 1) is None


def test_entries_of_one_owned_sku_add_up() -> None:
    found = shelf(brief(owned=(Owned(sku="X", count=1), Owned(sku="X", count=2, must_use=True))), Catalogue())
    assert found.owned("X") == 3
    assert found.must_use("X")
