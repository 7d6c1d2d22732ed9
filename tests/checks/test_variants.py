"""Faults and counts that need gear other than the small catalogue's, changed for the test."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from planner.brief.records import Point, Seat
from planner.catalogue.records import Catalogue, PortGroup
from planner.checks import verify
from planner.design import Route, UnitKind
from tests.checks import good_designs as good
from tests.checks.drawing import (
    DIRECT,
    both,
    connection_to,
    cut,
    jack,
    limited,
    made_up,
    purchase_of,
    stocked,
    with_connection,
    with_unit,
    without_connection_to,
    without_unit,
)
from tests.checks.gear import CATALOGUE, HOUSE, IN, POST, XLR, port


def with_port(extra: PortGroup) -> Catalogue:
    ports = {**CATALOGUE.ports, extra.device: (*CATALOGUE.ports[extra.device], extra)}
    return replace(CATALOGUE, ports=ports)


def changed(kind: str, sku: str, **changes: Any) -> Catalogue:
    """The catalogue with one record of a kind ("splitters") changed."""
    records = tuple(replace(each, **changes) if each.sku == sku else each for each in getattr(CATALOGUE, kind))
    changed_kind: dict[str, Any] = {kind: records}
    return replace(CATALOGUE, **changed_kind)


def test_r1_an_input_of_the_processor_is_no_feed() -> None:
    design, brief = good.dedicated()
    looped = with_connection("LFE1", "Proc/AUX/2", "Proc/RETURN/1", stocked("L-XLR-5", 1.00))(design)
    findings = verify(looped, brief, with_port(port("P-LINE", "RETURN", IN, XLR)), HOUSE).findings
    told = [finding.message for finding in findings if finding.rule == "R1"]
    assert "Proc / RETURN 1 is an input of the processor; no feed is there." in told


def test_r7_a_whole_loudspeaker_alone_on_its_channel_has_no_dsp_unit() -> None:
    design, brief = good.dedicated()
    routed = both(
        with_unit(UnitKind.DSP, "DSP 1", "D-TB"),
        connection_to("Centre/XLR/1", source=jack("DSP 1/OUT/1")),
        with_connection("M+000", "Proc/MAIN/3", "DSP 1/IN/1", cut("L-XLR-5", "a", 1.00)),
    )(design)
    routed = replace(routed, routes=(Route(source=jack("DSP 1/IN/1"), sink=jack("DSP 1/OUT/1")),))
    told = {f.message for f in verify(routed, brief, CATALOGUE, HOUSE).findings if f.rule == "R7"}
    assert told == {"Centre is alone on M+000; DSP 1 adds a box and a delay, and nothing else."}
    front = brief.loudspeakers[0]
    two_centres = replace(front, name="More", placements=front.placements[2:])
    several = replace(brief, loudspeakers=(front, two_centres))
    assert not any(f.rule == "R7" for f in verify(routed, several, CATALOGUE, HOUSE).findings)


def test_r6_an_active_subwoofer_is_fed_at_a_line_input() -> None:
    design, brief = good.dedicated()
    moved = connection_to("Sub 1/RCA/1", sink=jack("Sub 1/HIGH/1"))(design)
    findings = verify(moved, brief, with_port(port("SW-ACT", "HIGH", IN, POST)), HOUSE).findings
    assert {finding.rule for finding in findings} == {"R3", "R6"}
    assert "Sub 1 is active; it is fed at a line input." in {finding.message for finding in findings}


def test_a_splitter_that_is_not_balanced_makes_its_legs_unbalanced() -> None:
    """M6: the splitter on a balanced output, and each leg to a balanced input: three conversions."""
    design, brief = good.dedicated()
    split = both(
        with_unit(UnitKind.SPLITTER, "Splitter 1", "SPL-XLR"),
        with_connection("LFE1", "Proc/AUX/1", "Splitter 1/IN/1", DIRECT),
        without_connection_to("Sub 1/RCA/1"),
        with_connection("LFE1", "Splitter 1/LEG/2", "Sub 1/XLR/1", stocked("L-XLR-5", 1.60)),
        connection_to("Sub 2/XLR/1", source=jack("Splitter 1/LEG/1")),
    )(design)
    unbalanced = changed("splitters", "SPL-XLR", balanced=False)
    assert verify(split, brief, unbalanced, HOUSE).measures.conversions == 3
    assert verify(split, brief, CATALOGUE, HOUSE).measures.conversions == 0
    strict = limited(brief, balanced_only=True)
    told = [f.subject for f in verify(split, strict, unbalanced, HOUSE).findings if "not balanced" in f.message]
    assert told == [
        "Splitter 1 / LEG 1 to Sub 2 / XLR 1",
        "Proc / AUX 1 to Splitter 1 / IN 1",
        "Splitter 1 / LEG 2 to Sub 1 / XLR 1",
    ]


def test_m4_and_m5_an_amplifier_is_a_box_that_takes_its_subwoofers_with_it() -> None:
    """Two subwoofers on one amplifier: two leads in, two out, one box: 2 x 2 + 2 x 2 + 1 = 9."""
    design, brief = good.amplified()
    shared = both(
        with_unit(UnitKind.AMPLIFIER, "Amp 3", "A-2"),
        with_unit(UnitKind.SUBWOOFER, "Sub 2", "SW-PAS", member=("Bass", 1)),
        connection_to("Amp 2/UNBAL/2", sink=jack("Amp 3/UNBAL/1")),
        connection_to("Sub 1/POLE/1", source=jack("Amp 3/POLE/1")),
        with_connection("LFE1", "Proc/SUB/2", "Amp 3/UNBAL/2", stocked("L-RCA-5", 1.00)),
        with_connection(
            "LFE1", "Amp 3/POLE/2", "Sub 2/POLE/1", made_up(3.80, ("CN-4P", 1), ("BC-SPK", 8), ("CN-4P", 1))
        ),
    )(design)
    two = replace(brief, subwoofers=(replace(brief.subwoofers[0], least=2, most=2),))
    verdict = verify(shared, two, CATALOGUE, HOUSE)
    assert {finding.rule for finding in verdict.findings} == {"R18"}  # not paid for
    assert (verdict.measures.joints, verdict.measures.subs_lost_worst) == (9, 2)
    assert verdict.measures.independent_subs == 2


def test_m3_an_unused_mirrored_group_is_one_spare_output() -> None:
    """Three amplifiers of five processed outputs in use; the mirrored pair would be one more."""
    design, brief = good.receiver()
    silent = both(*(without_unit(f"Sub {number}") for number in (1, 2, 3)), without_unit("Splitter 1"))(design)
    verdict = verify(silent, brief, CATALOGUE, HOUSE)
    assert verdict.measures.spare_outputs == 1
    assert verdict.measures.subs_lost_worst == 0


@pytest.mark.parametrize(
    ("drawn", "spare"),
    [
        (good.dedicated, 1 + 3),  # SUB, AUX; the network port is no line output
        (good.daisy_chain, 2 + 3),  # SUB, AUX
        (good.crossed, 2 + 1 + 4),  # MAIN for left and right, SUB, AUX
        (good.with_card, 2 + 2),  # AUX for two surrounds, EXP
        (good.crossed_by_processor, 2 + 2 + 1),  # MAIN for left and right, AUX, EXP
    ],
)
def test_m3_spare_outputs_are_counted_group_by_group(drawn: good.Drawn, spare: int) -> None:
    """With processing and ceiling that do not bind."""
    design, brief = drawn()
    processors = tuple(replace(each, processed_outputs=99) for each in CATALOGUE.processors)
    verdict = verify(design, limited(brief, spare_ceiling=99), replace(CATALOGUE, processors=processors), HOUSE)
    assert verdict.measures.spare_outputs == spare


def test_m3_speaker_outputs_are_not_spare() -> None:
    """Without a centre in the brief, the receiver has its centre line output free; its amplifier does not count."""
    design, brief = good.receiver()
    front = brief.loudspeakers[0]
    stereo = replace(brief, loudspeakers=(replace(front, placements=front.placements[:2]),))
    verdict = verify(without_unit("Centre")(design), stereo, CATALOGUE, HOUSE)
    assert verdict.measures.spare_outputs == 1


def test_m3_spare_outputs_are_no_more_than_can_be_processed() -> None:
    """SUB 1 and AUX 3 are free, but a processor of five outputs has none left for them."""
    design, brief = good.dedicated()
    verdict = verify(design, brief, changed("processors", "P-LINE", processed_outputs=5), HOUSE)
    assert verdict.measures.spare_outputs == 0
    assert verdict.findings == ()


def test_m3_the_ceiling_caps_the_measure_but_not_what_is_asked() -> None:
    """The brief may ask for more spare outputs than are counted as a merit."""
    design, brief = good.dedicated()
    low = limited(brief, spare_ceiling=1, spare_outputs=3)
    verdict = verify(design, low, CATALOGUE, HOUSE)
    assert verdict.measures.spare_outputs == 1
    assert verdict.findings == ()


def test_labour_without_an_exchange_rate_is_told() -> None:
    design, brief = good.dedicated()
    in_yen = replace(brief, project=replace(brief.project, currency="JPY"))
    told = {finding.message for finding in verify(design, in_yen, CATALOGUE, HOUSE).findings}
    assert "Labour cannot be priced: JPY has no exchange rate." in told


def test_a_brief_in_another_currency_is_quoted_in_it() -> None:
    """With 0.6125 USD for 1 NZD: 5000.00 NZD is 3062.50 USD, 20.00 NZD of labour 12.25 USD."""
    design, brief = good.dedicated()
    in_dollars = replace(brief, project=replace(brief.project, currency="USD"))
    findings = verify(design, in_dollars, CATALOGUE, HOUSE).findings
    told = {finding.subject: finding.message for finding in findings}
    assert told["P-LINE"] == "P-LINE is charged at 5000.00 USD; the offer comes to 3062.50 USD."
    assert told["run_lead"] == "run_lead is charged at 20.00 USD; the house takes 12.25 USD."


def test_labour_that_costs_nothing_may_be_left_out() -> None:
    design, brief = good.dedicated()
    unpaid = replace(design, labour=())
    assert verify(unpaid, brief, CATALOGUE, replace(HOUSE, labour_rate=Decimal(0))).findings == ()


@pytest.mark.parametrize("output", ["Proc/SUB/2", "Proc/AUX/4"])
def test_r5_bass_is_rendered_once_however_many_outputs_it_takes(output: str) -> None:
    """Bass on two outputs and three main channels: four rendered, five processed."""
    design, brief = good.dedicated()
    moved = connection_to("Sub 1/RCA/1", source=jack(output))(design)
    lines = {line.group: line.used for line in verify(moved, brief, CATALOGUE, HOUSE).ledger}
    assert (lines["rendered channels"], lines["processed outputs"]) == (4, 5)


def test_a_wrong_price_in_the_design_does_not_change_the_quote() -> None:
    design, brief = good.dedicated()
    cheaper = purchase_of("SW-ACT", unit_price_minor=1)(design)
    assert verify(cheaper, brief, CATALOGUE, HOUSE).quote == verify(design, brief, CATALOGUE, HOUSE).quote


def test_r13_only_primary_seats_need_the_target_level() -> None:
    """A second row 10 m away would get 90 dB; it counts only when no seat is primary."""
    design, brief = good.dedicated()
    front = replace(brief.loudspeakers[0], candidates=(), target_spl_db=100.0)
    row = Seat(name="Row 2", position=Point(11.0, 1.0, 1.0))
    near_and_far = replace(brief, loudspeakers=(front,), seats=(*brief.seats, row))
    assert verify(design, near_and_far, CATALOGUE, HOUSE).findings == ()
    undecided = replace(near_and_far, seats=tuple(replace(seat, primary=False) for seat in near_and_far.seats))
    told = {f.message for f in verify(design, undecided, CATALOGUE, HOUSE).findings if f.rule == "R13"}
    assert "Left reaches 90.0 dB at Row 2; the brief asks for 100 dB." in told
