"""Which physical jack each signal takes: fixed ones their own, others in a fixed order."""

from collections import Counter

import pytest

from planner.brief.records import Drive
from planner.catalogue.records import PortRole
from planner.design import UnitKind
from planner.options import Option
from planner.plan import options
from tests.demand.random_shops import problem
from tests.demand.shop import (
    BLOCK,
    HOUSE,
    RCA,
    RCA_PLUG,
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
from tests.plan.systems import PRICE_ONLY, cheapest, feeding, shop


def sources(option: Option) -> dict[str, str]:
    """The output jack that feeds each channel, where each channel has one feed."""
    return {c.channel: str(c.source) for c in option.design.connections}


def test_a_fixed_jack_is_that_of_its_channel_whatever_else_the_brief_has() -> None:
    sold = Shop()
    channels = ("M+030", "M-030", "M+000", "M+110", "M-110")
    sold.processor("P", 1000, outs("MAIN", XLR, 5, PortRole.FIXED_MAIN, channels))
    sold.speaker("L", 200, ins("IN", XLR))
    sold.lead("W", 10, XLR_SOCKET, XLR_PINS, 10.0)
    found = cheapest(brief(speakers("Three", "L", "M-110 M+000 M-030", 3.0, 3.0, 3.0), measures=PRICE_ONLY), sold)
    assert sources(found) == {
        "M-110": "Processor / MAIN 5", "M+000": "Processor / MAIN 3", "M-030": "Processor / MAIN 2",
    }  # fmt: skip


def test_jacks_of_like_groups_are_taken_group_by_group_and_cards_after_the_processor() -> None:
    sold = Shop()
    groups = (outs("A", XLR, 1, PortRole.ASSIGNABLE), outs("B", XLR, 2, PortRole.ASSIGNABLE))
    sold.processor("P", 1000, *groups, card_slots=2)
    sold.card("C", 100, outs("X", XLR, 1, PortRole.ASSIGNABLE), fits=("P",))
    sold.speaker("L", 200, ins("IN", XLR))
    sold.lead("W", 10, XLR_SOCKET, XLR_PINS, 10.0)
    five = speakers("Five", "L", "M+030 M-030 M+000 M+110 M-110", 3.0, 3.0, 3.0, 3.0, 3.0)
    found = cheapest(brief(five, measures=PRICE_ONLY), sold)
    assert [str(c.source) for c in found.design.connections] == [
        "Processor / A 1", "Processor / B 1", "Processor / B 2", "Card 1 / X 1", "Card 2 / X 1",
    ]  # fmt: skip
    hosts = {unit.id: unit.host for unit in found.design.units if unit.kind is UnitKind.CARD}
    assert hosts == {"Card 1": "Processor", "Card 2": "Processor"}


def test_a_lone_subwoofer_takes_the_first_of_mirrored_jacks_and_two_take_both() -> None:
    sold = Shop()
    sold.processor("R", 800, outs("SUB", RCA, 2, PortRole.MIRRORED_SUB))
    sold.sub("S", 300, ins("IN", RCA))
    sold.lead("W", 10, RCA_PLUG, RCA_PLUG, 10.0, balanced=False)
    for count, expected in ((1, ["SUB 1"]), (2, ["SUB 1", "SUB 2"])):
        found = cheapest(brief(subs("S", *[3.0] * count), measures=PRICE_ONLY), sold)
        assert [str(c.source) for c in found.design.connections] == [f"Processor / {jack}" for jack in expected]


def test_of_two_inputs_the_one_with_the_cheaper_lead_is_used() -> None:
    """An XLR lead is 10, an RCA lead 4: the processor has an output of each."""
    sold = Shop()
    sold.processor("P", 1000, outs("A", XLR, 1, PortRole.ASSIGNABLE), outs("B", RCA, 1, PortRole.ASSIGNABLE))
    sold.sub("S", 300, ins("X", XLR), ins("R", RCA))
    sold.lead("WX", 10, XLR_SOCKET, XLR_PINS, 10.0)
    sold.lead("WR", 4, RCA_PLUG, RCA_PLUG, 10.0, balanced=False)
    found = cheapest(brief(subs("S", 3.0), measures=PRICE_ONLY), sold)
    (link,) = found.design.connections
    assert (str(link.source), str(link.sink)) == ("Processor / B 1", "Sub 1 / R 1")


def test_each_output_of_a_dsp_unit_derives_from_the_input_of_its_signal() -> None:
    """Two bass channels into one unit: two inputs, and every output from that of its own channel."""
    sold = shop(2)
    sold.dsp("D", 100, ins("IN", XLR, 2), outs("OUT", XLR, 4))
    both = (subs("S", 3.0, 3.0, name="Left"), subs("S", 3.0, 3.0, name="Right", channel="LFE2"))
    found = cheapest(brief(*both, measures=PRICE_ONLY, limits=limits(drives=frozenset({Drive.DSP}))), sold)
    into = {c.sink: c.channel for c in feeding(found, UnitKind.DSP)}
    out_of = {c.source: c.channel for c in feeding(found, UnitKind.SUBWOOFER)}
    assert sorted(into.values()) == ["LFE1", "LFE2"]
    assert {route.sink for route in found.design.routes} == set(out_of)
    assert all(into[route.source] == out_of[route.sink] for route in found.design.routes)


def test_two_dsp_units_are_numbered_and_each_has_an_input_of_its_own() -> None:
    sold = shop(2)
    sold.dsp("D", 100, ins("IN", BLOCK, 1), outs("OUT", BLOCK, 2))
    sold.lead("tail", 6, XLR_SOCKET, XLR_PINS, 20.0)
    asked = brief(subs("S", 3.0, 3.0, 3.0), measures=PRICE_ONLY, limits=limits(drives=frozenset({Drive.DSP})))
    found = cheapest(asked, sold)
    assert [unit.id for unit in found.design.units if unit.kind is UnitKind.DSP] == ["DSP 1", "DSP 2"]
    assert sorted(c.sink.unit for c in feeding(found, UnitKind.DSP)) == ["DSP 1", "DSP 2"]
    for route in found.design.routes:
        assert route.source.unit == route.sink.unit


@pytest.mark.parametrize("seed", range(20, 30))
def test_no_jack_takes_two_plugs_and_every_jack_is_there(seed: int) -> None:
    """Rules R2 and R4, counted again on random systems."""
    found = problem(seed)
    for option in options(found.brief, found.catalogue, HOUSE).options:
        sku = {unit.id: unit.sku for unit in option.design.units}
        splitters = {unit.id for unit in option.design.units if unit.kind is UnitKind.SPLITTER}
        legs = {splitter.sku: splitter.legs for splitter in found.catalogue.splitters}
        taken = Counter(jack for c in option.design.connections for jack in (c.source, c.sink))
        assert set(taken.values()) == {1}
        for jack in taken:
            if jack.unit in splitters:
                assert 1 <= jack.index <= (legs[sku[jack.unit]] if jack.group == "LEG" else 1)
            else:
                groups = {group.name: group for group in found.catalogue.ports[sku[jack.unit]]}
                assert 1 <= jack.index <= groups[jack.group].count
