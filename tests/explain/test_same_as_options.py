"""What is explained never differs in price from what is answered: the same brief costs the same, option for option.

Limits of R11 to R15 enter either search only where a design breaks them. The briefs are those of the demo
of which a limit changes the gear, and one with gear that is owned.
"""

from dataclasses import replace
from functools import cache

import pytest

from planner.brief.records import Brief, LaterStage, PhysicalLimit
from planner.explain.clock import Clock
from planner.explain.least import LeastPrices
from planner.explain.price_steps import Axis, Drives, price_steps
from planner.explain.rooms import shared_order
from planner.explain.stages import now_and_later
from planner.explain.why_gear import bounds_of
from tests.plan.demo import LONG_ENOUGH_S, demo_brief, demo_catalogue, demo_house, demo_result

BRIEFS = (
    "limit-clipping-in-the-dsp-unit",
    "limit-latency-in-a-long-room",
    "limit-load-of-four-ohm",
    "upgrade-around-owned-gear",
)


@cache
def prices_of(name: str) -> LeastPrices:
    return _prices(demo_brief(name), demo_result(name).held)


def _prices(brief: Brief, held: frozenset[PhysicalLimit] | None) -> LeastPrices:
    return LeastPrices(brief, demo_catalogue(), demo_house(), Clock.of(LONG_ENOUGH_S), held=held)


@pytest.mark.parametrize("name", BRIEFS)
def test_the_least_price_for_what_each_option_offers_is_that_of_the_option(name: str) -> None:
    brief, result, prices = demo_brief(name), demo_result(name), prices_of(name)
    assert prices.least().price_minor == result.options[0].quote.total_minor
    for option in result.options:
        assert prices.least(bounds_of(option.measures, brief)).price_minor == option.quote.total_minor, option.id


@pytest.mark.parametrize("name", BRIEFS)
def test_it_is_the_same_with_every_limit_in_the_search_from_the_start(name: str) -> None:
    brief = demo_brief(name)
    full = _prices(brief, brief.limits.physical)
    assert full.least().price_minor == prices_of(name).least().price_minor


def test_a_limit_that_no_design_found_breaks_stays_out_of_the_search() -> None:
    prices = prices_of("upgrade-around-owned-gear")
    prices.least()
    assert prices.demand.brief.limits.physical < demo_brief("upgrade-around-owned-gear").limits.physical


def test_a_limit_that_a_design_breaks_is_kept_whatever_the_search_was_held_to() -> None:
    """The load of 4 ohm costs another amplifier; asked with nothing held, the answer keeps it all the same."""
    brief = demo_brief("limit-load-of-four-ohm")
    free = replace(brief, limits=replace(brief.limits, physical=brief.limits.physical - {PhysicalLimit.LOAD}))
    kept, given_up = _prices(brief, frozenset()).least(), _prices(free, frozenset()).least()
    assert kept.price_minor == demo_result("limit-load-of-four-ohm").options[0].quote.total_minor
    assert given_up.price_minor is not None
    assert kept.price_minor is not None
    assert given_up.price_minor < kept.price_minor


def test_price_steps_start_from_the_price_of_the_cheapest_option_and_known_options_change_none() -> None:
    name = "limit-load-of-four-ohm"
    brief, result = demo_brief(name), demo_result(name)
    clock = Clock.of(LONG_ENOUGH_S)
    told = price_steps(brief, demo_catalogue(), demo_house(), clock, result.held, result.options, nearest=True)
    alone = price_steps(brief, demo_catalogue(), demo_house(), clock, nearest=True)
    assert told.today.price_minor == result.options[0].quote.total_minor
    assert [[step.answer.price_minor for step in stairs.steps] for stairs in told.staircases] == [
        [step.answer.price_minor for step in stairs.steps] for stairs in alone.staircases
    ]
    spare = next(s for s in told.staircases if (s.axis, s.drives) == (Axis.SPARE, Drives.ANY))
    for step in spare.steps:
        meeting = [o.quote.total_minor for o in result.options if o.measures.spare_outputs >= step.count]
        assert step.answer.price_minor is None or not meeting or step.answer.price_minor <= min(meeting)


def test_stages_and_rooms_keep_a_limit_that_one_of_their_designs_breaks() -> None:
    """Asked with nothing held at first, they come to what they come to with every limit in the model from the start."""
    brief = replace(
        demo_brief("limit-load-of-four-ohm"), later=(LaterStage(name="later", years=2.0, layout="5.1", subwoofers=2),)
    )
    market, clock = (demo_catalogue(), demo_house()), Clock.of(LONG_ENOUGH_S)
    plans = [
        now_and_later(brief, *market, clock, held=held) for held in (frozenset[PhysicalLimit](), brief.limits.physical)
    ]
    today = demo_result("limit-load-of-four-ohm").options[0].quote.total_minor
    for plan in plans:
        assert plan is not None
        assert plan.by_turns is not None
        assert plan.ahead is not None
        assert plan.by_turns.stages[0].price_minor == today
        assert plan.ahead.present_minor <= plan.by_turns.present_minor
    assert len({plan.ahead.present_minor for plan in plans if plan is not None and plan.ahead is not None}) == 1
    rooms = shared_order((brief, brief), *market, clock)
    assert {room.alone.price_minor for room in rooms.rooms} == {today}
    assert 0 < rooms.total_minor <= 2 * today
