"""Ways to drive subwoofers, small enough to count by hand; the verifier agrees with each option."""

from dataclasses import replace

from planner.brief.records import Drive, Measure, Placement
from planner.catalogue.records import CableKind, PortRole
from planner.design import LeadMethod, UnitKind
from planner.layouts import layout
from tests.demand.shop import (
    BLOCK,
    POST,
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
from tests.plan.systems import (
    PRICE_ONLY,
    answer,
    cheapest,
    euros,
    feeding,
    impossible,
    links,
    shop,
    skus,
    splitters,
)

CONTROL = (Measure.PRICE, Measure.INDEPENDENT_SUBWOOFERS)
LOSS = (Measure.PRICE, Measure.SUBWOOFERS_LOST)
NO_SPLIT = frozenset(Drive) - {Drive.SPLIT}
DSP_ALONE = frozenset({Drive.DSP})


# Two bass channels


def test_two_bass_channels_are_two_signals() -> None:
    """Ten loudspeakers of layout F, two subwoofers on each bass channel: 14 outputs; 1000 + 10 × 210 + 4 × 310."""
    labels = [c.label for c in layout("3+7+0").channels if not c.label.startswith("LFE")]
    mains = replace(speakers("Bed", "L", "M+000", 3.0), placements=tuple(Placement(channel=label) for label in labels))
    left, right = subs("S", 3.0, 3.0, name="Left"), subs("S", 3.0, 3.0, name="Right", channel="LFE2")
    sold = shop(14)
    sold.lead("long", 10, XLR_SOCKET, XLR_PINS, 40.0)
    found = cheapest(brief(mains, left, right, measures=PRICE_ONLY), sold)
    assert len(labels) == 10
    assert euros(found) == 1000 + 10 * 210 + 4 * 310
    bass = [c.channel for c in feeding(found, UnitKind.SUBWOOFER)]
    assert sorted(bass) == ["LFE1", "LFE1", "LFE2", "LFE2"]


def test_two_bass_channels_never_share_an_output() -> None:
    """Four subwoofers, three outputs: one pair is split, always of one channel. 1000 + 4 × 310 + 20."""
    both = (subs("S", 3.0, 3.0, name="Left"), subs("S", 3.0, 3.0, name="Right", channel="LFE2"))
    found = cheapest(brief(*both, measures=PRICE_ONLY), splitters(shop(3)))
    assert euros(found) == 2260
    assert found.measures.control_groups == 3
    assert impossible(brief(*both, measures=PRICE_ONLY), splitters(shop(1)))


def test_each_bass_channel_has_to_be_rendered() -> None:
    both = (subs("S", 3.0, name="Left"), subs("S", 3.0, name="Right", channel="LFE2"))
    assert euros(cheapest(brief(*both, measures=PRICE_ONLY), shop(4, rendered_channels=2))) == 1620
    assert impossible(brief(*both, measures=PRICE_ONLY), shop(4, rendered_channels=1)) == (
        "the brief has 2 channels, the bass signal counted once",
        "the processor that renders most, P, renders 1 with all its cards",
    )


# Passive subwoofers


def amplified() -> Shop:
    """Passive subwoofers of 250, a two-channel amplifier of 150, speaker cable at 2 a metre."""
    found = shop(4)
    found.sub("passive", 250, ins("IN", POST))
    found.amplifier("amp", 150, 2, XLR)
    found.cable("twin", 2, CableKind.SPEAKER)
    return found


def test_two_passive_subwoofers_share_an_amplifier_or_each_has_its_own() -> None:
    """1000 + 2 × 250 + 150 + two leads of 10 + twice 4 m of cable at 2; a second amplifier halves the loss."""
    found = answer(brief(subs("passive", 4.0, 4.0), measures=LOSS), amplified())
    assert [(euros(o), o.measures.subs_lost_worst) for o in found] == [(1686, 2), (1836, 1)]
    assert [skus(o, UnitKind.AMPLIFIER) for o in found] == [["amp"], ["amp", "amp"]]
    together, apart = found
    assert {c.source.unit for c in feeding(together, UnitKind.SUBWOOFER)} == {"Amp 1"}
    assert {c.source.unit for c in feeding(apart, UnitKind.SUBWOOFER)} == {"Amp 1", "Amp 2"}


def test_a_channel_of_an_amplifier_goes_from_its_input_to_the_output_of_the_same_number() -> None:
    (found,) = answer(brief(subs("passive", 4.0, 4.0), measures=PRICE_ONLY), amplified())
    into = {c.sink.index: c.source for c in feeding(found, UnitKind.AMPLIFIER)}
    out_of = {c.source.index: c.sink.unit for c in feeding(found, UnitKind.SUBWOOFER)}
    assert sorted(into) == sorted(out_of) == [1, 2]


def test_an_internal_amplifier_spares_the_other_one() -> None:
    """A speaker-level output at the processor: 1000 + 250 + 4 m of cable at 2."""
    sold = amplified()
    sold.processor(
        "receiver", 1000, outs("SPK", POST, 2, PortRole.ASSIGNABLE), rendered_channels=2, processed_outputs=2
    )
    found = cheapest(brief(subs("passive", 4.0), measures=PRICE_ONLY), sold)
    assert euros(found) == 1258
    assert links(found) == {("Processor / SPK 1", "Sub 1 / IN 1")}


# Fixed routing


def fixed_routing(outputs: int) -> Shop:
    """A DSP unit of 100: two inputs, two outputs from each."""
    found = shop(outputs)
    found.dsp("D", 100, ins("IN", XLR, 2), outs("OUT", XLR, 4), outputs_per_input=2)
    return found


def test_fixed_routing_wants_an_input_for_every_two_outputs() -> None:
    """Three subwoofers take two inputs, each from a processor output: 1000 + 3 × 310 + 100 + 2 × 10."""
    asked = brief(subs("S", 3.0, 3.0, 3.0), measures=PRICE_ONLY, limits=limits(drives=DSP_ALONE))
    found = cheapest(asked, fixed_routing(2))
    assert euros(found) == 2050
    assert [c.sink.index for c in feeding(found, UnitKind.DSP)] == [1, 2]
    assert len(found.design.routes) == 3
    for route in found.design.routes:  # output jack k derives from input jack ceil(k / 2)
        assert route.source.index == -(-route.sink.index // 2)
    assert found.measures.independent_subs == 3
    assert impossible(asked, fixed_routing(1))


def test_free_routing_wants_one_input() -> None:
    """The same unit with a matrix: one processor output does. 1000 + 3 × 310 + 100 + 10."""
    sold = shop(1)
    sold.dsp("D", 100, ins("IN", XLR, 2), outs("OUT", XLR, 4))
    asked = brief(subs("S", 3.0, 3.0, 3.0), measures=PRICE_ONLY, limits=limits(drives=DSP_ALONE))
    assert euros(cheapest(asked, sold)) == 2040


# Mirrored outputs


def mirrored() -> Shop:
    """A receiver with two subwoofer jacks that carry one signal, and RCA leads of 10."""
    found = Shop()
    found.processor("R", 800, outs("SUB", RCA, 2, PortRole.MIRRORED_SUB), outs("A", XLR, 2, PortRole.ASSIGNABLE))
    found.sub("S", 300, ins("IN", RCA))
    found.speaker("L", 200, ins("IN", XLR))
    found.lead("V", 10, RCA_PLUG, RCA_PLUG, 10.0, balanced=False)
    found.lead("W", 10, XLR_SOCKET, XLR_PINS, 10.0)
    return found


def test_mirrored_jacks_are_one_control_point() -> None:
    """Both subwoofers on the two jacks: 800 + 2 × 310, nothing independent, one group; one alone is independent."""
    found = cheapest(brief(subs("S", 3.0, 3.0), measures=PRICE_ONLY), mirrored())
    assert euros(found) == 1420
    assert (found.measures.independent_subs, found.measures.control_groups) == (0, 1)
    assert found.drives[Drive.SPLIT] == 2
    alone = cheapest(brief(subs("S", 3.0), measures=PRICE_ONLY), mirrored())
    assert (alone.measures.independent_subs, alone.drives[Drive.DEDICATED]) == (1, 1)


def test_mirrored_jacks_count_as_a_split() -> None:
    two = subs("S", 3.0, 3.0)
    assert impossible(brief(two, limits=limits(drives=NO_SPLIT)), mirrored())
    assert impossible(brief(two, limits=limits(largest_split=1)), mirrored())


# A count range, and none at all


def test_of_one_to_three_subwoofers_the_first_ones_stand() -> None:
    """1000 and 310 for each; more of them are worth more independent ones."""
    found = answer(brief(subs("S", 3.0, 4.0, 5.0, least=1), measures=CONTROL), shop(4))
    assert [(euros(o), o.measures.independent_subs) for o in found] == [(1310, 1), (1620, 2), (1930, 3)]
    for number, option in enumerate(found, start=1):
        standing = [unit.member for unit in option.design.units if unit.kind is UnitKind.SUBWOOFER]
        assert standing == [("Subs", index) for index in range(number)]


def test_without_subwoofers_nothing_about_bass_is_measured() -> None:
    (found,) = answer(brief(speakers("Pair", "L", "M+030 M-030", 3.0, 3.0), measures=CONTROL), shop(2))
    measures = found.measures
    assert euros(found) == 1420
    assert (measures.independent_subs, measures.control_groups, measures.subs_lost_worst, measures.joints) == (
        0,
        0,
        0,
        0,
    )


# Daisy chains


def test_a_chain_saves_outputs_and_loses_together() -> None:
    """Three subwoofers with links on one output: 1000 + 3 × 310; on three outputs the same price, so losses decide."""
    sold = shop(3)
    sold.sub("linked", 300, ins("IN", XLR), outs("LINK", XLR, 1, PortRole.LINK))
    chained = answer(brief(subs("linked", 3.0, 4.0, 5.0), measures=LOSS), sold)
    assert [(euros(o), o.measures.subs_lost_worst) for o in chained] == [(1930, 1)]
    one_output = shop(1)
    one_output.sub("linked", 300, ins("IN", XLR), outs("LINK", XLR, 1, PortRole.LINK))
    found = cheapest(brief(subs("linked", 3.0, 4.0, 5.0), measures=LOSS), one_output)
    assert euros(found) == 1930
    assert found.measures.subs_lost_worst == 3
    assert (found.drives[Drive.DEDICATED], found.drives[Drive.DAISY_CHAINED]) == (1, 2)


# Cut leads


def test_one_lead_cut_in_half_serves_two_terminal_blocks() -> None:
    """Into the block by the female half, out of it by the male one: one lead of 12 instead of two of anything."""
    sold = Shop()
    sold.processor("P", 1000, outs("A", XLR, 1, PortRole.ASSIGNABLE))
    sold.dsp("D", 100, ins("IN", BLOCK, 1), outs("OUT", BLOCK, 2))
    sold.sub("S", 300, ins("IN", XLR))
    sold.lead("long", 12, XLR_SOCKET, XLR_PINS, 10.0)
    asked = brief(subs("S", 3.0), measures=PRICE_ONLY, limits=limits(drives=DSP_ALONE))
    found = cheapest(asked, sold)
    assert euros(found) == 1412
    leads = [c.lead for c in found.design.connections]
    assert sorted((lead.method, lead.cut_end) for lead in leads) == [(LeadMethod.CUT, "a"), (LeadMethod.CUT, "b")]
    two = cheapest(replace(asked, subwoofers=(subs("S", 3.0, 3.0),)), sold)
    assert euros(two) == 1000 + 100 + 600 + 2 * 12  # two male tails take two leads; the female half of one is over
