"""R17 and M7: loops against published counts, hum against published figures, and the words."""

from dataclasses import replace

import pytest

from planner.brief.records import Limits
from planner.catalogue.records import CableKind, Mains, OutputStage, PortGroup
from planner.checks.case import Case
from planner.checks.known import Known
from planner.contacts import Connector
from planner.design import Finding, LeadBuild, Severity, UnitKind
from planner.physics.earth import EarthLoop, earth_loops
from planner.physics.earth_findings import earth_findings
from planner.physics.earth_graph import EarthEdge, Join, earth_edges
from tests.checks import good_designs
from tests.checks.drawing import DIRECT, cut, made_up, stocked
from tests.checks.gear import CATALOGUE, HOUSE
from tests.physics.small_systems import IN, OUT, System, catalogue, port, with_ports
from tests.published.check_values import oracle

CLASS_I, CLASS_II, NONE = Mains(rated_w=50.0), Mains(rated_w=50.0, class_ii=True), Mains()
RCA, XLR = stocked("rca", 1.0), stocked("xlr", 1.0)


def edges(system: System) -> tuple[EarthEdge, ...]:
    return earth_edges(system.case(), system.shop.ports)


def loops(system: System) -> tuple[EarthLoop, ...]:
    return earth_loops(edges(system))


def found(system: System) -> tuple[Finding, ...]:
    return earth_findings(loops(system), Limits())


def ring(*subwoofers: Mains, shield_mohm_per_m: float | None = None) -> System:
    """Processor A, DSP unit B, subwoofers C and D: shields A-B, B-C, C-D and A-D, the published ring."""
    system = System(
        shop=catalogue(
            proc={"mains": CLASS_I},
            dsp={"mains": CLASS_I},
            sub={"mains": subwoofers[0]},
            rca={"shield_mohm_per_m": shield_mohm_per_m},
        )
    )
    system.unit(UnitKind.PROCESSOR, "A", "proc")
    system.unit(UnitKind.DSP, "B", "dsp")
    for metres in (1.0, 2.0):
        system.subwoofer("sub", metres)
    for source, sink in (("A/OUT/1", "B/IN/1"), ("B/OUT/1", "Sub 1/IN/1"), ("Sub 1/LINK/1", "Sub 2/IN/1")):
        system.run(source, sink, RCA)
    system.run("A/OUT/2", "Sub 2/IN/1", RCA)
    return system


def pair(one: Mains, other: Mains, lead: LeadBuild = RCA, leads: int = 1, **lead_figures: object) -> System:
    """A processor and a DSP unit, joined by so many leads, unbalanced or balanced."""
    system = System(
        shop=catalogue(proc={"mains": one}, dsp={"mains": other}, rca=dict(lead_figures), xlr=dict(lead_figures))
    )
    system.unit(UnitKind.PROCESSOR, "A", "proc")
    system.unit(UnitKind.DSP, "B", "dsp")
    out, into = ("OUT", "IN") if lead == RCA else ("XLR", "XLR IN")
    for number in range(1, leads + 1):
        system.run(f"A/{out}/{number}", f"B/{into}/{number}", lead)
    return system


@pytest.mark.parametrize(
    ("name", "system"),
    [
        ("loops.cyclomatic_example", ring(CLASS_I)),
        ("loops.cyclomatic_classII", ring(CLASS_II)),
        ("loops.cyclomatic_two_classI", pair(CLASS_I, CLASS_I)),
    ],
)
def test_the_published_counts(name: str, system: System) -> None:
    value = oracle(name)
    assert len(loops(system)) == value.value, value


@pytest.mark.parametrize(
    ("one", "other", "leads", "count"),
    [
        (CLASS_I, CLASS_II, 1, 0),  # make one class II: no loop
        (CLASS_I, NONE, 1, 0),  # a device without a mains cord has no earth either
        (CLASS_II, CLASS_II, 2, 1),  # a stereo pair adds one by itself
        (CLASS_I, CLASS_I, 2, 2),
    ],
)
def test_class_ii_and_pairs(one: Mains, other: Mains, leads: int, count: int) -> None:
    """Counts by E - V + C, as the published examples reckon."""
    assert len(loops(pair(one, other, leads=leads))) == count


@pytest.mark.parametrize(
    ("mohm_per_m", "metres", "microvolts", "re_minus_10_dbv"),
    [
        (1000.0, 1.0, oracle("loops.hum_316uA_1ohm").value * 1e6, oracle("loops.hum_re_minus10dbv").value),
        # 26 AWG drain, 25 ft: its published resistance, at the same current.
        (1000 * oracle("speaker_cable.awg26_r").value, 25 * 0.3048, oracle("loops.drain_26awg_25ft").value * 316, None),
    ],
)
def test_published_hum(mohm_per_m: float, metres: float, microvolts: float, re_minus_10_dbv: float | None) -> None:
    (loop,) = loops(pair(CLASS_I, CLASS_I, shield_mohm_per_m=mohm_per_m, length_m=metres))
    assert loop.hum_v == pytest.approx(microvolts / 1e6, rel=1e-6)
    if re_minus_10_dbv is not None:
        assert loop.hum_db == pytest.approx(re_minus_10_dbv, abs=1e-5)


def test_a_better_shield_hums_less_by_the_published_figure() -> None:
    value = oracle("loops.shield_1ohm_to_0_065")
    ((worse,), (better,)) = (loops(pair(CLASS_I, CLASS_I, shield_mohm_per_m=mohm)) for mohm in (1000.0, 65.0))
    assert (better.hum_db or 0) - (worse.hum_db or 0) == pytest.approx(value.value, abs=1e-6), value


def test_the_hum_is_told_with_its_assumption() -> None:
    (finding,) = found(pair(CLASS_I, CLASS_I, shield_mohm_per_m=1000.0))
    assert (finding.rule, finding.severity, finding.subject) == ("R17", Severity.CONCERN, "A and B")
    assert "316 µV, -60 dB re -10 dBV, for 1 ohm of shield" in finding.message
    assert "an assumed current of 316 µA" in finding.message


def test_a_shield_of_unknown_resistance_is_said_to_be_so() -> None:
    (finding,) = found(pair(CLASS_I, CLASS_I))
    assert "does not give the resistance of each shield, so the hum is not estimated" in finding.message


def test_one_unknown_shield_leaves_the_hum_of_its_loop_unknown() -> None:
    system = pair(CLASS_I, CLASS_II, shield_mohm_per_m=1000.0)
    system.subwoofer("sub", 1.0)
    system.shop = catalogue(
        proc={"mains": CLASS_I}, dsp={"mains": CLASS_II}, sub={"mains": CLASS_I}, rca={"shield_mohm_per_m": 1000.0},
        cable={"kind": CableKind.LINE_UNBALANCED},
    )  # fmt: skip
    system.run("B/OUT/1", "Sub 1/IN/1", made_up(1.0, ("cable", 1)))
    (loop,) = loops(system)
    assert len(loop.unbalanced) == 2
    assert loop.hum_v is None


def test_balanced_loops_are_counted_and_summed_up_in_one_note() -> None:
    system = pair(CLASS_I, CLASS_I, XLR, leads=3)
    assert len(loops(system)) == 3
    (finding,) = found(system)
    assert finding.severity is Severity.NOTE
    assert finding.message.startswith("3 earth loops through shields that carry no signal (A and B)")


def test_leads_side_by_side_without_an_earth_are_a_note() -> None:
    (finding,) = found(pair(CLASS_II, CLASS_I, leads=3))
    assert finding.severity is Severity.NOTE
    assert "2 earth loops between leads of the same two devices" in finding.message


def test_loops_through_the_same_devices_are_one_concern() -> None:
    (finding,) = found(pair(CLASS_I, CLASS_I, leads=3))
    assert finding.severity is Severity.CONCERN
    assert finding.message.startswith("3 earth loops through A and B and the safety earth")


def test_each_loop_is_told_with_what_breaks_it() -> None:
    message = " ".join(finding.message for finding in found(pair(CLASS_I, CLASS_I)))
    for remedy in (
        "line isolating transformer at the receiving end",
        "balanced link with the right lead",
        "class II gear",
    ):
        assert remedy in message


def test_a_loop_of_shields_alone_is_not_mended_by_class_ii_gear() -> None:
    """All class II: the published ring keeps one loop, through four shields."""
    system = ring(CLASS_II)
    system.shop = catalogue(proc={"mains": CLASS_II}, dsp={"mains": CLASS_II}, sub={"mains": CLASS_II})
    (finding,) = found(system)
    assert finding.severity is Severity.CONCERN
    assert "safety earth" not in finding.message
    assert "class II" not in finding.message


def test_every_lead_of_a_link_is_named_where_a_loop_runs_through_one_of_them() -> None:
    """Class I at both ends, class II between, three leads each: isolating one lead would break nothing."""
    system = System(shop=catalogue(proc={"mains": CLASS_I}, dsp={"mains": CLASS_II}, sub={"mains": CLASS_I}))
    system.unit(UnitKind.PROCESSOR, "A", "proc")
    system.unit(UnitKind.DSP, "B", "dsp")
    system.subwoofer("sub", 1.0)
    for jack in (1, 2, 3):
        system.run(f"A/OUT/{jack}", f"B/IN/{jack}", RCA)
        system.run(f"B/OUT/{jack}", f"Sub 1/IN/{jack}", RCA)
    concerns = [finding.message for finding in found(system) if finding.severity is Severity.CONCERN]
    assert len(concerns) == 1
    for link in ("3 leads between A and B", "3 leads between B and Sub 1"):
        assert link in concerns[0]
    assert "at one of these links, a line isolating transformer at the receiving end of each lead" in concerns[0]


def splitters() -> System:
    """Two class I subwoofers behind one splitter: the shells of its legs are one."""
    system = System(shop=catalogue(proc={"mains": CLASS_II}, sub={"mains": CLASS_I}))
    system.unit(UnitKind.PROCESSOR, "A", "proc")
    system.unit(UnitKind.SPLITTER, "Y", "y")
    system.run("A/OUT/1", "Y/IN/1", DIRECT)
    for number in (1, 2):
        system.subwoofer("sub", 1.0)
        system.run(f"Y/LEG/{number}", f"Sub {number}/IN/1", RCA)
    return system


def test_a_splitter_joins_what_hangs_on_it() -> None:
    (loop,) = loops(splitters())
    assert set(loop.members) == {"Y", "Sub 1", "Sub 2"}
    assert loop.earthed


def test_a_card_is_part_of_its_host() -> None:
    """Its jacks' shields end on the processor's chassis, and it has no earth of its own."""
    design, brief = good_designs.crossed_by_processor()
    case = Case.of(design, Known(brief, CATALOGUE, HOUSE))
    ends = {frozenset((edge.one, edge.other)) for edge in earth_edges(case, CATALOGUE.ports)}
    assert ends == {frozenset({"Proc", "Amp 1"}), frozenset({"Proc", "Sub 1"})}
    powered = replace(
        CATALOGUE,
        processors=tuple(replace(each, mains=CLASS_I) for each in CATALOGUE.processors),
        cards=tuple(replace(each, mains=CLASS_I) for each in CATALOGUE.cards),
    )
    case = Case.of(design, Known(brief, powered, HOUSE))
    earthed = [edge.other for edge in earth_edges(case, powered.ports) if edge.join is Join.PROTECTIVE_EARTH]
    assert earthed == ["Proc"]


def test_loudspeaker_cable_carries_no_shield() -> None:
    system = System(shop=catalogue(amp={"mains": CLASS_I}, passive={"mains": CLASS_I}))
    system.unit(UnitKind.AMPLIFIER, "Amp", "amp")
    system.speaker("passive", 1.0)
    system.run("Amp/SPK/1", "Speaker 1/IN/1", made_up(1.0, ("cable", 1)))
    assert [edge.join for edge in edges(system)] == [Join.PROTECTIVE_EARTH] * 2


_TWO_CORES = {"kind": CableKind.LINE_BALANCED}


@pytest.mark.parametrize(
    ("source", "sink", "stage", "two_cores", "join"),
    [
        # Both ways of the trade's wiring rules: B. Whitlock 1995 and D. Self (read at second hand).
        ("XLR", "XLR IN", OutputStage.SYMMETRICAL, True, Join.BALANCED),
        ("XLR", "XLR IN", OutputStage.SYMMETRICAL, False, Join.UNBALANCED),  # no rule allows it
        ("OUT", "XLR IN", OutputStage.UNBALANCED, True, Join.BALANCED),  # the cold core senses the source's shell
        ("OUT", "XLR IN", OutputStage.UNBALANCED, False, Join.UNBALANCED),
        ("XLR", "IN", OutputStage.SYMMETRICAL, True, Join.UNBALANCED),  # one leg, back by the shield
        ("XLR", "IN", OutputStage.UNKNOWN, True, Join.UNBALANCED),
        ("XLR", "IN", OutputStage.SERVO, True, Join.BALANCED),  # the cold core brings the signal back
        ("XLR", "IN", OutputStage.TRANSFORMER, True, Join.BALANCED),
        ("XLR", "IN", OutputStage.TRANSFORMER, False, Join.UNBALANCED),
        ("OUT", "IN", OutputStage.UNBALANCED, True, Join.UNBALANCED),
    ],
)
def test_where_the_shield_carries_the_signal(
    source: str, sink: str, stage: OutputStage, two_cores: bool, join: Join
) -> None:
    system = pair(NONE, NONE, leads=0)
    kind = CableKind.LINE_BALANCED if two_cores else CableKind.LINE_UNBALANCED
    system.shop = with_ports(
        catalogue(cable={"kind": kind}), port("proc", "XLR", OUT, Connector.XLR, output_stage=stage)
    )
    system.run(f"A/{source}/1", f"B/{sink}/1", made_up(1.0, ("cable", 1)))
    assert [edge.join for edge in edges(system)] == [join]


@pytest.mark.parametrize(("pins", "count"), [((), 1), (("+", "-", "shield"), 1), (("+", "-"), 0)])
def test_a_terminal_block_without_a_place_for_the_shield_leaves_it_open(pins: tuple[str, ...], count: int) -> None:
    system = pair(CLASS_I, CLASS_I, XLR)
    block: PortGroup = port("dsp", "XLR IN", IN, Connector.TERMINAL, balanced=True, pin_order=pins)
    system.shop = with_ports(system.shop, block)
    assert len(loops(system)) == count


@pytest.mark.parametrize(
    ("lead", "metres"),
    [
        (stocked("rca", 1.0), 4.0),  # a made lead hangs there whole
        (cut("rca", "a", 1.0), 2.0),  # a cut one by half
        (LeadBuild(method=stocked("rca", 1.0).method, parts=(), length_m=1.0), None),
        (made_up(3.0, ("cable", 3)), 3.0),
        (DIRECT, 0.0),
    ],
)
def test_the_length_of_a_shield(lead: LeadBuild, metres: float | None) -> None:
    shield = {"shield_mohm_per_m": 20.0}
    system = pair(NONE, NONE, leads=0)
    system.shop = catalogue(rca={"length_m": 4.0, **shield}, cable={"kind": CableKind.LINE_UNBALANCED, **shield})
    system.run("A/OUT/1", "B/IN/1", lead)
    (edge,) = edges(system)
    assert edge.shield_ohm == (None if metres is None else pytest.approx(0.02 * metres))
