"""Which chains a design has, and what each passes on its way."""

import math
from collections.abc import Callable
from dataclasses import replace

import pytest

from planner.brief.records import Brief
from planner.catalogue.records import Card, OutputStage
from planner.design import Design, LeadBuild, LeadMethod, LeadPart, Unit, UnitKind
from planner.physics.line_chain import line_chains
from planner.physics.stages import LineChain
from tests.checks import good_designs
from tests.checks.gear import CATALOGUE
from tests.physics.rig import In, Out, Rig

Drawn = Callable[[], tuple[Design, Brief]]


def route_words(chain: LineChain) -> str:
    """A chain as its jacks in the order of flow."""
    jacks = [jack for hop in chain.hops for jack in (hop.driver.jack, hop.taken.receiver.jack)]
    return " > ".join(f"{jack.unit}/{jack.group}/{jack.index}" for jack in jacks)


def chains_of(drawn: Drawn) -> list[str]:
    design, _ = drawn()
    return [f"{chain.channel}: {route_words(chain)}" for chain in line_chains(design, CATALOGUE)]


FRONT = [
    "M+030: Proc/MAIN/1 > Left/XLR/1",
    "M-030: Proc/MAIN/2 > Right/XLR/1",
    "M+000: Proc/MAIN/3 > Centre/XLR/1",
]


def test_dedicated_outputs_are_one_hop_each() -> None:
    assert chains_of(good_designs.dedicated) == [
        *FRONT,
        "LFE1: Proc/SUB/1 > Sub 1/RCA/1",
        "LFE1: Proc/AUX/1 > Sub 2/XLR/1",
    ]


def test_a_dsp_unit_makes_two_hops_for_each_of_its_outputs() -> None:
    assert chains_of(good_designs.by_dsp_unit) == [
        *FRONT,
        *(f"LFE1: Proc/AUX/1 > DSP 1/IN/1 > DSP 1/OUT/{n} > Sub {n}/XLR/1" for n in (1, 2, 3, 4)),
    ]


def test_a_split_is_one_hop_with_every_input_on_it() -> None:
    design, _ = good_designs.split()
    chains = line_chains(design, CATALOGUE)[3:]
    assert [route_words(chain) for chain in chains] == [f"Proc/SUB/1 > Sub {n}/RCA/1" for n in (1, 2, 3)]
    for chain in chains:
        assert [str(branch.receiver.jack) for branch in chain.hops[0].branches] == [
            "Sub 1 / RCA 1",
            "Sub 2 / RCA 1",
            "Sub 3 / RCA 1",
        ]
    # By one splitter, then by two; the leads of 5 m and 10 m hang there as sold.
    assert [[run.length_m for run in chain.hops[0].taken.runs] for chain in chains] == [
        [0.0, 5.0],
        [0.0, 0.0, 5.0],
        [0.0, 0.0, 10.0],
    ]


def test_a_link_with_electronics_of_its_own_drives_what_follows() -> None:
    rig = Rig()
    rig.processor(Out())
    for number in (1, 2, 3):
        rig.sub(f"Sub {number}", In(), Out(ohm=75.0, max_dbu=14.0))
    rig.wire("Proc/OUT1/1", "Sub 1/IN/1")
    rig.wire("Sub 1/LINK/1", "Sub 2/IN/1")
    rig.wire("Sub 2/LINK/1", "Sub 3/IN/1")
    chains = line_chains(rig.design(), rig.catalogue())
    assert [route_words(chain) for chain in chains] == [
        "Proc/OUT1/1 > Sub 1/IN/1",
        "Proc/OUT1/1 > Sub 1/IN/1 > Sub 1/LINK/1 > Sub 2/IN/1",
        "Proc/OUT1/1 > Sub 1/IN/1 > Sub 1/LINK/1 > Sub 2/IN/1 > Sub 2/LINK/1 > Sub 3/IN/1",
    ]
    assert all(len(hop.branches) == 1 for chain in chains for hop in chain.hops)


def test_a_link_of_which_nothing_is_known_is_wired_straight_through() -> None:
    """The catalogue of the verifier's tests says nothing of its link outputs."""
    assert chains_of(good_designs.daisy_chain)[3:] == [
        f"LFE1: Proc/AUX/1 > Sub {number}/XLR/1" for number in (1, 2, 3)
    ]  # fmt: skip
    design, _ = good_designs.daisy_chain()
    chains = line_chains(design, CATALOGUE)[3:]
    assert [len(chain.hops[0].branches) for chain in chains] == [3, 3, 3]
    assert [[str(link) for link in chain.hops[0].taken.links] for chain in chains] == [
        [],
        ["Sub 1 / LINK 1"],
        ["Sub 1 / LINK 1", "Sub 2 / LINK 1"],
    ]


def amplified(way: int | None, ways: int) -> Rig:
    rig = Rig()
    rig.processor(Out())
    rig.amplifier("Amp", In(), sensitivity_v=1.4)
    rig.passive("Left", ways=ways)
    rig.wire("Proc/OUT1/1", "Amp/IN/2", way=way)
    rig.wire("Amp/POST/2", f"Left/POST{way or 1}/1", way=way)
    return rig


def test_a_passive_loudspeaker_has_the_chain_to_its_amplifier_channel() -> None:
    rig = amplified(None, 1)
    (chain,) = line_chains(rig.design(), rig.catalogue())
    assert route_words(chain) == "Proc/OUT1/1 > Amp/IN/2"
    assert (str(chain.feed), chain.sink.full_output_v, chain.treble) == ("Left / POST1 1", 1.4, True)


@pytest.mark.parametrize(("way", "treble"), [(1, False), (2, False), (3, True)])
def test_only_the_highest_way_takes_treble(way: int, treble: bool) -> None:
    rig = amplified(way, 3)
    (chain,) = line_chains(rig.design(), rig.catalogue())
    assert (chain.way, chain.treble) == (way, treble)


def test_a_subwoofer_takes_no_treble() -> None:
    assert not any(chain.treble for chain in line_chains(good_designs.split()[0], CATALOGUE)[3:])


def test_an_amplifier_channel_that_drives_nothing_is_no_feed() -> None:
    rig = amplified(None, 1)
    rig.wire("Proc/OUT1/2", "Amp/IN/3")
    assert len(line_chains(rig.design(), rig.catalogue())) == 1


def test_the_speaker_outputs_of_a_receiver_are_no_line_chains() -> None:
    design, _ = good_designs.receiver()
    groups = {hop.driver.jack.group for chain in line_chains(design, CATALOGUE) for hop in chain.hops}
    assert "SPK" not in groups


def test_a_port_sensitivity_comes_before_that_of_the_amplifier() -> None:
    rig = amplified(None, 1)
    (port, *others) = rig.ports["Amp"]
    rig.ports["Amp"] = [replace(port, sensitivity_v=0.9), *others]
    (chain,) = line_chains(rig.design(), rig.catalogue())
    assert chain.sink.full_output_v == 0.9


def test_a_card_makes_the_noise_of_its_processor() -> None:
    rig = Rig()
    rig.processor(Out(), noise_dbu=-77.0)
    rig.sub("Sub 1", In())
    rig.ports["Card"] = [replace(port, device="Card") for port in rig.ports["Proc"]]
    rig.units.append(Unit(id="Card 1", sku="Card", kind=UnitKind.CARD, host="Proc"))
    rig.wire("Card 1/OUT1/1", "Sub 1/IN/1")
    catalogue = replace(rig.catalogue(), cards=(Card(sku="Card", name="Card", fits=("Proc",)),))
    (chain,) = line_chains(rig.design(), catalogue)
    assert chain.hops[0].driver.noise_dbu == -77.0


def test_a_cut_lead_is_half_as_long_and_a_made_up_one_as_long_as_wanted() -> None:
    design, _ = good_designs.by_dsp_unit()
    leads = {
        str(hop.taken.receiver.jack): hop.taken.runs[-1].length_m
        for chain in line_chains(design, CATALOGUE)
        for hop in chain.hops
    }
    assert leads["Sub 3 / XLR 1"] == 7.5  # half of 15 m
    assert leads["Sub 4 / XLR 1"] == 8.2  # of the 9 m bought


@pytest.mark.parametrize(("stage", "balanced"), [(OutputStage.SYMMETRICAL, True), (OutputStage.UNBALANCED, False)])
def test_an_output_is_built_as_the_catalogue_says(stage: OutputStage, balanced: bool) -> None:
    rig = Rig()
    rig.processor(Out(stage=stage, ohm=75.0, max_dbu=18.0))
    rig.sub("Sub 1", In())
    rig.wire("Proc/OUT1/1", "Sub 1/IN/1")
    driver = line_chains(rig.design(), rig.catalogue())[0].hops[0].driver
    assert (driver.output_stage, driver.balanced) == (stage, balanced)
    assert (driver.impedance_ohm, driver.max_level_dbu, driver.gain_range_db) == (75.0, 18.0, None)


def test_a_dsp_unit_can_be_turned_down_without_bound() -> None:
    rig = Rig()
    rig.processor(Out())
    rig.dsp("DSP", In(), Out(), max_gain_db=12.0)
    rig.sub("Sub 1", In())
    rig.wire("Proc/OUT1/1", "DSP/IN/1")
    rig.route("DSP/IN/1", "DSP/OUT/1")
    rig.wire("DSP/OUT/1", "Sub 1/IN/1")
    (chain,) = line_chains(rig.design(), rig.catalogue())
    assert [hop.driver.gain_range_db for hop in chain.hops] == [None, (-math.inf, 12.0)]


def test_rings_and_loose_ends_of_a_spoiled_design_come_to_an_end() -> None:
    rig = Rig()
    rig.processor(Out())
    rig.dsp("DSP", In(), Out())
    rig.splitter("One", 2)
    rig.splitter("Two", 2)
    rig.sub("Sub 1", In(), Out(ohm=None, stage=OutputStage.UNKNOWN))
    rig.wire("Proc/OUT1/1", "DSP/IN/1")
    rig.route("DSP/IN/1", "DSP/OUT/1")
    rig.route("DSP/IN/1", "No such/OUT/1")
    rig.wire("DSP/OUT/1", "DSP/IN/1")
    rig.dsp("Other", In(), Out())
    rig.route("DSP/IN/1", "Other/OUT/1")
    rig.wire("Other/OUT/1", "Sub 1/IN/1")
    rig.plug("Proc/OUT1/2", "One")
    rig.plug("One/LEG/1", "Two")
    rig.plug("Two/LEG/1", "One")
    rig.wire("Two/LEG/2", "Sub 1/IN/1")
    rig.wire("Sub 1/LINK/1", "Sub 1/IN/1")
    rig.wire("Proc/OUT1/3", "No such/IN/1")
    rig.wire("Proc/OUT9/1", "Sub 1/IN/1")
    unknown_lead = LeadBuild(method=LeadMethod.MADE_UP, parts=(LeadPart(sku="?", count=1),), length_m=2.0)
    rig.wire("Proc/OUT1/4", "Sub 1/IN/17", unknown_lead)
    assert [route_words(chain) for chain in line_chains(rig.design(), rig.catalogue())] == ["Proc/OUT1/2 > Sub 1/IN/1"]
