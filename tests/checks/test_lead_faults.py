"""R3: one fault in a lead of a good design, and what is allowed though it looks odd.

Each case names a piece of the sentence that must be reported under the rule.
"""

from dataclasses import replace

import pytest

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue, Lead
from planner.checks import verify
from planner.design import LeadMethod, LeadPart
from tests.checks import good_designs as good
from tests.checks.drawing import (
    DIRECT,
    Spoil,
    adapted,
    both,
    connection_to,
    cut,
    jack,
    lead_to,
    made_up,
    purchase_of,
    stocked,
    unit_called,
)
from tests.checks.faults import assert_found
from tests.checks.gear import CATALOGUE, HOUSE
from tests.checks.good_designs import Drawn


@pytest.mark.parametrize(
    ("drawn", "spoil", "words"),
    [
        pytest.param(
            good.dedicated,
            lead_to("Left/XLR/1", flipped=True),
            "The jack is xlr male and what plugs in is xlr male",
            id="gender",
        ),
        pytest.param(
            good.dedicated,
            connection_to("Left/XLR/1", lead=stocked("L-RX-5", 3.80)),
            "The jack is xlr male and what plugs in is rca male",
            id="connector",
        ),
        pytest.param(
            good.dedicated,
            connection_to("Left/XLR/1", sink=jack("Left/RCA/1")),
            "The jack is rca female and what plugs in is xlr male",
            id="connector at the far end",
        ),
        pytest.param(
            good.dedicated,
            connection_to("Right/XLR/1", lead=stocked("L-XLR-5", 6.00)),
            "L-XLR-5 is 5 m long; 6.00 m are wanted",
            id="too short",
        ),
        pytest.param(
            good.dedicated, lead_to("Right/XLR/1", length_m=5.99), "put at 5.99 m; the route takes 6.00", id="length"
        ),
        pytest.param(good.dedicated, lead_to("Right/XLR/1", length_m=float("nan")), "takes 6.00 m", id="no length"),
        pytest.param(
            good.dedicated,
            connection_to("Left/XLR/1", lead=stocked("L-XU-5", 3.80)),
            "L-XU-5 is unbalanced",
            id="unbalanced lead on a balanced pair",
        ),
        pytest.param(
            good.by_dsp_unit,
            connection_to("Sub 4/XLR/1", lead=made_up(8.20, ("BC-UNB", 9), ("CN-XM", 1))),
            "BC-UNB is unbalanced",
            id="unbalanced cable on a balanced pair",
        ),
        pytest.param(
            good.by_dsp_unit,
            connection_to("Sub 4/XLR/1", lead=made_up(8.20, ("BC-SPK", 17), ("CN-XM", 1))),
            "BC-SPK is speaker cable",
            id="speaker cable at line level",
        ),
        pytest.param(
            good.by_dsp_unit,
            connection_to("Sub 4/XLR/1", lead=made_up(8.20, ("BC-BAL", 8), ("CN-XM", 1))),
            "8 × 1 m of BC-BAL make 8 m; 8.20 m are wanted",
            id="too few steps",
        ),
        pytest.param(
            good.by_dsp_unit,
            connection_to("Sub 4/XLR/1", lead=made_up(8.20, ("BC-BAL", 9))),
            "The jack is xlr female and what plugs in is bare tail",
            id="a tail where there is no clamp",
        ),
        pytest.param(
            good.by_dsp_unit,
            connection_to("Sub 4/XLR/1", lead=made_up(8.20, ("BC-BAL", 9), ("CN-XF", 1))),
            "what plugs in is xlr female",
            id="the wrong connector fitted",
        ),
        pytest.param(
            good.by_dsp_unit,
            connection_to("Sub 4/XLR/1", lead=made_up(8.20, ("CN-XM", 1), ("CN-XM", 1), ("BC-BAL", 9))),
            "one cable, with one connector at most",
            id="two connectors at one end",
        ),
        pytest.param(
            good.by_dsp_unit,
            connection_to("Sub 4/XLR/1", lead=cut("L-XLR-15", "b", 8.20)),
            "Half of L-XLR-15 is 7.5 m; 8.20 m are wanted",
            id="cut lead too short",
        ),
        pytest.param(
            good.by_dsp_unit, lead_to("Sub 1/XLR/1", cut_end="a"), "what plugs in is xlr female", id="the wrong half"
        ),
        pytest.param(good.by_dsp_unit, lead_to("Sub 1/XLR/1", cut_end=None), '"a" or "b"', id="no half named"),
        pytest.param(
            good.by_dsp_unit,
            lead_to("Sub 1/XLR/1", parts=(LeadPart(sku="L-XU-5", count=1),)),
            "L-XU-5 is unbalanced",
            id="unbalanced tail on a balanced pair",
        ),
        pytest.param(
            good.dedicated,
            connection_to("Left/XLR/1", lead=cut("L-XLR-10", "b", 3.80)),
            "needs a terminal block at exactly one end",
            id="cut without a terminal block",
        ),
        pytest.param(
            good.by_dsp_unit,
            purchase_of("L-XLR-15", count=0),
            "0 tails of end A and 1 of end B are cut from L-XLR-15",
            id="tails not bought",
        ),
        pytest.param(
            good.by_dsp_unit,
            connection_to("Sub 1/XLR/1", lead=cut("L-XLR-15", "b", 1.60)),
            "L-XLR-15 is cut, though half of a shorter lead of its kind would reach 1.60 m",
            id="a long lead cut for a short tail",
        ),
        pytest.param(
            good.by_dsp_unit,
            both(
                connection_to("Sub 3/XLR/1", lead=made_up(6.00, ("BC-BAL", 6), ("CN-XM", 1))),
                connection_to("DSP 1/IN/1", lead=cut("L-XLR-15", "a", 1.00)),
            ),
            "would reach 1.00 m: 1 such tails of end A, and 0 left over",
            id="a long lead cut for a short tail alone",
        ),
        pytest.param(
            good.by_dsp_unit,
            both(
                connection_to("DSP 1/IN/1", lead=cut("L-XLR-15", "a", 1.00)),
                connection_to("Sub 1/XLR/1", lead=cut("L-XLR-15", "b", 1.60)),
            ),
            "Sub 1 / XLR 1: L-XLR-15 is cut, though",
            id="of two short tails only one is of a half left over",
        ),
        pytest.param(
            good.by_dsp_unit,
            lead_to("Sub 1/XLR/1", cut_end="a"),
            "2 tails of end A and 0 of end B are cut from L-XLR-5; with those used whole that takes 4 leads",
            id="two tails of one end from one lead",
        ),
        pytest.param(
            good.crossed,
            lead_to("Sub 1/XLR/1", parts=(LeadPart(sku="AD-RX", count=1), LeadPart(sku="L-RCA-5", count=1))),
            "AD-RX does not join",
            id="adapter at the wrong end",
        ),
        pytest.param(
            good.crossed, lead_to("Sub 1/XLR/1", method=LeadMethod.STOCKED), "but has 1 adapters", id="adapter unsaid"
        ),
        pytest.param(
            good.crossed,
            lead_to("Sub 1/XLR/1", parts=(LeadPart(sku="L-RCA-5", count=2), LeadPart(sku="AD-RX", count=1))),
            "one made lead, with one adapter at most",
            id="two leads in one",
        ),
        pytest.param(
            good.dedicated, lead_to("Left/XLR/1", parts=()), "A stocked lead is one made lead", id="made of nothing"
        ),
        pytest.param(
            good.receiver,
            connection_to("Left/POST/1", lead=made_up(3.80, ("BC-BAL", 4))),
            "BC-BAL is line cable",
            id="line cable at speaker level",
        ),
        pytest.param(
            good.amplified,
            connection_to("Sub 1/POLE/1", lead=made_up(1.60, ("BC-SPK", 4))),
            "The jack is speaker_4pole female and what plugs in is bare tail",
            id="bare tail at a 4-pole jack",
        ),
        pytest.param(
            good.by_dsp_unit,
            lead_to("Sub 1/XLR/1", parts=(LeadPart(sku="L-XLR-5", count=1), LeadPart(sku="CN-XM", count=1))),
            "one half of one made lead, and nothing else",
            id="a cut lead with a connector",
        ),
        pytest.param(
            good.receiver,
            connection_to("Left/POST/1", lead=stocked("L-XLR-5", 3.80)),
            "L-XLR-5 is a line lead",
            id="a line lead at speaker level",
        ),
        pytest.param(
            good.receiver,
            connection_to("Left/POST/1", lead=adapted(3.80, "L-XLR-5", "AD-RX")),
            "Adapters are not used at speaker level",
            id="an adapter at speaker level",
        ),
        pytest.param(
            good.dedicated,
            connection_to("Sub 2/XLR/1", source=jack("Proc/NET/1")),
            "A digital port is used",
            id="digital port",
        ),
        pytest.param(
            good.receiver,
            connection_to("Sub 1/RCA/1", source=jack("Rec/SPK/3")),
            "joins a speaker-level output to a line-level input",
            id="speaker level into a line input",
        ),
        pytest.param(
            good.dedicated, connection_to("Left/XLR/1", lead=DIRECT), "Only a splitter plugs on", id="no lead at all"
        ),
        pytest.param(
            good.split,
            connection_to("Splitter 1/IN/1", lead=stocked("L-RCA-5", 1.00)),
            "plugs onto the jack itself",
            id="a lead to a splitter",
        ),
        pytest.param(
            good.split,
            unit_called("Splitter 1", sku="SPL-XLR"),
            "The jack is rca female and what plugs in is xlr female",
            id="a splitter that does not mate",
        ),
        pytest.param(
            good.split,
            lead_to("Splitter 1/IN/1", parts=(LeadPart(sku="AD-RX", count=1),)),
            "takes no lead parts",
            id="direct with parts",
        ),
        pytest.param(
            good.crossed,
            connection_to("Sub 1/XLR/1", lead=adapted(1.60, "L-RCA-5", "CN-XM")),
            "one made lead, with one adapter at most",
            id="a connector as an adapter",
        ),
        pytest.param(
            good.dedicated,
            lead_to("Left/XLR/1", parts=(LeadPart(sku="L-XLR-5", count=0),)),
            "counted less than once",
            id="no lead counted",
        ),
    ],
)
def test_r3_every_lead_mates_and_suffices(drawn: Drawn, spoil: Spoil, words: str) -> None:
    assert_found(drawn, spoil, "R3", words)


@pytest.mark.parametrize(
    ("drawn", "change"),
    [
        pytest.param(good.dedicated, lead_to("Sub 1/RCA/1", flipped=True), id="a symmetrical lead turned"),
        pytest.param(
            good.dedicated,
            connection_to("Sub 1/RCA/1", lead=made_up(1.60, ("CN-RM", 1), ("BC-BAL", 2), ("CN-RM", 1))),
            id="two-core cable on an unbalanced line",
        ),
        pytest.param(
            good.dedicated,
            both(
                connection_to("Sub 1/RCA/1", sink=jack("Sub 1/XLR/1")),
                connection_to("Sub 1/XLR/1", lead=stocked("L-RX-5", 1.60)),
            ),
            id="RCA to XLR by one lead",
        ),
        pytest.param(
            good.by_dsp_unit,
            connection_to("DSP 1/IN/1", lead=cut("L-XLR-15", "a", 1.00)),
            id="a half left over of a longer lead",
        ),
    ],
)
def test_r3_allows_what_fits(drawn: Drawn, change: Spoil) -> None:
    design, brief = drawn()
    findings = verify(change(design), brief, CATALOGUE, HOUSE).findings
    assert [finding for finding in findings if finding.rule == "R3"] == []


def test_a_longer_lead_is_cut_where_the_shorter_cannot_be_had() -> None:
    """Without the 5 m lead, excluded or sold out, the 10 m lead is the shortest for Sub 1."""
    design, brief = good.by_dsp_unit()
    longer = connection_to("Sub 1/XLR/1", lead=cut("L-XLR-10", "b", 1.60))(design)
    sold_out = tuple(replace(offer, stock=0) for offer in CATALOGUE.offers["L-XLR-5"])
    without = replace(CATALOGUE, offers={**CATALOGUE.offers, "L-XLR-5": sold_out})
    excluding = replace(brief, excluded=("L-XLR-5",))

    def told(asked: Brief, catalogue: Catalogue) -> bool:
        findings = verify(longer, asked, catalogue, HOUSE).findings
        return any(f.subject.endswith("Sub 1 / XLR 1") and "shorter lead" in f.message for f in findings)

    assert told(brief, CATALOGUE)
    assert not told(excluding, CATALOGUE)
    assert not told(brief, without)


def test_a_lead_turned_round_is_of_the_same_kind() -> None:
    """The 10 m lead is cut for 1.60 m though the 5 m lead would do, listed with its ends the other way about."""
    design, brief = good.by_dsp_unit()
    longer = connection_to("Sub 1/XLR/1", lead=cut("L-XLR-10", "b", 1.60))(design)
    turned = tuple(
        replace(lead, end_a=lead.end_b, end_b=lead.end_a) if lead.sku == "L-XLR-5" else lead for lead in CATALOGUE.leads
    )
    findings = verify(longer, brief, replace(CATALOGUE, leads=turned), HOUSE).findings
    assert any("would reach 1.60 m" in f.message for f in findings if f.rule == "R3")


def test_a_made_speaker_lead_may_be_used_as_sold() -> None:
    design, brief = good.amplified()
    plug = CATALOGUE.connectors[0].contact
    speaker_lead = Lead(sku="L-4P-5", name="4-pole", end_a=plug, end_b=plug, balanced=False, length_m=5.0)
    catalogue = replace(CATALOGUE, leads=(*CATALOGUE.leads, speaker_lead))
    made = connection_to("Sub 1/POLE/1", lead=stocked("L-4P-5", 1.60))(design)
    assert not any(finding.rule == "R3" for finding in verify(made, brief, catalogue, HOUSE).findings)


def test_an_adapter_may_be_used_either_way_round() -> None:
    design, brief = good.crossed()
    adapter = CATALOGUE.adapters[0]
    turned = replace(adapter, end_a=adapter.end_b, end_b=adapter.end_a)
    assert verify(design, brief, replace(CATALOGUE, adapters=(turned,)), HOUSE).findings == ()
