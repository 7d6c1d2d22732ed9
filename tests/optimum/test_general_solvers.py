"""The planner's optima against HiGHS and SCIP, asked one straightforward programme (`tests.oracle.whole`).

S whole: every option, and every corner at which the least price would change, so that nothing is missing.
The brief of M on a small market: the single cheapest under bounds. `python -m tests.benchmarks`
asks the rest, up to XXL.
"""

from dataclasses import replace
from functools import cache

import pytest

from planner.brief.records import Measure
from planner.design import Measures
from planner.options import Status
from planner.plan import options
from tests.benchmarks.sizes import Case, Size, case, with_devices
from tests.oracle.instance import Bounds, Instance
from tests.oracle.mathopt import Solver, least
from tests.oracle.terms import with_tax
from tests.oracle.trade_off import bounds_of, implied_price, loosest_corners, own_cell
from tests.oracle.whole.question import Question

LONG_ENOUGH_S = 600.0


SMALL_MARKET = 60


@cache
def small() -> Question:
    return asked(case(Size.S))


@cache
def medium() -> Question:
    return asked(with_devices(SMALL_MARKET))


def asked(of: Case) -> Question:
    return Question(Instance(name=of.name, brief=of.brief, catalogue=of.catalogue, house=of.house))


@cache
def found() -> tuple[Measures, ...]:
    """What the planner finds for S."""
    of = case(Size.S)
    result = options(of.brief, of.catalogue, of.house, time_limit_s=LONG_ENOUGH_S)
    assert result.status is Status.PROVEN
    return tuple(option.measures for option in result.options)


def price(question: Question, bounds: Bounds, solver: Solver) -> int | None:
    """The least price with tax that a solver proves."""
    solved = least(question.under(bounds), question.subtotal, solver, LONG_ENOUGH_S)
    assert solved.settled
    return None if solved.value is None else with_tax(question.instance, solved.value)


@pytest.mark.parametrize("solver", Solver)
def test_every_option_of_s_has_the_least_price_for_its_measures(solver: Solver) -> None:
    chosen = case(Size.S).brief.measures
    for measures in found():
        assert price(small(), bounds_of(own_cell(measures, chosen)), solver) == measures.price_minor


def test_no_option_of_s_is_missing() -> None:
    for cell in loosest_corners(found(), case(Size.S).brief.measures):
        assert price(small(), bounds_of(cell), Solver.HIGHS) == implied_price(found(), cell), cell


def test_the_cheapest_of_m_under_bounds_is_that_of_a_general_solver() -> None:
    of = with_devices(SMALL_MARKET)
    limits = replace(of.brief.limits, least_independent_subwoofers=4, spare_outputs=2, most_subwoofers_lost=2)
    brief = replace(of.brief, measures=(Measure.PRICE,), limits=limits)
    result = options(brief, of.catalogue, of.house, time_limit_s=LONG_ENOUGH_S)
    bounds = Bounds(least_independent=4, least_spare=2, most_lost=2)
    assert result.options[0].measures.price_minor == price(medium(), bounds, Solver.HIGHS)
