"""Bounds on measures, and the same as points."""

from decimal import Decimal

from hypothesis import given

from planner.allocation.bounds import Bounds, bounds_at, claim_point, limits_of, meets
from planner.demand.counts import Claim
from tests.allocation.designs import CLAIMS, all_bounds, within
from tests.demand.shop import brief, limits


@given(claim=CLAIMS, bounds=all_bounds())
def test_a_claim_meets_bounds_where_its_point_is_nowhere_less(claim: Claim, bounds: Bounds) -> None:
    assert meets(claim_point(claim), bounds.point()) == within(claim, bounds)


@given(bounds=all_bounds())
def test_a_point_gives_its_bounds_back(bounds: Bounds) -> None:
    assert bounds_at(bounds.point(), groups=2).point() == bounds.point()
    assert bounds_at(bounds.point(), groups=2).groups == 2


@given(claim=CLAIMS, one=all_bounds(), other=all_bounds())
def test_what_meets_tighter_bounds_meets_looser_ones(claim: Claim, one: Bounds, other: Bounds) -> None:
    if meets(one.point(), other.point()) and within(claim, one):
        assert within(claim, other)


def test_the_limits_of_a_brief_are_bounds() -> None:
    asked = limits(
        least_independent_subwoofers=2, least_control_groups=3, spare_outputs=1, most_subwoofers_lost=2,
        budget=Decimal(5000), largest_split=3,
    )  # fmt: skip
    assert limits_of(brief(limits=asked)) == Bounds(independent=2, groups=3, spare=1, lost=2)
