"""One fault in how feeds share an output, or in the control that the brief asks for: R8 to R10.

That N legs take N - 1 two-way splitters is common practice, no published source.
"""

from dataclasses import replace
from typing import Any

import pytest

from planner.brief.records import Drive
from planner.catalogue.records import PortRole
from planner.checks import verify
from planner.design import UnitKind
from tests.checks import good_designs as good
from tests.checks.drawing import (
    DIRECT,
    Spoil,
    both,
    connection_to,
    jack,
    limited,
    stocked,
    unit_called,
    with_connection,
    with_unit,
    without_connection_to,
    without_unit,
)
from tests.checks.faults import assert_found, assert_told
from tests.checks.gear import CATALOGUE, FULL, HOUSE
from tests.checks.good_designs import Drawn

FOURTH_SUBWOOFER = with_unit(UnitKind.SUBWOOFER, "Sub 4", "SW-ACT", member=("Bass", 3))
THIRD_SPLITTER = with_unit(UnitKind.SPLITTER, "Splitter 3", "SPL-RCA")
THIRD_IN_FRONT = both(
    THIRD_SPLITTER,
    connection_to("Splitter 1/IN/1", source=jack("Splitter 3/LEG/1")),
    with_connection("LFE1", "Proc/SUB/1", "Splitter 3/IN/1", DIRECT),
)


@pytest.mark.parametrize(
    ("drawn", "spoil", "words"),
    [
        pytest.param(
            good.split,
            connection_to("Sub 3/RCA/1", channel="LFE2"),
            "split across LFE1 and LFE2; a split is of one channel",
            id="two channels on one split",
        ),
        pytest.param(
            good.split,
            connection_to("Sub 3/RCA/1", channel="LFE2"),
            "Splitter 2 / LEG 2 carries LFE1, not LFE2",
            id="a leg with another channel",
        ),
        pytest.param(
            good.split, THIRD_IN_FRONT, "3 splitters on Proc / SUB 1 for 3 legs; fewer than 3", id="N - 1 splitters"
        ),
        pytest.param(
            good.split,
            both(without_connection_to("Sub 3/RCA/1"), without_unit("Sub 3")),
            "2 splitters on Proc / SUB 1 for 2 legs",
            id="a leg without a lead",
        ),
        pytest.param(
            good.dedicated,
            both(
                THIRD_SPLITTER,
                connection_to("Sub 1/RCA/1", source=jack("Splitter 3/LEG/1")),
                with_connection("LFE1", "Proc/SUB/1", "Splitter 3/IN/1", DIRECT),
            ),
            "1 splitter on Proc / SUB 1 for 1 leg; none will do",
            id="a splitter for one leg",
        ),
        pytest.param(good.dedicated, THIRD_SPLITTER, "Splitter 3 is plugged onto nothing", id="a loose splitter"),
        pytest.param(
            good.split,
            unit_called("Splitter 2", sku="SPL-XLR"),
            "differ in contacts or balance",
            id="splitters of two kinds",
        ),
        pytest.param(
            good.fixed_routing,
            both(
                with_unit(UnitKind.SPLITTER, "Splitter 1", "SPL-XLR"),
                with_connection("LFE1", "Proc/AUX/1", "Splitter 1/IN/1", DIRECT),
                connection_to("DSP 1/IN/1", source=jack("Splitter 1/LEG/1")),
                connection_to("Sub 1/XLR/1", source=jack("Splitter 1/LEG/2")),
            ),
            "Proc / AUX 1 feeds a DSP unit; nothing else may share",
            id="a split that joins a DSP input",
        ),
        pytest.param(
            good.split,
            both(
                FOURTH_SUBWOOFER,
                with_connection("LFE1", "Sub 3/LINK/1", "Sub 4/XLR/1", stocked("L-XLR-5", 2.70)),
            ),
            "no daisy chain may begin at a leg",
            id="a chain from a leg",
        ),
        pytest.param(
            good.amplified,
            both(
                with_unit(UnitKind.SPLITTER, "Splitter 3", "SPL-RCA"),
                with_connection("M+030", "Amp 1/POST/1", "Splitter 3/IN/1", DIRECT),
            ),
            "goes onto an output of a processor or DSP unit, not Amp 1",
            id="a splitter on an amplifier",
        ),
        pytest.param(
            good.crossed_by_processor,
            both(
                with_unit(UnitKind.SPLITTER, "Splitter 1", "SPL-XLR"),
                with_connection("M+000", "Card 1/EXP/1", "Splitter 1/IN/1", DIRECT, 1),
                connection_to("Amp 1/BAL/1", source=jack("Splitter 1/LEG/1")),
                connection_to("Amp 1/BAL/2", source=jack("Splitter 1/LEG/2"), way=1),
            ),
            "the way of a loudspeaker is never split",
            id="a split of ways",
        ),
    ],
)
def test_r8_splits_are_of_one_channel_with_fewest_splitters(drawn: Drawn, spoil: Spoil, words: str) -> None:
    assert_found(drawn, spoil, "R8", words)


@pytest.mark.parametrize(
    ("drawn", "words"),
    [
        pytest.param(good.split, "Proc / SUB 1 is split to 3 feeds; the brief allows 2", id="by splitters"),
        pytest.param(good.receiver, "Rec / SUB (mirrored) is split to 3 feeds", id="by mirrored jacks as well"),
    ],
)
def test_r8_the_largest_split_is_the_briefs(drawn: Drawn, words: str) -> None:
    design, brief = drawn()
    assert_told(design, limited(brief, largest_split=2), "R8", words)


def test_r8_one_three_way_splitter_serves_three_legs() -> None:
    change = both(
        unit_called("Splitter 1", sku="SPL-RCA-3"),
        without_unit("Splitter 2"),
        without_connection_to("Splitter 2/IN/1"),
        connection_to("Sub 2/RCA/1", source=jack("Splitter 1/LEG/2")),
        connection_to("Sub 3/RCA/1", source=jack("Splitter 1/LEG/3")),
    )
    design, brief = good.split()
    findings = verify(change(design), brief, CATALOGUE, HOUSE).findings
    assert [finding for finding in findings if finding.rule == "R8"] == []


@pytest.mark.parametrize(
    ("drawn", "spoil", "words"),
    [
        pytest.param(
            good.daisy_chain,
            connection_to("Sub 3/XLR/1", channel="LFE2"),
            "A chain is of one channel; LFE2",
            id="two channels in a chain",
        ),
        pytest.param(
            good.daisy_chain,
            connection_to("Sub 3/XLR/1", source=jack("Sub 1/LINK/1")),
            "Sub 1 links on to 2 others",
            id="a chain that branches",
        ),
        pytest.param(
            good.daisy_chain,
            connection_to("Sub 1/XLR/1", source=jack("Sub 3/LINK/1")),
            "has no head that a signal reaches",
            id="a ring",
        ),
        pytest.param(
            good.daisy_chain,
            connection_to("Left/XLR/1", source=jack("Sub 3/LINK/1")),
            "A daisy chain joins subwoofers only; Left is none",
            id="a loudspeaker in a chain",
        ),
    ],
)
def test_r9_chains_run_from_link_output_to_subwoofer(drawn: Drawn, spoil: Spoil, words: str) -> None:
    assert_found(drawn, spoil, "R9", words)


def test_r9_a_chain_is_no_longer_than_may_share_an_output() -> None:
    design, brief = good.daisy_chain()
    words = "3 subwoofers are chained from Sub 1; at most 2 may share an output"
    assert_told(design, limited(brief, largest_split=2), "R9", words)


def test_r9_an_output_that_is_no_link_cannot_chain() -> None:
    design, brief = good.daisy_chain()
    ports = {
        sku: tuple(replace(port, role=PortRole.PLAIN) if port.role is PortRole.LINK else port for port in groups)
        for sku, groups in CATALOGUE.ports.items()
    }
    findings = verify(design, brief, replace(CATALOGUE, ports=ports), HOUSE).findings
    assert {(finding.rule, finding.message) for finding in findings} == {
        ("R9", f"Sub {number} / LINK 1 is no link output of a subwoofer.") for number in (1, 2)
    }


def test_a_model_without_a_link_output_has_no_jack_to_chain_from() -> None:
    other_model = both(*(unit_called(f"Sub {number}", sku="SW-ALT") for number in (1, 2, 3)))
    assert_found(good.daisy_chain, other_model, "R0", "SW-ALT has no port group LINK")


@pytest.mark.parametrize(
    ("drawn", "limits", "words"),
    [
        pytest.param(
            good.daisy_chain,
            {"least_independent_subwoofers": 1},
            "0 subwoofers can be set alone in gain, polarity, delay and 0 filters; the brief asks for 1",
            id="too few independent",
        ),
        pytest.param(
            good.dedicated,
            {"least_independent_subwoofers": 2, "filters_per_subwoofer": 11},
            "0 subwoofers can be set alone in gain, polarity, delay and 11 filters",
            id="too few filters",
        ),
        pytest.param(
            good.split,
            {"least_control_groups": 2},
            "The subwoofers make 1 control group; the brief asks for 2",
            id="too few groups",
        ),
        pytest.param(
            good.receiver,
            {"least_control_groups": 2},
            "The subwoofers make 1 control group",
            id="mirrored outputs are one group",
        ),
    ],
)
def test_r10_control_is_as_asked(drawn: Drawn, limits: dict[str, int], words: str) -> None:
    design, brief = drawn()
    assert_told(design, limited(brief, **limits), "R10", words)


@pytest.mark.parametrize(
    ("change", "independent"),
    [
        ({}, 2),
        ({"gain": False}, 0),
        ({"polarity": False}, 0),
        ({"max_delay_ms": 0.0}, 0),
        ({"filters": 3}, 2),
        ({"filters": 2}, 0),
    ],
)
def test_r10_independent_means_gain_polarity_delay_and_the_filters_asked(
    change: dict[str, Any], independent: int
) -> None:
    design, brief = good.dedicated()
    processors = tuple(
        replace(each, controls=replace(FULL, **change)) if each.sku == "P-LINE" else each
        for each in CATALOGUE.processors
    )
    verdict = verify(design, limited(brief, filters_per_subwoofer=3), replace(CATALOGUE, processors=processors), HOUSE)
    assert (verdict.measures.independent_subs, verdict.measures.control_groups) == (independent, 2)


@pytest.mark.parametrize(
    ("drawn", "forbidden", "words"),
    [
        (good.dedicated, Drive.DEDICATED, "Sub 1 is on a processor output of its own"),
        (good.by_dsp_unit, Drive.DSP, "Sub 1 is on an output of a DSP unit"),
        (good.split, Drive.SPLIT, "Sub 1 is on a split output"),
        (good.daisy_chain, Drive.DAISY_CHAINED, "Sub 2 is daisy-chained"),
    ],
)
def test_a_drive_that_is_not_allowed_is_found(drawn: Drawn, forbidden: Drive, words: str) -> None:
    design, brief = drawn()
    assert_told(design, limited(brief, drives=frozenset(Drive) - {forbidden}), "R18", words)


@pytest.mark.parametrize(
    ("drawn", "needed"),
    [
        (good.dedicated, {Drive.DEDICATED}),
        (good.by_dsp_unit, {Drive.DEDICATED, Drive.DSP}),  # the loudspeakers are dedicated
        (good.receiver, {Drive.DEDICATED, Drive.SPLIT}),
        (good.daisy_chain, {Drive.DEDICATED, Drive.DAISY_CHAINED}),
    ],
)
def test_the_drives_that_occur_are_enough(drawn: Drawn, needed: set[Drive]) -> None:
    design, brief = drawn()
    assert verify(design, limited(brief, drives=frozenset(needed)), CATALOGUE, HOUSE).findings == ()


def test_a_split_behind_a_dsp_unit_needs_both_drives() -> None:
    design, brief = good.fixed_routing()
    spoil = both(
        with_unit(UnitKind.SPLITTER, "Splitter 1", "SPL-XLR"),
        with_connection("LFE1", "DSP 1/OUT/1", "Splitter 1/IN/1", DIRECT),
        connection_to("Sub 1/XLR/1", source=jack("Splitter 1/LEG/1")),
        connection_to("Sub 2/XLR/1", source=jack("Splitter 1/LEG/2")),
    )
    for missing, words in ((Drive.DSP, "Sub 1 is on an output of a DSP unit"), (Drive.SPLIT, "Sub 1 is on a split")):
        assert_told(spoil(design), limited(brief, drives=frozenset(Drive) - {missing}), "R18", words)
