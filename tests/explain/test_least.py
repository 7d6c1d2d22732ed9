"""Least prices of one brief, asked again and again, against the independent programme put to HiGHS."""

from dataclasses import replace
from itertools import product

import pytest

from planner.allocation.bounds import Bounds, limits_of
from planner.brief.records import Brief, SubwooferSet
from planner.explain.clock import Clock
from planner.explain.least import LeastPrices, Settled
from planner.explain.variants import down_to, up_to
from planner.explain.why_gear import all_gear_prices, keepable
from tests.oracle.instance import Bounds as OracleBounds
from tests.oracle.instance import Instance
from tests.oracle.instances import seeded, small, tiny
from tests.oracle.milp import Cheapest

LONG_S = 600.0


def prices_of(instance: Instance, brief: Brief | None = None) -> LeastPrices:
    return LeastPrices(brief or instance.brief, instance.catalogue, instance.house, Clock.of(LONG_S))


@pytest.mark.parametrize("seed", [19, 36, 73])
def test_every_question_has_the_price_that_the_programme_finds_whatever_was_asked_before(seed: int) -> None:
    instance = seeded(small, seed)
    programme, prices = Cheapest(instance), prices_of(instance)
    subwoofers = sum(s.most for s in instance.brief.subwoofers)
    for independent, spare in product(range(0, subwoofers + 1, 2), (0, 2)):
        limits = instance.brief.limits
        bounds = Bounds(
            independent=max(independent, limits.least_independent_subwoofers),
            groups=limits.least_control_groups,
            spare=max(spare, limits.spare_outputs),
            lost=limits.most_subwoofers_lost,
        )
        expected = programme.price_minor(OracleBounds(least_independent=independent, least_spare=spare))
        assert prices.least(bounds).price_minor == expected, bounds


def counts(groups: tuple[SubwooferSet, ...], total: int, *, fewer: bool, room: int) -> list[tuple[int, ...]]:
    """Every way to have so many subwoofers: all sets at their least or more, or all at their least or less."""
    ranges = [
        range(max(g.least - room, 0), g.least + 1) if fewer else range(g.least, g.least + room + 1) for g in groups
    ]
    return [entry for entry in product(*ranges) if sum(entry) == total]


@pytest.mark.parametrize("seed", [14, 29, 45, 63])
@pytest.mark.parametrize("fewer", [False, True])
def test_one_subwoofer_more_or_fewer_is_the_cheapest_way_to_have_it(seed: int, fewer: bool) -> None:
    """The programme is asked for every way to spread the subwoofers over the sets, each a brief of its own."""
    instance = seeded(tiny, seed)
    groups = tuple(replace(g, most=g.least) for g in instance.brief.subwoofers)
    brief = replace(instance.brief, subwoofers=groups)
    total = sum(g.least for g in groups) + (-1 if fewer else 1)
    ranged = down_to(brief, 1) if fewer else up_to(brief, 1)
    found = prices_of(instance, ranged).least(replace(limits_of(brief), subwoofers=total)).price_minor
    expected = []
    for entry in counts(groups, total, fewer=fewer, room=1):
        chosen = zip(ranged.subwoofers, entry, strict=True)
        sets = tuple(replace(g, least=count, most=count, positions=g.positions[: max(count, 1)]) for g, count in chosen)
        one = replace(instance, brief=replace(brief, subwoofers=tuple(s for s in sets if s.most)))
        expected.append(Cheapest(one).price_minor())
    assert found == min((price for price in expected if price is not None), default=None)


@pytest.mark.parametrize("seed", [12, 25, 61])
def test_without_a_device_the_price_is_that_of_the_brief_that_excludes_it(seed: int) -> None:
    instance = seeded(small, seed)
    prices = all_gear_prices(instance.brief, instance.catalogue, instance.house, Clock.of(LONG_S))
    cheapest = prices.least()
    assert cheapest.priced is not None
    used = {unit.sku for unit in cheapest.priced.design.units} & keepable(instance.catalogue)
    for sku in sorted(used)[:4]:
        excluding = replace(instance.brief, excluded=(*instance.brief.excluded, sku))
        if any(entry.sku == sku and entry.must_use for entry in instance.brief.owned):
            continue
        expected = Cheapest(replace(instance, brief=excluding)).price_minor()
        assert prices.least(none_of=[sku]).price_minor == expected, sku


def test_time_that_runs_out_is_no_answer() -> None:
    instance = seeded(small, 19)
    late = LeastPrices(instance.brief, instance.catalogue, instance.house, Clock.of(-1.0))
    answer = late.least()
    assert answer.settled in (Settled.OPEN, Settled.FOUND)  # a small model may be done before the clock is read
