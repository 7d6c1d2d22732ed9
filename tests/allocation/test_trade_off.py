"""The search of the trade-off set against every design there is, without a solver in between."""

import time
from collections.abc import Iterable

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.allocation.bounds import Bounds
from planner.allocation.parts import Parts
from planner.allocation.trade_off import TradeOff, TradeOffSearch
from planner.brief.records import Measure
from planner.demand.counts import Claim
from tests.allocation.designs import CEILINGS, CLAIMS, AllKnown, within

LISTS = st.lists(CLAIMS, max_size=14)
WEIGHED = st.sets(st.sampled_from(sorted(set(Measure) - {Measure.PRICE}))).map(
    lambda chosen: (Measure.PRICE, *sorted(chosen))
)


def searched(claims: Iterable[Claim], measures: tuple[Measure, ...], limits: Bounds, known: AllKnown) -> TradeOff:
    search = TradeOffSearch(_parts(known), limits, measures, CEILINGS, lambda done, found: None)
    return search.run(time.monotonic() + 60.0)


def _parts(known: AllKnown) -> Parts:
    return known  # type: ignore[return-value]


def values(claim: Claim, measures: tuple[Measure, ...]) -> tuple[int, ...]:
    """The measures weighed, each so that less is better."""
    found = {
        Measure.PRICE: claim.subtotal_minor,
        Measure.INDEPENDENT_SUBWOOFERS: -claim.independent,
        Measure.SPARE_OUTPUTS: -claim.spare,
        Measure.JOINTS: claim.joints or 0,
        Measure.SUBWOOFERS_LOST: claim.lost,
        Measure.CONVERSIONS: claim.conversions,
        Measure.EARTH_LOOPS: claim.loops or 0,
        Measure.LEAST_MARGIN: -(claim.margin or 0),
    }
    return tuple(found[measure] for measure in measures)


def undominated(claims: Iterable[Claim], measures: tuple[Measure, ...], limits: Bounds) -> set[tuple[int, ...]]:
    """By definition: no other is at least as good in all that is weighed and better in one."""
    points = {values(claim, measures) for claim in claims if within(claim, limits)}
    return {p for p in points if not any(q != p and all(a <= b for a, b in zip(q, p, strict=True)) for q in points)}


LIMITS = st.builds(Bounds, independent=st.integers(0, 2), groups=st.integers(0, 2), lost=st.none() | st.integers(1, 3))


@given(claims=LISTS, measures=WEIGHED, limits=LIMITS)
@settings(max_examples=200)
def test_the_set_is_all_that_no_other_design_beats_and_each_once(
    claims: list[Claim], measures: tuple[Measure, ...], limits: Bounds
) -> None:
    found = searched(claims, measures, limits, AllKnown(claims))
    points = [values(entry.counts.claim, measures) for entry in found.found]
    assert set(points) == undominated(claims, measures, limits)
    assert len(points) == len(set(points))
    assert all(entry.proven for entry in found.found)
    assert found.open_cells == ()


@given(claims=LISTS, measures=WEIGHED, limits=LIMITS, solves=st.integers(0, 6))
def test_when_time_runs_out_what_is_called_proven_is_and_every_other_is_in_an_open_cell(
    claims: list[Claim], measures: tuple[Measure, ...], limits: Bounds, solves: int
) -> None:
    known = AllKnown(claims, solves)
    found = searched(claims, measures, limits, known)
    everything = undominated(claims, measures, limits)
    settled = {values(entry.counts.claim, measures) for entry in found.found if entry.proven}
    for claim in (c for c in claims if within(c, limits)):
        point = values(claim, measures)
        in_open_cell = any(within(claim, cell) for cell in found.open_cells)
        assert point not in everything or point in settled or in_open_cell
    for point in settled - everything:  # beaten only by what an open cell may still hold
        rivals = [
            c
            for c in claims
            if within(c, limits) and all(a <= b for a, b in zip(values(c, measures), point, strict=True))
        ]
        assert any(within(rival, cell) for rival in rivals for cell in found.open_cells)
    assert bool(found.open_cells) == (len(known.asked) > solves)


@given(claims=LISTS, measures=WEIGHED)
def test_no_cell_is_solved_twice(claims: list[Claim], measures: tuple[Measure, ...]) -> None:
    known = AllKnown(claims)
    searched(claims, measures, Bounds(), known)
    assert len(known.asked) == len(set(known.asked))


def test_the_price_alone_takes_one_solve() -> None:
    claims = [
        Claim(subtotal_minor=n, independent=n, groups=n, spare=0, lost=1, conversions=0, joints=0) for n in (2, 3)
    ]
    known = AllKnown(claims)
    found = searched(claims, (Measure.PRICE,), Bounds(), known)
    assert [entry.counts.claim.subtotal_minor for entry in found.found] == [2]
    assert len(known.asked) == 1


def test_the_same_designs_in_another_order_give_the_same_set() -> None:
    claims = [
        Claim(subtotal_minor=p, independent=i, groups=1, spare=s, lost=3 - i, conversions=0, joints=0)
        for p, i, s in ((1, 0, 0), (2, 1, 0), (2, 0, 1), (3, 1, 1), (4, 2, 0), (4, 2, 0), (3, 2, 1))
    ]
    measures = (Measure.PRICE, Measure.INDEPENDENT_SUBWOOFERS, Measure.SPARE_OUTPUTS)
    one, other = (searched(order, measures, Bounds(), AllKnown(order)) for order in (claims, claims[::-1]))
    assert [entry.counts.claim for entry in one.found] == [entry.counts.claim for entry in other.found]
