"""Price steps of a bare instance, counted by hand."""

from dataclasses import replace
from decimal import Decimal

import pytest

from planner.brief.records import Brief, Drive
from planner.explain.clock import Clock
from planner.explain.least import Settled
from planner.explain.price_steps import Axis, Drives, PriceSteps, Staircase, open_steps, price_steps
from tests.optimum.bench import bench
from tests.oracle.instance import Instance
from tests.oracle.milp import Cheapest

LONG_S = 600.0


def of(instance: Instance) -> PriceSteps:
    return price_steps(instance.brief, instance.catalogue, instance.house, Clock.of(LONG_S))


def stairs(found: PriceSteps, axis: Axis, drives: Drives = Drives.ANY) -> Staircase:
    return next(s for s in found.staircases if (s.axis, s.drives) == (axis, drives))


def euros(found: Staircase) -> list[int | None]:
    prices = [step.answer.price_minor for step in found.steps]
    return [None if price is None else price // 100 for price in prices]


@pytest.fixture(scope="module")
def five() -> PriceSteps:
    """Six outputs, three loudspeakers and two subwoofers: one output is spare. 1000 + 3 × 210 + 2 × 310."""
    return of(bench(outputs=6, speakers=3, subs=2))


def test_today_is_the_least_price_of_the_brief(five: PriceSteps) -> None:
    assert five.today.price_minor == 225000


def test_a_loudspeaker_takes_an_output_of_its_own(five: PriceSteps) -> None:
    """Three more fill the outputs only where the subwoofers share one: a splitter of 7 euro. Then none is left."""
    found = stairs(five, Axis.CHANNELS)
    assert [step.count for step in found.steps] == [1, 2, 3, 4, 5, 6, 7]
    assert euros(found) == [1830, 2040, 2250, 2460, 2677, None, None]
    assert found.steps[-1].answer.settled is Settled.NONE


def test_subwoofers_beyond_the_outputs_share_one(five: PriceSteps) -> None:
    """One more has the spare output; each more is a splitter of 7 beside it."""
    assert euros(stairs(five, Axis.SUBWOOFERS)) == [1630, 1940, 2250, 2560, 2877, 3194, 3511]
    assert euros(stairs(five, Axis.SUBWOOFERS, Drives.DEDICATED)) == [1630, 1940, 2250, 2560, None, None, None]


def test_spare_outputs_are_bought_with_splitters(five: PriceSteps) -> None:
    assert euros(stairs(five, Axis.SPARE)) == [2250, 2250, 2257, None, None]


def test_each_step_tells_what_it_is_over_the_brief_and_over_the_last(five: PriceSteps) -> None:
    found = stairs(five, Axis.SUBWOOFERS)
    assert [step.over_today_minor for step in found.steps][:4] == [-62000, -31000, 0, 31000]
    assert [step.over_last_minor for step in found.steps][:5] == [None, 31000, 31000, 31000, 31700]
    assert found.steps[4].gear is not None
    assert [(line.sku, line.count) for line in found.steps[4].gear.added] == [("split", 1)]


def test_the_budget_is_left_open_and_told() -> None:
    instance = bench(outputs=6, speakers=3, subs=2)
    limited = replace(instance.brief, limits=replace(instance.brief.limits, budget=Decimal(2300)))
    found = stairs(of(replace(instance, brief=limited)), Axis.SUBWOOFERS)
    assert [step.over_budget for step in found.steps][:5] == [False, False, False, True, True]


def test_the_table_agrees_with_the_staircases_and_with_the_programme(five: PriceSteps) -> None:
    """Every price of the table, from a brief of its own put to HiGHS; subwoofers stand at one place here."""
    instance = bench(outputs=6, speakers=3, subs=2)
    for square in five.table:
        if square.channels_change not in (-2, 1) or square.subwoofers_change not in (-1, 2):
            continue
        other = bench(outputs=6, speakers=3 + square.channels_change, subs=2 + square.subwoofers_change)
        brief = replace(other.brief, rack=instance.brief.rack)
        expected = Cheapest(replace(other, brief=brief)).price_minor()
        assert square.answer.price_minor == expected, square


def test_where_the_brief_allows_no_output_of_its_own_there_is_no_such_design() -> None:
    instance = bench(outputs=6, speakers=1, subs=2, drives=frozenset({Drive.SPLIT, Drive.DEDICATED}))
    only_split = replace(instance.brief, limits=replace(instance.brief.limits, drives=frozenset({Drive.SPLIT})))
    found = of(replace(instance, brief=_without_speakers(only_split)))
    assert {step.answer.settled for step in stairs(found, Axis.SUBWOOFERS, Drives.DEDICATED).steps[1:]} == {
        Settled.NONE
    }


def _without_speakers(brief: Brief) -> Brief:
    return replace(brief, loudspeakers=())


def test_time_that_runs_out_is_told() -> None:
    instance = bench(outputs=6, speakers=3, subs=2)
    found = price_steps(instance.brief, instance.catalogue, instance.house, Clock.of(-1.0))
    settled = {step.answer.settled for stairs_ in found.staircases for step in stairs_.steps}
    settled |= {square.answer.settled for square in found.table}
    assert (open_steps(found) > 0) is (Settled.OPEN in settled)
