"""Rule R8: which splitters make so many legs.

That N legs take N − 1 two-way splitters is common practice, no published source.
"""

from itertools import combinations_with_replacement

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.contacts import Direction, jack
from planner.demand.kinds import plain_kinds
from planner.demand.leads import Kind
from planner.demand.splits import Split, splits_of
from tests.demand.shop import RCA, RCA_PLUG, RCA_SOCKET, XLR, XLR_PINS, XLR_SOCKET, Shop, brief, shelf

RCA_OUT = Kind(jack(RCA, Direction.OUT), False)
XLR_OUT = Kind(jack(XLR, Direction.OUT), True)


def splits(shop: Shop, source: Kind = RCA_OUT, largest: int = 4, balanced_only: bool = False) -> tuple[Split, ...]:
    catalogue = shop.catalogue()
    return splits_of(source, largest, balanced_only, plain_kinds(catalogue), catalogue, shelf(brief(), catalogue))


def two_way() -> Shop:
    shop = Shop()
    shop.splitter("Y", 5, RCA_PLUG, RCA_SOCKET)
    return shop


@pytest.mark.parametrize("legs", [2, 3, 4, 5, 6])
def test_n_legs_take_one_two_way_splitter_less(legs: int) -> None:
    (found,) = [split for split in splits(two_way(), largest=6) if split.legs == legs]
    assert found.splitters == (("Y", legs - 1),)
    assert found.boxes == legs - 1
    assert found.price_minor == 500 * (legs - 1)


def test_there_is_no_split_beyond_the_largest() -> None:
    assert sorted(split.legs for split in splits(two_way(), largest=3)) == [2, 3]
    assert splits(two_way(), largest=1) == ()


def test_the_cheaper_and_the_fewer_are_both_kept() -> None:
    """By hand: four legs from two-way ones cost 3 × 5 = 15, from one four-way one 16: fewer joints for one more."""
    shop = two_way()
    shop.splitter("Y4", 16, RCA_PLUG, RCA_SOCKET, legs=4)
    found = {split.splitters: split.price_minor for split in splits(shop) if split.legs == 4}
    assert found == {(("Y", 3),): 1500, (("Y4", 1),): 1600}
    (pair,) = [split for split in splits(shop) if split.legs == 2]
    assert pair.splitters == (("Y", 1),)  # the four-way one is dearer and no fewer


def test_three_legs_from_a_four_way_splitter_leave_one_empty() -> None:
    """By hand: one four-way at 8 against two two-way at 5 each."""
    shop = two_way()
    shop.splitter("Y4", 8, RCA_PLUG, RCA_SOCKET, legs=4)
    assert [split.splitters for split in splits(shop) if split.legs == 3] == [(("Y4", 1),)]


def test_splitters_that_do_not_stack_split_once() -> None:
    """Its input is an RCA plug, its legs XLR pins: no second one fits a leg."""
    shop = Shop()
    shop.splitter("once", 5, RCA_PLUG, XLR_PINS)
    assert [(split.legs, split.boxes) for split in splits(shop)] == [(2, 1)]


def test_a_splitter_plugs_onto_the_jack_that_it_mates_with() -> None:
    assert splits(two_way(), XLR_OUT) == ()
    shop = Shop()
    shop.splitter("X", 9, XLR_SOCKET, XLR_PINS, balanced=True)
    assert [split.legs for split in splits(shop, XLR_OUT)] == [2, 3, 4]


@pytest.mark.parametrize(("splitter_balanced", "conversions"), [(True, 0), (False, 1)])
def test_only_the_first_splitter_can_be_a_conversion(splitter_balanced: bool, conversions: int) -> None:
    """Those further down plug onto legs of their own balance."""
    shop = Shop()
    shop.splitter("X", 9, XLR_SOCKET, XLR_PINS, balanced=splitter_balanced)
    found = splits(shop, XLR_OUT)
    assert [split.conversions for split in found] == [conversions] * 3
    assert all(split.leg == Kind(XLR_PINS, splitter_balanced) for split in found)


def test_balanced_only_leaves_out_splitters_that_are_not() -> None:
    shop = Shop()
    shop.splitter("flat", 1, XLR_SOCKET, XLR_PINS)
    shop.splitter("fair", 9, XLR_SOCKET, XLR_PINS, balanced=True)
    assert {split.splitters[0][0] for split in splits(shop, XLR_OUT, balanced_only=True)} == {"fair"}
    assert splits(shop, Kind(XLR_PINS, False), balanced_only=True) == ()


def test_splitters_of_one_split_are_all_alike_in_contacts_and_balance() -> None:
    shop = Shop()
    shop.splitter("flat", 4, XLR_SOCKET, XLR_PINS)
    shop.splitter("fair", 4, XLR_SOCKET, XLR_PINS, balanced=True)
    assert all(len(split.splitters) == 1 for split in splits(shop, XLR_OUT))


def test_scarce_splitters_stay_a_choice() -> None:
    shop = two_way()
    shop.splitter("few", 1, RCA_PLUG, RCA_SOCKET, stock=1)
    found = {split.splitters for split in splits(shop) if split.legs == 3}
    assert found == {(("Y", 2),), (("Y", 1), ("few", 1)), (("few", 2),)}


@given(
    models=st.lists(st.tuples(st.integers(1, 9), st.integers(2, 4)), min_size=1, max_size=3),
    legs=st.integers(2, 6),
)
def test_no_handful_of_splitters_makes_the_legs_for_less_or_with_fewer_boxes(
    models: list[tuple[int, int]], legs: int
) -> None:
    """Against every handful: n splitters of a, b, … legs give 1 + Σ(legs − 1) legs; none may be without use."""
    shop = Shop()
    for number, (price, ways) in enumerate(models):
        shop.splitter(f"Y{number}", price, RCA_PLUG, RCA_SOCKET, legs=ways)
    offered = {(split.price_minor, split.boxes) for split in splits(shop, largest=legs) if split.legs == legs}
    every = [
        (100 * sum(price for price, _ in chosen), len(chosen))
        for count in range(1, legs)
        for chosen in combinations_with_replacement(models, count)
        if 1 + sum(ways - 1 for _, ways in chosen) >= legs
    ]
    for price, boxes in every:
        assert any(p <= price and b <= boxes for p, b in offered)
    assert offered <= set(every)
