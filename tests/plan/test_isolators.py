"""Line isolators through the whole pipeline: bought where a loop must go, never elsewhere, and held to R1 to R17.

Prices by hand: the house of the tests takes neither margin nor labour nor tax.
"""

from collections.abc import Callable
from dataclasses import replace
from math import log10, sqrt
from typing import Any

import pytest

from planner.brief.records import Brief, Drive, Measure, Owned, PhysicalLimit
from planner.catalogue.records import (
    Amplifier,
    CableKind,
    DspUnit,
    Mains,
    OutputStage,
    PortRole,
    Powering,
    Processor,
    Subwoofer,
)
from planner.checks import verify
from planner.contacts import Connector, Contact, Gender
from planner.demand.build import build_demand
from planner.design import Connection, Design, Jack, LeadMethod, UnitKind
from planner.options import Option, Status
from planner.physics import examine
from planner.plan import options
from planner.requirements import requirements
from planner.tables.cells import NOT_KNOWN
from planner.tables.chains import chain_sentences, hop_rows
from planner.wiring.labels import lead_marks
from tests.demand.shop import (
    FULL,
    HOUSE,
    POST,
    RCA,
    RCA_PLUG,
    RCA_SOCKET,
    Shop,
    brief,
    ins,
    limits,
    outs,
    speakers,
    subs,
)
from tests.published.check_values import oracle

PRICE_AND_LOOPS = (Measure.PRICE, Measure.EARTH_LOOPS)
EARTHED = Mains(rated_w=100.0)
CLASS_II = Mains(rated_w=100.0, class_ii=True)


def shop(
    processor: Mains = CLASS_II, sub: Mains = EARTHED, *, isolator: bool = True, leaving: Contact = RCA_SOCKET,
    loss_db: float = 0.0, ceiling_dbu: float = 60.0, most_dbu: float | None = None, stock: int | None = None,
    source_ohm: float = 1.0,
) -> Shop:  # fmt: skip
    """A processor with three outputs of no impedance to speak of, a subwoofer of 100 that wants 1 V, leads of 10 m
    and 1 m, and an isolator of 30.
    """
    found = Shop()
    unit = Processor(sku="P", name="P", rendered_channels=16, processed_outputs=16, controls=FULL, mains=processor)
    given = replace(outs("OUT", RCA, 3, PortRole.ASSIGNABLE), max_level_dbu=most_dbu, impedance_ohm=source_ohm)
    found.sell(unit, 1000, replace(given, output_stage=OutputStage.UNBALANCED))
    wanted = replace(ins("IN", RCA), sensitivity_v=1.0, impedance_ohm=20_000.0)
    found.sell(Subwoofer(sku="S", name="S", powering=Powering.ACTIVE, low_corner_hz=20.0, mains=sub), 100, wanted)
    found.lead("LONG", 10, RCA_PLUG, RCA_PLUG, 10.0, balanced=False)
    found.lead("SHORT", 2, RCA_PLUG, RCA_PLUG, 1.0, balanced=False)
    if isolator:
        found.isolator("I", 30, RCA_SOCKET, leaving, leaving != RCA_SOCKET, loss_db, ceiling_dbu, stock=stock)
    return found


def asked(most: int | None = None, measures: tuple[Measure, ...] = PRICE_AND_LOOPS, **terms: object) -> Brief:
    drives = frozenset({Drive.DEDICATED})
    kept = limits(most_earth_loops=most, drives=drives, **terms)
    return brief(subs("S", 5.0, 6.0, 7.0), measures=measures, limits=kept)


def found(of: Brief, sold: Shop) -> tuple[Option, ...]:
    result = options(of, sold.catalogue(), HOUSE)
    assert result.status is Status.PROVEN
    return result.options


def isolators(option: Option) -> int:
    return sum(unit.kind is UnitKind.ISOLATOR for unit in option.design.units)


def minor(euros: float) -> int:
    return round(euros * 100)


def test_each_loop_broken_costs_an_isolator_and_a_lead() -> None:
    """Three earthed subwoofers on a processor without an earth: two loops. An isolator of 30 and a lead of 2 each."""
    steps = [(o.measures.price_minor, o.measures.earth_loops, isolators(o)) for o in found(asked(), shop())]
    base = 1000 + 3 * (100 + 10)
    assert steps == [(minor(base), 2, 0), (minor(base + 32), 1, 1), (minor(base + 64), 0, 2)]


def test_an_earthed_processor_closes_a_loop_more() -> None:
    (option,) = found(asked(0, (Measure.PRICE,)), shop(processor=EARTHED))
    assert isolators(option) == 3
    assert option.measures.earth_loops == 0


def test_gear_without_an_earth_needs_no_isolator() -> None:
    (option,) = found(asked(0, (Measure.PRICE,)), shop(sub=CLASS_II))
    assert isolators(option) == 0


def test_a_brief_that_asks_nothing_of_loops_has_the_model_that_it_had() -> None:
    with_boxes, without = shop(), shop(isolator=False)
    plain = asked(None, (Measure.PRICE,))
    demands = [build_demand(plain, each.catalogue(), HOUSE) for each in (with_boxes, without)]
    assert demands[0].links.table() == demands[1].links.table()
    assert demands[0].feed_flows == demands[1].feed_flows
    assert not any(key.isolable for key in demands[0].links.table())


def test_stock_bounds_them_and_the_conflict_says_so() -> None:
    sold = shop(stock=1)
    assert [o.measures.earth_loops for o in found(asked(), sold)] == [2, 1]
    result = options(asked(0), sold.catalogue(), HOUSE)
    assert result.status is Status.INFEASIBLE
    assert "there are at most 0 earth loops" in result.conflict


def test_an_excluded_isolator_is_not_used() -> None:
    sold = replace(asked(), excluded=("I",))
    assert [isolators(option) for option in found(sold, shop())] == [0]
    assert any(requirement.sentence == "I is excluded" for requirement in requirements(sold))


def test_an_owned_isolator_is_used_first() -> None:
    options_found = found(replace(asked(), owned=(Owned(sku="I", count=1),)), shop())
    base = 1000 + 3 * 110
    assert [option.measures.price_minor for option in options_found] == [
        minor(base), minor(base + 2), minor(base + 34),
    ]  # fmt: skip


def test_joints_count_both_leads_and_the_box() -> None:
    option = found(asked(0, (Measure.PRICE,)), shop())[0]
    assert option.measures.joints == 3 * 2 + 2 * (2 + 1)


def test_both_leads_have_marks_of_their_own() -> None:
    option = found(asked(0, (Measure.PRICE,)), shop())[0]
    assert len(lead_marks(option.design)) == 5
    assert [each.lead.length_m for each in option.design.connections if "Isolator" in each.source.unit] == [1.0, 1.0]


def test_a_chain_is_never_isolated() -> None:
    """Two subwoofers chained on one output: one loop, that only gear could break."""
    sold = Shop()
    sold.processor("P", 1000, outs("OUT", RCA, 1, PortRole.ASSIGNABLE))
    link = outs("LINK", RCA, 1, PortRole.LINK)
    sold.sell(Subwoofer(sku="S", name="S", powering=Powering.ACTIVE, low_corner_hz=20.0, mains=EARTHED), 100,
              ins("IN", RCA), link)  # fmt: skip
    sold.lead("LONG", 10, RCA_PLUG, RCA_PLUG, 10.0, balanced=False)
    sold.isolator("I", 30, RCA_SOCKET, RCA_SOCKET)
    chained = frozenset({Drive.DEDICATED, Drive.DAISY_CHAINED})
    kept = limits(most_earth_loops=0, drives=chained, physical=frozenset())
    result = options(brief(subs("S", 3.0, 4.0), measures=PRICE_AND_LOOPS, limits=kept), sold.catalogue(), HOUSE)
    assert result.status is Status.INFEASIBLE


@pytest.mark.parametrize("other", [None, CLASS_II], ids=["alone", "beside one without an earth"])
def test_every_lead_into_an_earthed_amplifier_may_be_isolated(other: Mains | None) -> None:
    """Edges less nodes and one: 2 earths and 2 leads on the earth, the processor and the amplifier make 2 loops.

    An amplifier without an earth, too dear to be worth it but with none forbidden, still has its leads side by side.
    """
    sold = Shop()
    unit = Processor(sku="P", name="P", rendered_channels=16, processed_outputs=16, controls=FULL, mains=EARTHED)
    sold.sell(unit, 1000, outs("OUT", RCA, 2, PortRole.ASSIGNABLE))
    for sku, price, mains in (("A", 300, EARTHED), ("B", 301, other)):
        if mains is not None:
            amplifier = Amplifier(sku=sku, name=sku, channels=2, power_8ohm_w=100.0, mains=mains)
            sold.sell(amplifier, price, ins("IN", RCA, 2), outs("OUT", POST, 2))
    sold.speaker("L", 50, ins("IN", POST))
    sold.cable("CABLE", 1, CableKind.SPEAKER)
    sold.lead("SHORT", 2, RCA_PLUG, RCA_PLUG, 1.0, balanced=False)
    sold.isolator("I", 30, RCA_SOCKET, RCA_SOCKET)
    pair = brief(speakers("Mains", "L", "M+030 M-030", 3.0, 3.0), measures=PRICE_AND_LOOPS, limits=limits())
    steps = [(o.measures.price_minor, o.measures.earth_loops, isolators(o)) for o in found(pair, sold)]
    base = 1000 + 300 + 2 * 50 + 2 * 2 + 2 * 3
    one_less = (base + 32, 1, 1) if other is None else (base + 1, 1, 0)
    assert steps == [(minor(base), 2, 0), (minor(one_less[0]), *one_less[1:]), (minor(base + 64), 0, 2)]


def through_dsp(processor: Mains, loss_db: float = 0.0, **terms: Any) -> tuple[Brief, Shop]:
    """One output of 0 dBu, an earthed DSP unit of 200 that brings up 6 dB, and two earthed subwoofers that want 1 V."""
    sold = Shop()
    unit = Processor(sku="P", name="P", rendered_channels=16, processed_outputs=16, controls=FULL, mains=processor)
    given: dict[str, Any] = {"output_stage": OutputStage.UNBALANCED, "impedance_ohm": 1.0}
    taken: dict[str, Any] = {"impedance_ohm": 1e6, "max_level_dbu": 40.0}
    sold.sell(unit, 1000, replace(outs("OUT", RCA, 1, PortRole.ASSIGNABLE), max_level_dbu=0.0, **given))
    box = DspUnit(sku="D", name="D", inputs=1, outputs=2, controls=FULL, mains=EARTHED, max_gain_db=6.0)
    sold.sell(box, 200, replace(ins("IN", RCA), **taken), replace(outs("OUT", RCA, 2), max_level_dbu=20.0, **given))
    sub = Subwoofer(sku="S", name="S", powering=Powering.ACTIVE, low_corner_hz=20.0, mains=EARTHED)
    sold.sell(sub, 100, replace(ins("IN", RCA), sensitivity_v=1.0, **taken))
    sold.lead("LONG", 10, RCA_PLUG, RCA_PLUG, 10.0, balanced=False)
    sold.lead("SHORT", 2, RCA_PLUG, RCA_PLUG, 1.0, balanced=False)
    sold.isolator("I", 30, RCA_SOCKET, RCA_SOCKET, loss_db=loss_db)
    kept = limits(drives=frozenset({Drive.DSP}), least_control_groups=2, **terms)
    return brief(subs("S", 3.0, 4.0), measures=PRICE_AND_LOOPS, limits=kept), sold


@pytest.mark.parametrize(("processor", "loops"), [(EARTHED, 3), (CLASS_II, 2)], ids=["earthed", "class II"])
def test_a_dsp_unit_is_isolated_where_that_breaks_a_loop(processor: Mains, loops: int) -> None:
    """Edges less nodes and one: 4 + 3 - 5 + 1, or 3 + 3 - 5 + 1. Each isolator takes one away, at 30 and a lead of 2.

    Under a processor without an earth the lead into the DSP unit closes none.
    """
    options_found = found(*through_dsp(processor))
    base = 1000 + 200 + 2 * 100 + 2 + 2 * 10
    assert [(o.measures.price_minor, o.measures.earth_loops, isolators(o)) for o in options_found] == [
        (minor(base + 32 * n), loops - n, n) for n in range(loops + 1)
    ]
    entered = {each.sink.unit for each in options_found[-1].design.connections if "Isolator" in each.source.unit}
    assert ("DSP 1" in entered) is (processor is EARTHED)


@pytest.mark.parametrize(("loss_db", "serves"), [(0.0, True), (1.8, True), (2.0, False)])
def test_two_isolators_on_one_way_may_cost_the_drive_together(loss_db: float, serves: bool) -> None:
    """0 dBu and 6 dB of gain against +2.22 dBu: 3.78 dB to lose, before the DSP unit and behind it."""
    of, sold = through_dsp(
        EARTHED, loss_db, most_earth_loops=0, physical=frozenset({PhysicalLimit.LEVEL}), level_tolerance_db=0.0
    )
    assert (options(of, sold.catalogue(), HOUSE).status is Status.PROVEN) is serves


def test_the_verifier_refuses_an_isolator_before_a_dsp_unit_under_a_processor_without_an_earth() -> None:
    of, sold = through_dsp(EARTHED)
    design = found(of, sold)[-1].design
    assert verify(design, of, sold.catalogue(), HOUSE).is_valid
    findings = verify(design, of, through_dsp(CLASS_II)[1].catalogue(), HOUSE).findings
    assert any("The processor has no mains earth" in each.message for each in findings)


def weak(loss_db: float, ceiling_dbu: float = 60.0) -> Shop:
    """Outputs that give +2.7 dBu; 1 V, which is +2.22 dBu, is full output: 0.48 dB."""
    return shop(loss_db=loss_db, ceiling_dbu=ceiling_dbu, most_dbu=2.7)


@pytest.mark.parametrize(
    ("loss_db", "ceiling_dbu", "serves"), [(0.4, 60.0, True), (0.6, 60.0, False), (0.4, 2.7, True), (0.4, 2.5, False)]
)
def test_an_isolator_that_costs_the_drive_is_no_way_out(loss_db: float, ceiling_dbu: float, serves: bool) -> None:
    """A loss of 0.4 dB leaves 0.08 dB; then 2.62 dBu come into the isolator at full output."""
    kept = asked(0, (Measure.PRICE,), physical=frozenset({PhysicalLimit.LEVEL}), level_tolerance_db=0.0)
    result = options(kept, weak(loss_db, ceiling_dbu).catalogue(), HOUSE)
    assert (result.status is Status.PROVEN) is serves


def test_the_margin_of_a_chain_is_less_by_the_loss() -> None:
    of, sold = asked(0, (Measure.PRICE,), physical=frozenset()), weak(0.4)
    examined = examine(found(of, sold)[0].design, of, sold.catalogue())
    margins = sorted(round(each.least_margin_db or 0.0, 2) for each in examined.line_chains)
    assert margins == [0.08, 0.08, 0.48]
    longest = max(examined.line_chains, key=lambda each: len(each.points))
    assert [point.jack.group for point in longest.points] == ["OUT", "IN", "OUT", "IN"]
    assert longest.points[1].at_full_output_dbu == pytest.approx(2.62, abs=0.01)


def test_a_transformer_of_one_to_one_reflects_what_lies_behind_it() -> None:
    """Matched impedances take 6.02 dB (published, computed), with or without the isolator, which takes 0.5 dB more."""
    matched = oracle("split.matched_1_to_1").value
    sold = shop(loss_db=0.5, most_dbu=20.0, source_ohm=20_000.0)
    of = asked(0, (Measure.PRICE,), physical=frozenset())
    examined = examine(found(of, sold)[0].design, of, sold.catalogue())
    margins = sorted(each.least_margin_db or 0.0 for each in examined.line_chains)
    plain = 20.0 + matched - 20 * log10(1 / sqrt(0.6))
    assert margins == pytest.approx([plain - 0.5, plain - 0.5, plain], abs=1e-6)


def test_an_isolator_that_clips_is_named() -> None:
    """+2.0 dBu at its input, 1 V behind it: 0.22 dB short."""
    of, sold = asked(0, (Measure.PRICE,), physical=frozenset()), weak(0.0, 2.0)
    told = [each for each in found(of, sold)[0].findings if each.rule == "R11"]
    assert any("I / OUT clips before full output by 0.22 dB" in each.message for each in told), told


Spoiling = Callable[[Design], Design]


def _rewired(design: Design, change: Callable[[Connection], Connection]) -> Design:
    return replace(design, connections=tuple(map(change, design.connections)))


def _cut(design: Design) -> Design:
    return _rewired(
        design,
        lambda each: (
            replace(each, lead=replace(each.lead, method=LeadMethod.CUT, cut_end="a"))
            if each.source.unit == "Isolator 1"
            else each
        ),
    )


def _dangling(design: Design) -> Design:
    kept = tuple(each for each in design.connections if each.source.unit != "Isolator 1")
    return replace(design, connections=kept)


def _another_channel(design: Design) -> Design:
    return _rewired(design, lambda each: replace(each, channel="LFE2") if each.source.unit == "Isolator 1" else each)


def _too_short(design: Design) -> Design:
    return _rewired(
        design,
        lambda each: replace(each, lead=replace(each.lead, length_m=1.0)) if each.sink.unit == "Isolator 1" else each,
    )


@pytest.mark.parametrize(
    ("spoil", "rule", "words"),
    [
        (_cut, "R17", "half of a cut one"),
        (_dangling, "R17", "1 lead in and 0 out"),
        (_another_channel, "R17", "gives another signal"),
        (_too_short, "R3", "the route takes"),
    ],
)
def test_the_verifier_finds_what_is_wrong_with_an_isolator(spoil: Spoiling, rule: str, words: str) -> None:
    of, sold = asked(0, (Measure.PRICE,)), shop()
    design = found(of, sold)[0].design
    assert verify(design, of, sold.catalogue(), HOUSE).is_valid
    findings = verify(spoil(design), of, sold.catalogue(), HOUSE).findings
    assert any(each.rule == rule and words in each.message for each in findings), findings


def test_the_verifier_refuses_an_isolator_before_gear_without_an_earth() -> None:
    of, sold = asked(0, (Measure.PRICE,)), shop()
    design = found(of, sold)[0].design
    findings = verify(design, of, shop(sub=CLASS_II).catalogue(), HOUSE).findings
    assert any("has no mains earth" in each.message for each in findings)


def test_the_verifier_refuses_a_conversion_for_nothing() -> None:
    of, sold = asked(0, (Measure.PRICE,)), shop()
    design = found(of, sold)[0].design
    other = shop(leaving=Contact(Connector.XLR, Gender.MALE))
    findings = verify(design, of, other.catalogue(), HOUSE).findings
    assert any("converts where nothing need be" in each.message for each in findings)


def test_a_jack_is_named_on_both_sides() -> None:
    option = found(asked(0, (Measure.PRICE,)), shop())[0]
    ends = {each.sink for each in option.design.connections} | {each.source for each in option.design.connections}
    assert {Jack("Isolator 1", "IN", 1), Jack("Isolator 1", "OUT", 1)} <= ends


def test_nobody_is_told_to_set_the_gain_of_an_isolator() -> None:
    of, sold = asked(0, (Measure.PRICE,), physical=frozenset()), weak(0.4)
    examined = examine(found(of, sold)[0].design, of, sold.catalogue())
    for levels, noise in zip(examined.line_chains, examined.line_noises, strict=True):
        assert not any("Gain to set" in sentence for sentence in chain_sentences(levels, noise))
        assert all(row[4] == NOT_KNOWN for row in hop_rows(levels) if row[0].startswith("Isolator"))
