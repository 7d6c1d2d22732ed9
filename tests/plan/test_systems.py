"""Loudspeakers, cards, leads and currencies, small enough to count by hand; the verifier agrees."""

from dataclasses import replace
from decimal import Decimal

import pytest

from planner.brief.records import Measure, Owned
from planner.catalogue.records import CableKind, PortRole
from planner.design import UnitKind
from planner.house import Rate
from planner.plan import options
from tests.demand.shop import (
    CROSSING,
    DAY,
    HOUSE,
    POST,
    RCA,
    RCA_PLUG,
    RCA_SOCKET,
    XLR,
    XLR_PINS,
    XLR_SOCKET,
    Shop,
    brief,
    ins,
    outs,
    speakers,
    subs,
)
from tests.plan.systems import (
    PRICE_ONLY,
    answer,
    cheapest,
    euros,
    feeding,
    impossible,
    links,
    prices,
    shop,
    skus,
    splitters,
)

# An array: one channel, two loudspeakers


def test_an_array_takes_two_outputs_or_a_split_of_one() -> None:
    """1000 + 2 × 210, on two outputs; with one output 20 more for the splitter. One channel is rendered."""
    array = brief(speakers("Side", "L", "M+090 M+090", 3.0, 4.0), measures=PRICE_ONLY)
    assert euros(cheapest(array, splitters(shop(2, rendered_channels=1)))) == 1420
    split = cheapest(array, splitters(shop(1, rendered_channels=1)))
    assert euros(split) == 1440
    assert links(split) == {
        ("Processor / A 1", "Splitter 1 / IN 1"),
        ("Splitter 1 / LEG 1", "M+090 / IN 1"),
        ("Splitter 1 / LEG 2", "M+090 2 / IN 1"),
    }
    assert impossible(array, shop(1))


def test_an_array_may_pass_a_dsp_unit_and_a_lone_loudspeaker_may_not() -> None:
    """One output left for two loudspeakers, a DSP unit of 100 with a lead of 10 to it: 1000 + 2 × 210 + 110."""
    sold = shop(1)
    sold.dsp("D", 100, ins("IN", XLR, 1), outs("OUT", XLR, 2))
    array = brief(speakers("Side", "L", "M+090 M+090", 3.0, 4.0), measures=PRICE_ONLY)
    assert euros(cheapest(array, sold)) == 1530
    assert impossible(brief(speakers("Pair", "L", "M+090 M-090", 3.0, 4.0), measures=PRICE_ONLY), sold)


# Crossed fronts


def crossed(controls_cross: bool) -> Shop:
    """Two-way loudspeakers without a crossover of their own, 400; amplifiers of four channels, 300."""
    found = Shop()
    terms = {"controls": CROSSING} if controls_cross else {}
    found.processor("P", 1000, outs("A", XLR, 4, PortRole.ASSIGNABLE), **terms)
    found.speaker("two-way", 400, ins("LOW", POST), ins("HIGH", POST), ways=2)
    found.amplifier("amp", 300, 4, XLR)
    found.cable("twin", 2, CableKind.SPEAKER)
    found.lead("W", 10, XLR_SOCKET, XLR_PINS, 10.0)
    return found


def test_a_processor_that_crosses_gives_each_way_an_output() -> None:
    """1000 + 2 × 400 + 300 + four leads of 10 + four cables of 3 m at 2."""
    found = cheapest(brief(speakers("Fronts", "two-way", "M+030 M-030", 3.0, 3.0), measures=PRICE_ONLY), crossed(True))
    assert euros(found) == 1000 + 800 + 300 + 40 + 24
    ends = {(c.sink.unit, c.sink.group): (c.channel, c.way) for c in feeding(found, UnitKind.LOUDSPEAKER)}
    assert ends == {
        ("M+030", "LOW"): ("M+030", 1), ("M+030", "HIGH"): ("M+030", 2),
        ("M-030", "LOW"): ("M-030", 1), ("M-030", "HIGH"): ("M-030", 2),
    }  # fmt: skip


def test_a_dsp_unit_takes_the_whole_channel_and_derives_the_ways() -> None:
    """The processor cannot cross: a DSP unit of 500, two leads of 10 into it. All ways of a loudspeaker leave it."""
    fronts = brief(speakers("Fronts", "two-way", "M+030 M-030", 3.0, 3.0), measures=PRICE_ONLY)
    assert impossible(fronts, crossed(False))
    sold = crossed(False)
    sold.dsp("D", 500, ins("IN", XLR, 2), outs("OUT", XLR, 4), controls=CROSSING)
    found = cheapest(fronts, sold)
    assert euros(found) == 1000 + 800 + 300 + 40 + 24 + 500 + 20
    assert all(c.way is None for c in feeding(found, UnitKind.DSP))
    assert {(c.channel, c.way) for c in feeding(found, UnitKind.AMPLIFIER)} == {
        ("M+030", 1), ("M+030", 2), ("M-030", 1), ("M-030", 2),
    }  # fmt: skip


def test_three_ways_need_a_device_that_makes_three() -> None:
    sold = crossed(True)
    sold.speaker("three-way", 500, ins("LOW", POST), ins("MID", POST), ins("HIGH", POST), ways=3)
    front = brief(speakers("Front", "three-way", "M+000", 3.0), measures=PRICE_ONLY)
    assert impossible(front, sold)
    sold.processor("P3", 2000, outs("A", XLR, 3, PortRole.ASSIGNABLE), controls=replace(CROSSING, crossover_ways=3))
    assert skus(cheapest(front, sold), UnitKind.PROCESSOR) == ["P3"]


# Cards


def test_a_card_is_bought_where_outputs_are_wanting() -> None:
    """Two outputs, a card of 150 with two more: four loudspeakers for 1000 + 150 + 4 × 210."""
    sold = shop(2, card_slots=1)
    sold.card("C", 150, outs("X", XLR, 2, PortRole.ASSIGNABLE), fits=("P",))
    four = speakers("Bed", "L", "M+030 M-030 M+110 M-110", 3.0, 3.0, 3.0, 3.0)
    found = cheapest(brief(four, measures=PRICE_ONLY), sold)
    assert euros(found) == 1990
    assert skus(found, UnitKind.CARD) == ["C"]
    assert sorted(str(c.source) for c in found.design.connections) == [
        "Card 1 / X 1", "Card 1 / X 2", "Processor / A 1", "Processor / A 2",
    ]  # fmt: skip
    pair = speakers("Pair", "L", "M+030 M-030", 3.0, 3.0)
    assert skus(cheapest(brief(pair, measures=PRICE_ONLY), sold), UnitKind.CARD) == []


# Currencies


@pytest.mark.parametrize(("currency", "rate", "expected"), [("JPY", "162.5", 263_250), ("KWD", "0.3325", 538_650)])
def test_prices_are_whole_minor_units_of_the_quoting_currency(currency: str, rate: str, expected: int) -> None:
    """By hand: 162 500 + 2 × (48 750 + 1 625) yen; 332.500 + 2 × (99.750 + 3.325) dinar, of a thousand fils each."""
    house = replace(HOUSE, rates={currency: Rate(per_house_unit=Decimal(rate), dated=DAY)})
    asked = brief(subs("S", 3.0, 3.0), measures=PRICE_ONLY, currency=currency)
    result = options(asked, shop(2).catalogue(), house)
    assert (result.currency, result.options[0].quote.currency) == (currency, currency)
    assert result.options[0].measures.price_minor == expected


# Joints


def test_joints_are_weighed_where_the_brief_weighs_them() -> None:
    """A lead of two contacts each, or an adapted one of three that is cheaper: 1000 + 300 + 10, or 4 + 3."""
    sold = Shop()
    sold.processor("P", 1000, outs("A", XLR, 1, PortRole.ASSIGNABLE))
    sold.sub("S", 300, ins("IN", RCA))
    sold.lead("straight", 10, XLR_SOCKET, RCA_PLUG, 10.0)
    sold.lead("rca", 4, RCA_PLUG, RCA_PLUG, 10.0, balanced=False)
    sold.adapter("turn", 3, XLR_SOCKET, RCA_SOCKET)
    asked = subs("S", 3.0)
    weighing = answer(brief(asked, measures=(Measure.PRICE, Measure.JOINTS)), sold)
    assert [(euros(o), o.measures.joints) for o in weighing] == [(1307, 3), (1310, 2)]
    assert prices(answer(brief(asked, measures=PRICE_ONLY), sold)) == [1307]


# Owned gear


def test_gear_that_must_be_used_is_and_costs_nothing() -> None:
    sold = shop(4)
    sold.sub("old", None, ins("IN", XLR))
    asked = replace(
        brief(replace(subs("S", 3.0, 3.0), candidates=()), measures=PRICE_ONLY),
        owned=(Owned(sku="old", count=2, must_use=True), Owned(sku="W", count=1)),
    )
    found = cheapest(asked, sold)
    assert euros(found) == 1010  # the processor, and the second lead
    lines = {(p.sku, p.supplier): (p.count, p.unit_price_minor) for p in found.design.purchases}
    assert lines == {
        ("P", "Depot"): (1, 100000),
        ("W", "Depot"): (1, 1000),
        ("W", "owned"): (1, 0),
        ("old", "owned"): (2, 0),
    }
