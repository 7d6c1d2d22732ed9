"""All smallest conflicts, against every subset of the requirements, and what mends a brief, by brute force."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.answer import with_relaxations
from planner.brief.records import Brief
from planner.catalogue.records import Catalogue, Loudspeaker, PortRole, Powering
from planner.explain.clock import Clock
from planner.explain.conflicts import conflicts, hitting_sets, without
from planner.explain.explanation import WhyNone, why_none
from planner.explain.least import LeastPrices
from planner.options import Status
from planner.plan import options
from planner.requirements import Requirement, Sacrifice, requirements
from tests.demand.shop import HOUSE, XLR, XLR_PINS, XLR_SOCKET, Shop, ins, outs, speakers
from tests.demand.shop import brief as built
from tests.oracle.instance import Instance
from tests.oracle.milp import Cheapest
from tests.plan.test_conflict import CASES, asked, shop

ALL = CASES | {"several conflicts at once": (asked(balanced_only=True, spare_outputs=1), shop(), set[str]())}
BY_PROGRAMME = ("balanced only, and unbalanced subwoofers", "one output too few", "several conflicts at once")


def case(name: str) -> tuple[Brief, Shop]:
    """A brief without a design and its shop; limits of level and load are left out, as each doubles the subsets."""
    found, sold, _ = ALL[name]
    return replace(found, limits=replace(found.limits, physical=frozenset())), sold


@cache
def explained(name: str) -> WhyNone:
    found, sold = case(name)
    return why_none(found, sold.catalogue(), HOUSE, Clock.of(600.0))


def quiet_shop() -> tuple[Brief, Shop]:
    """One pair at 1 m along the wall, of which 95 dB are asked, and no other model."""
    sold = Shop()
    sold.processor("P", 1000, outs("A", XLR, 2, PortRole.ASSIGNABLE))
    quiet = Loudspeaker(sku="L", name="L", powering=Powering.ACTIVE, ways=1, max_spl_db=100.0)
    sold.sell(quiet, 200, ins("IN", XLR))
    sold.lead("W", 10, XLR_SOCKET, XLR_PINS, 10.0)
    return built(replace(speakers("Mains", "L", "M+030 M-030", 1.0, 1.0), target_spl_db=95.0)), sold


def price_by_programme(name: str) -> Callable[[frozenset[int]], int | None]:
    """The least price with some requirements given up, by the independent programme; asked once each."""
    found, sold = case(name)
    given = requirements(found)

    @cache
    def price(given_up: frozenset[int]) -> int | None:
        relaxed = without(found, tuple(given[number] for number in sorted(given_up)))
        # the programme wants the candidates of a set by name
        skus = tuple(speaker.sku for speaker in sold.catalogue().loudspeakers)
        sets = tuple(replace(group, candidates=group.candidates or skus) for group in relaxed.loudspeakers)
        named = replace(relaxed, loudspeakers=tuple(group for group in sets if group.placements))
        return Cheapest(Instance(name=name, brief=named, catalogue=sold.catalogue(), house=HOUSE)).price_minor()

    return price


@pytest.mark.parametrize("name", BY_PROGRAMME)
def test_the_conflicts_are_all_the_smallest_sets_without_a_design(name: str) -> None:
    found, _ = case(name)
    given, price = requirements(found), price_by_programme(name)
    everything = frozenset(range(len(given)))
    smallest: list[frozenset[int]] = []
    for size in range(len(given) + 1):
        for kept in map(frozenset, combinations(sorted(everything), size)):
            if not any(known <= kept for known in smallest) and price(everything - kept) is None:
                smallest.append(kept)
    why = explained(name)
    assert why.conflicts.complete
    assert {frozenset(r.sentence for r in conflict) for conflict in why.conflicts.sets} == {
        frozenset(given[number].sentence for number in conflict) for conflict in smallest
    }


@pytest.mark.parametrize("name", BY_PROGRAMME)
def test_the_changes_are_all_that_mend_at_the_price_that_the_programme_finds(name: str) -> None:
    found, _ = case(name)
    given, price = requirements(found), price_by_programme(name)
    expected: dict[frozenset[int], int | None] = {}
    for size in (1, 2):
        for chosen in map(frozenset, combinations(range(len(given)), size)):
            if not any(known < chosen for known in expected) and price(chosen) is not None:
                expected[chosen] = price(chosen)
    whole = {m.instead_of: m.answer.price_minor for m in explained(name).mends if m.whole}
    assert whole == {tuple(given[n].sentence for n in sorted(chosen)): minor for chosen, minor in expected.items()}


@pytest.mark.parametrize("name", ALL)
def test_giving_up_any_member_of_a_conflict_resolves_it(name: str) -> None:
    found, sold = case(name)
    why = explained(name)
    assert why.conflicts.sets

    def exists(brief: Brief) -> bool:
        return has_design(brief, sold.catalogue())

    for conflict in why.conflicts.sets:
        needed = {requirement.sentence for requirement in conflict}
        assert not exists(without(found, all_but(found, needed)))
        for member in needed:
            assert exists(without(found, all_but(found, needed - {member}))), member


def all_but(found: Brief, kept: set[str]) -> tuple[Requirement, ...]:
    return tuple(requirement for requirement in requirements(found) if requirement.sentence not in kept)


def has_design(brief: Brief, catalogue: Catalogue) -> bool:
    return bool(LeastPrices(brief, catalogue, HOUSE, Clock.of(600.0)).exists())


def test_the_slightest_change_of_degree_mends_and_one_step_less_does_not() -> None:
    """Five outputs, of which two loudspeakers and two subwoofers leave one."""
    found, sold = asked(spare_outputs=3), shop(outputs=5)
    why = why_none(found, sold.catalogue(), HOUSE, Clock.of(600.0))
    by_degree = [mend for mend in why.mends if not mend.whole]
    assert ("1 output stays spare",) in [mend.changes for mend in by_degree]
    assert has_design(replace(found, limits=replace(found.limits, spare_outputs=1)), sold.catalogue())
    assert not has_design(replace(found, limits=replace(found.limits, spare_outputs=2)), sold.catalogue())


def test_what_gives_up_least_comes_first_and_then_the_cheapest() -> None:
    for name in ALL:
        found = explained(name).mends
        assert all(mend.answer.price_minor is not None for mend in found)
        ranks = [(len(m.changes), m.sacrifice, m.whole, m.answer.price_minor) for m in found]
        assert ranks == sorted(ranks)


def test_leaving_loudspeakers_out_is_offered_last_though_it_is_cheapest() -> None:
    """A euro is missing of 2040: the budget comes first, then another model, then the loudspeakers, 620 less."""
    found, sold = case("a budget short of one euro")
    result = with_relaxations(options(found, sold.catalogue(), HOUSE), found, sold.catalogue(), HOUSE, time_limit_s=600)
    first, last = result.relaxations[0], result.relaxations[-1]
    assert (first.change, first.price_minor) == ("the budget is as much as it takes", 204_000)
    assert first.gives_up == Sacrifice.MONEY.words
    assert last.gives_up == Sacrifice.EXTENT.words
    assert last.price_minor is not None
    assert last.price_minor < 204_000


def test_a_target_that_nothing_reaches_is_lowered_before_it_is_dropped() -> None:
    """It plays 100 dB at 1 m, and stands sqrt(4 + 6.25 + 1.44) = 3.42 m away: 20 log10 of that is 10.68, 89.3 dB."""
    found, sold = quiet_shop()
    result = with_relaxations(options(found, sold.catalogue(), HOUSE), found, sold.catalogue(), HOUSE, time_limit_s=600)
    assert result.status is Status.INFEASIBLE
    changes = [each.change for each in result.relaxations]
    assert changes[0] == "the set 'Mains' reaches 89 dB SPL at the primary seats"
    assert "the set 'Mains' may reach any level" in changes[1:]
    assert changes[-1] == "the set 'Mains' is left out"


def test_changes_that_time_did_not_settle_are_named() -> None:
    found, sold = case("one output too few")
    result = options(found, sold.catalogue(), HOUSE)
    told = with_relaxations(result, found, sold.catalogue(), HOUSE, time_limit_s=0.0)
    assert told.conflict == result.conflict
    assert told.relaxations == ()
    assert len(told.unproven) == len(result.conflict)
    assert all("Time ran out" in sentence for sentence in told.unproven)


def test_time_that_runs_out_leaves_the_conflicts_incomplete() -> None:
    found, _, _ = ALL["one output too few"]
    assert not conflicts(found, lambda brief: None).complete


SETS = st.lists(st.frozensets(st.integers(0, 5), min_size=1, max_size=4), max_size=5)


@settings(max_examples=40)
@given(SETS)
def test_the_hitting_sets_are_all_the_smallest_choices_from_every_set(sets: list[frozenset[int]]) -> None:
    choices = [frozenset(c) for size in range(7) for c in combinations(range(6), size)]
    hitting = [choice for choice in choices if all(choice & each for each in sets)]
    smallest = {choice for choice in hitting if not any(other < choice for other in hitting)}
    assert set(hitting_sets(sets)) == smallest


def test_the_answer_of_options_names_the_single_changes_with_their_prices() -> None:
    found, sold = case("one output too few")
    result = with_relaxations(options(found, sold.catalogue(), HOUSE), found, sold.catalogue(), HOUSE, time_limit_s=600)
    single = [m for m in explained("one output too few").mends if len(m.changes) == 1]
    assert [(r.change, r.price_minor) for r in result.relaxations] == [
        (m.changes[0], m.answer.price_minor) for m in single
    ]
    assert single
