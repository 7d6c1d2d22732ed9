"""The cheapest over all processors, with what was learnt on the way; no solver in between."""

from concurrent.futures import ThreadPoolExecutor
from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.allocation.bounds import Bounds
from planner.allocation.parts import Parts
from planner.allocation.solve import MOST_SCORE, Verdict
from planner.demand.counts import Claim
from tests.allocation.designs import CLAIMS, OneKnown, all_bounds, best, counts, score

GROUPS = st.lists(st.lists(CLAIMS, max_size=5).map(tuple), min_size=1, max_size=4)
LONG_S = 60.0
LOOSE = Bounds(lost=3, conversions=3, joints=3)
CHEAP = Claim(subtotal_minor=1, independent=0, groups=0, spare=0, lost=1, conversions=0, joints=0)
DEAR = Claim(subtotal_minor=5, independent=2, groups=2, spare=0, lost=1, conversions=0, joints=0)


def parts_of(models: list[OneKnown]) -> Parts:
    """Parts with stand-ins for the models of their processors."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("planner.allocation.parts.NarrowedModel", lambda demand, number, recall: models[number])
        return Parts(SimpleNamespace(processors=models))  # type: ignore[arg-type]


@given(groups=GROUPS, asked=st.lists(all_bounds(), min_size=1, max_size=6))
def test_every_attempt_finds_the_best_design_of_any_processor(
    groups: list[tuple[Claim, ...]], asked: list[Bounds]
) -> None:
    """What was learnt by the attempts before never changes an answer; no floor is ever undercut."""
    parts = parts_of([OneKnown(group) for group in groups])
    for bounds in asked:
        expected = best((claim for group in groups for claim in group), bounds)
        attempt = parts.attempt(bounds, LONG_S)
        parts.remember(attempt)
        if expected is None:
            assert attempt.outcome.verdict is Verdict.NONE
        else:
            assert attempt.outcome.verdict is Verdict.OPTIMAL
            assert attempt.outcome.score == score(expected)
            assert attempt.outcome.counts is not None
            assert score(attempt.outcome.counts.claim) == score(expected)


@given(groups=GROUPS, asked=st.lists(all_bounds(), min_size=1, max_size=4), bounds=all_bounds())
def test_a_floor_is_never_above_what_a_processor_can_do(
    groups: list[tuple[Claim, ...]], asked: list[Bounds], bounds: Bounds
) -> None:
    parts = parts_of([OneKnown(group) for group in groups])
    with ThreadPoolExecutor(2) as pool:
        parts.prime(asked[0], LONG_S, pool, lambda _: None)
    for earlier in asked:
        parts.remember(parts.attempt(earlier, LONG_S))
    for number, group in enumerate(groups):
        found = best(group, bounds)
        assert found is None or parts.floor(number, bounds.point()) <= score(found)


@given(groups=GROUPS, bounds=all_bounds(), known=CLAIMS)
def test_a_known_design_stands_unless_a_better_one_is_found(
    groups: list[tuple[Claim, ...]], bounds: Bounds, known: Claim
) -> None:
    parts = parts_of([OneKnown(group) for group in groups])
    outcome = parts.attempt(bounds, LONG_S, (score(known), counts(known))).outcome
    found = best((claim for group in groups for claim in group), bounds)
    assert outcome.score == min(score(known), score(known) if found is None else score(found))


def test_a_processor_that_cannot_win_is_not_asked() -> None:
    models = [OneKnown((CHEAP,)), OneKnown((DEAR,))]
    parts = parts_of(models)
    with ThreadPoolExecutor(2) as pool:
        parts.prime(LOOSE, LONG_S, pool, lambda _: None)
    before = len(models[1].asked)
    assert parts.attempt(LOOSE, LONG_S).outcome.score == score(CHEAP)
    assert len(models[1].asked) == before


def test_a_processor_without_any_design_within_looser_bounds_has_none_within_tighter_ones() -> None:
    models = [OneKnown(()), OneKnown((DEAR,))]
    parts = parts_of(models)
    parts.remember(parts.attempt(LOOSE, LONG_S))
    asked = len(models[0].asked)
    parts.attempt(Bounds(independent=2, lost=1, conversions=0, joints=0), LONG_S)
    assert len(models[0].asked) == asked
    assert parts.floor(0, LOOSE.point()) == MOST_SCORE


def silent(*claims: Claim) -> OneKnown:
    """A processor for which time always runs out."""
    return OneKnown(claims, out_of_time=lambda bounds: True)


def test_time_that_runs_out_at_the_first_processor_leaves_nothing() -> None:
    assert parts_of([silent(CHEAP), OneKnown((DEAR,))]).attempt(LOOSE, LONG_S).outcome.verdict is Verdict.UNKNOWN


def test_time_that_runs_out_at_a_later_one_leaves_what_was_found_unproven() -> None:
    outcome = parts_of([OneKnown((CHEAP,)), silent(CHEAP)]).attempt(LOOSE, LONG_S).outcome
    assert (outcome.verdict, outcome.score) == (Verdict.FEASIBLE, score(CHEAP))


def test_time_that_runs_out_at_one_that_cannot_win_does_not_matter() -> None:
    outcome = parts_of([silent(DEAR), OneKnown((CHEAP,))]).attempt(LOOSE, LONG_S).outcome
    assert (outcome.verdict, outcome.score) == (Verdict.OPTIMAL, score(CHEAP))


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        (OneKnown((CHEAP,)), OneKnown(()), Verdict.FEASIBLE),
        (OneKnown(()), OneKnown((DEAR,)), Verdict.FEASIBLE),
        (OneKnown(()), OneKnown(()), Verdict.NONE),
        (silent(), OneKnown((CHEAP,)), Verdict.FEASIBLE),
        (silent(), OneKnown(()), Verdict.UNKNOWN),
    ],
)
def test_a_design_exists_if_one_processor_has_one(one: OneKnown, other: OneKnown, expected: Verdict) -> None:
    assert parts_of([one, other]).exists(LOOSE, LONG_S).verdict is expected
