"""Which amplifier channel each passive feed takes."""

from collections import Counter

import pytest

from planner.brief.records import Measure
from planner.catalogue.records import Amplifier, CableKind, PortRole
from planner.design import UnitKind
from planner.options import Option
from tests.demand.shop import POST, RCA, RCA_PLUG, XLR, XLR_PINS, XLR_SOCKET, Shop, brief, ins, outs, speakers, subs
from tests.plan.systems import answer, euros, feeding

LOSS = (Measure.PRICE, Measure.SUBWOOFERS_LOST)


def shop(channels: int) -> Shop:
    """Passive subwoofers of 250 and loudspeakers of 200, an amplifier of 100, cables of 3."""
    found = Shop()
    found.processor("P", 1000, outs("A", XLR, 8, PortRole.ASSIGNABLE))
    found.amplifier("amp", 100, channels, XLR)
    found.sub("S", 250, ins("IN", POST))
    found.speaker("L", 200, ins("IN", POST))
    found.cable("twin", 1, CableKind.SPEAKER)
    found.lead("W", 10, XLR_SOCKET, XLR_PINS, 1.0)
    return found


def by_amplifier(option: Option, kind: UnitKind) -> list[int]:
    """How many feeds of a kind hang on each amplifier, the most first."""
    counts = Counter(c.source.unit for c in feeding(option, kind))
    return sorted(counts.values(), reverse=True)


def test_subwoofers_spread_over_as_many_amplifiers_as_the_loss_allows() -> None:
    """By hand: 1000 + 4 × (250 + 10 + 3) = 2052, and 100 an amplifier."""
    found = answer(brief(subs("S", *[3.0] * 4), measures=LOSS), shop(4))
    assert [(euros(o), o.measures.subs_lost_worst) for o in found] == [(2152, 4), (2252, 2), (2452, 1)]
    assert [by_amplifier(o, UnitKind.SUBWOOFER) for o in found] == [[4], [2, 2], [1, 1, 1, 1]]


def test_loudspeakers_fill_the_channels_that_subwoofers_leave() -> None:
    """Two subwoofers apart and four loudspeakers fill two amplifiers of three channels."""
    four = speakers("Bed", "L", "M+030 M-030 M+110 M-110", 3.0, 3.0, 3.0, 3.0)
    found = answer(brief(four, subs("S", 3.0, 3.0), measures=LOSS), shop(3))
    assert [(euros(o), o.measures.subs_lost_worst) for o in found] == [(1000 + 2 * 263 + 4 * 213 + 200, 1)]
    assert by_amplifier(found[0], UnitKind.SUBWOOFER) == [1, 1]
    assert by_amplifier(found[0], UnitKind.LOUDSPEAKER) == [2, 2]


@pytest.mark.parametrize("channels", [1, 2, 3])
def test_a_channel_has_one_number_at_its_input_and_its_output(channels: int) -> None:
    three = speakers("Fronts", "L", "M+030 M-030 M+000", 3.0, 3.0, 3.0)
    (found,) = answer(brief(three, measures=(Measure.PRICE,)), shop(channels))
    into = {(c.sink.unit, c.sink.index): c.channel for c in feeding(found, UnitKind.AMPLIFIER)}
    out_of = {(c.source.unit, c.source.index): c.channel for c in feeding(found, UnitKind.LOUDSPEAKER)}
    assert into == out_of
    units = {unit.id for unit in found.design.units if unit.kind is UnitKind.AMPLIFIER}
    assert {name for name, _ in into} == units  # none stands idle
    assert units == {f"Amp {number}" for number in range(1, -(-3 // channels) + 1)}


def test_each_feed_enters_by_the_input_that_its_lead_fits() -> None:
    """One amplifier with two groups of inputs: an XLR and an RCA source use one each."""
    sold = Shop()
    sold.processor("P", 1000, outs("X", XLR, 1, PortRole.ASSIGNABLE), outs("R", RCA, 1, PortRole.ASSIGNABLE))
    found = Amplifier(sku="both", name="both", channels=2, power_8ohm_w=100.0)
    sold.sell(found, 100, ins("BAL", XLR, 2), ins("UNBAL", RCA, 2), outs("OUT", POST, 2))
    sold.speaker("L", 200, ins("IN", POST))
    sold.cable("twin", 1, CableKind.SPEAKER)
    sold.lead("WX", 10, XLR_SOCKET, XLR_PINS, 1.0)
    sold.lead("WR", 10, RCA_PLUG, RCA_PLUG, 1.0, balanced=False)
    (option,) = answer(brief(speakers("Pair", "L", "M+030 M-030", 3.0, 3.0), measures=(Measure.PRICE,)), sold)
    entries = [(c.source.group, c.sink.group, c.sink.index) for c in feeding(option, UnitKind.AMPLIFIER)]
    assert sorted((source, sink) for source, sink, _ in entries) == [("R", "UNBAL"), ("X", "BAL")]
    assert sorted(index for *_, index in entries) == [1, 2]
