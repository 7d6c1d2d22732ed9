"""Feeds that nothing distinguishes are one class, and what one costs more than another is noted."""

from planner.brief.records import Brief, Drive
from planner.catalogue.records import CableKind, PortRole
from planner.demand.build import Demand, build_demand
from planner.demand.feeds import FeedClass, most_units
from tests.demand.shop import (
    HOUSE,
    POST,
    XLR,
    XLR_PINS,
    XLR_SOCKET,
    Shop,
    brief,
    ins,
    limits,
    outs,
    speakers,
    subs,
)

UNCHAINED = limits(drives=frozenset(Drive) - {Drive.DAISY_CHAINED})


def by_the_metre() -> Shop:
    """Leads are made up: 1 a metre, and 2 for the connectors."""
    found = Shop()
    found.processor("P", 1000, outs("A", XLR, 8, PortRole.ASSIGNABLE))
    found.speaker("L", 200, ins("IN", XLR))
    found.speaker("two-way", 400, ins("LOW", POST), ins("HIGH", POST), ways=2)
    found.sub("S", 300, ins("IN", XLR))
    found.sub("linked", 300, ins("IN", XLR), outs("LINK", XLR, 1, PortRole.LINK))
    found.amplifier("amp", 100, 4, XLR)
    found.cable("B", 1, CableKind.LINE_BALANCED)
    found.cable("twin", 1, CableKind.SPEAKER)
    found.part("xf", 1, XLR_SOCKET)
    found.part("xm", 1, XLR_PINS)
    return found


def demand(asked: Brief, sold: Shop) -> Demand:
    return build_demand(asked, sold.catalogue(), HOUSE)


def merged(asked: Brief, sold: Shop) -> list[tuple[tuple[int, ...], tuple[int, ...]]]:
    """(members, what each costs more than the first in euros) of every class."""
    return [(f.members, tuple(extra // 100 for extra in f.extra_minor)) for f in feeds(asked, sold)]


def feeds(asked: Brief, sold: Shop) -> tuple[FeedClass, ...]:
    return demand(asked, sold).feeds


def test_subwoofers_as_far_away_are_one_class() -> None:
    assert merged(brief(subs("S", 3.0, 3.0, 3.0)), by_the_metre()) == [((0, 1, 2), (0, 0, 0))]


def test_those_farther_away_are_too_where_every_lead_is_as_much_dearer() -> None:
    """By hand: 3 m, 5 m and 4 m of cable at 1."""
    assert merged(brief(subs("S", 3.0, 5.0, 4.0), limits=UNCHAINED), by_the_metre()) == [((0, 1, 2), (0, 2, 1))]


def test_a_subwoofer_that_may_be_chained_keeps_its_own_price() -> None:
    """A chained one takes no lead from the rack, so what it costs more cannot be counted for every feed alike."""
    assert merged(brief(subs("linked", 3.0, 5.0)), by_the_metre()) == [((0,), (0,)), ((1,), (0,))]
    assert merged(brief(subs("linked", 3.0, 5.0), limits=UNCHAINED), by_the_metre()) == [((0, 1), (0, 2))]


def test_one_that_no_link_output_can_feed_is_merged_by_what_it_costs_more() -> None:
    """Daisy chains are allowed, but S has no link output; only that of another set on its channel could feed it."""
    assert merged(brief(subs("S", 3.0, 5.0)), by_the_metre()) == [((0, 1), (0, 2))]
    beside = (subs("S", 3.0, 5.0), subs("linked", 3.0, name="Others"))
    assert merged(brief(*beside), by_the_metre()) == [((0,), (0,)), ((1,), (0,)), ((0,), (0,))]


def test_no_more_dsp_units_are_numbered_than_loads_that_one_may_serve() -> None:
    """Two subwoofers, and two ways of one loudspeaker that leave one unit together; a whole loudspeaker takes none."""
    sets = (
        speakers("Centre", "two-way", "M+000", 3.0),
        speakers("Pair", "L", "M+030 M-030", 3.0, 3.0),
        subs("S", 3.0, 3.0),
    )
    found = feeds(brief(*sets), by_the_metre())
    assert most_units(found, 8) == 3
    assert most_units(found, 2) == 2


def test_where_a_lead_is_still_a_choice_only_the_same_length_is_alike() -> None:
    """A cheap lead of which there is one: who gets it is for the search."""
    sold = by_the_metre()
    sold.lead("rare", 2, XLR_SOCKET, XLR_PINS, 10.0, stock=1)
    assert merged(brief(subs("S", 3.0, 5.0, 3.0)), sold) == [((0, 2), (0, 0)), ((1,), (0,))]


def test_loudspeakers_of_different_channels_are_alike_where_the_same_outputs_may_carry_them() -> None:
    pair = speakers("Pair", "L", "M+030 M-030", 3.0, 4.0)
    assert merged(brief(pair), by_the_metre()) == [((0, 1), (0, 1))]
    sold = by_the_metre()
    sold.processor(
        "Q", 900, outs("MAIN", XLR, 1, PortRole.FIXED_MAIN, ("M+030",)), outs("A", XLR, 1, PortRole.ASSIGNABLE)
    )
    assert merged(brief(pair), sold) == [((0,), (0,)), ((1,), (0,))]


def test_a_channel_is_shared_where_several_feeds_receive_it_and_always_in_the_bass() -> None:
    sets = (
        speakers("Pair", "L", "M+030 M-030", 3.0, 3.0),
        speakers("Side", "L", "M+090 M+090", 3.0, 3.0),
        subs("S", 3.0),
    )
    channels = {f.set_name: f.channel for f in feeds(brief(*sets), by_the_metre())}
    assert channels == {"Pair": None, "Side": "M+090", "Subs": "LFE1"}


def test_each_way_of_a_crossed_loudspeaker_is_a_feed_and_the_first_bears_what_it_costs_more() -> None:
    """By hand: 5 m instead of 3 m of cable at 1, for both ways: 4 more for the second loudspeaker."""
    found = feeds(brief(speakers("Fronts", "two-way", "M+030 M-030", 3.0, 5.0)), by_the_metre())
    assert [(f.way, f.ways, f.family) for f in found] == [(1, 2, found[0].family), (2, 2, found[0].family)]
    assert [f.extra_minor for f in found] == [(0, 400), (0, 0)]
