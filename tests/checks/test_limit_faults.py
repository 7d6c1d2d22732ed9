"""One fault against the limits of the brief or the terms of the order: R13, R16, R18.

Each case names a piece of the sentence that must be reported under the rule.
"""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from planner.brief.records import Brief, Owned, Point
from planner.catalogue.records import Loudspeaker, Powering
from planner.checks import verify
from planner.checks.selection import distance_loss_db, greatest_level_at_1m_db
from planner.design import Design, UnitKind
from planner.house import Task
from tests.checks import good_designs as good
from tests.checks.drawing import (
    Spoil,
    both,
    connection_to,
    labour_for,
    limited,
    purchase_of,
    stocked,
    unit_called,
    with_connection,
    with_purchase,
    with_unit,
    without_connection_to,
    without_unit,
)
from tests.checks.faults import assert_found, assert_told
from tests.checks.gear import CATALOGUE, HOUSE
from tests.checks.good_designs import Drawn


@pytest.mark.parametrize(
    ("drawn", "spoil", "words"),
    [
        pytest.param(
            good.dedicated, purchase_of("L-XLR-5", count=2), "3 pieces of L-XLR-5 used; 2 owned or bought", id="short"
        ),
        pytest.param(good.dedicated, purchase_of("SW-ACT", unit_price_minor=119999), "1200.00 NZD", id="wrong price"),
        pytest.param(good.dedicated, purchase_of("SW-ACT", supplier="Nobody"), "Nobody does not offer", id="no offer"),
        pytest.param(good.dedicated, purchase_of("SW-ACT", supplier="owned"), "SW-ACT is owned, but", id="not owned"),
        pytest.param(
            good.dedicated,
            both(purchase_of("SW-ACT", supplier="owned", unit_price_minor=0)),
            "SW-ACT: 2 listed as owned; the client has 0",
            id="owned by nobody",
        ),
        pytest.param(
            good.with_card,
            both(lambda design: replace(design, purchases=design.purchases[:3] + design.purchases[4:])),
            "SW-ACT: 0 listed as owned; the client has 1",
            id="owned but bought",
        ),
        pytest.param(
            good.with_card,
            purchase_of("L-XLR-5", count=13),
            "Bulk Depot has 12 of L-XLR-5; 13 to be bought",
            id="over stock",
        ),
        pytest.param(
            good.with_card,
            purchase_of("L-XLR-5", count=5),
            "Bulk Depot sells 6 of L-XLR-5 at least; 5 to be bought",
            id="below the least order",
        ),
        pytest.param(good.dedicated, with_purchase("AD-RX", 0, 1000), "AD-RX is listed 0 times", id="zero bought"),
        pytest.param(
            good.fixed_routing,
            purchase_of("D-FIX", supplier="Unpriced"),
            "JPY has no exchange rate",
            id="no exchange rate",
        ),
        pytest.param(
            good.dedicated, labour_for(Task.LEAD, count=4), "run_lead is listed 4 times; the design takes 5", id="leads"
        ),
        pytest.param(
            good.by_dsp_unit, labour_for(Task.TERMINATION, count=5), "the design takes 6", id="ends to be made up"
        ),
        pytest.param(
            good.dedicated,
            lambda design: replace(design, labour=design.labour[1:]),
            "fit_processor is listed 0 times; the design takes 1",
            id="labour left out",
        ),
        pytest.param(
            good.dedicated,
            labour_for(Task.LEAD, unit_price_minor=1999),
            "charged at 19.99 NZD; the house takes 20.00 NZD",
            id="labour at another price",
        ),
        pytest.param(
            good.dedicated, lambda design: replace(design, currency="USD"), "the brief asks for NZD", id="currency"
        ),
        pytest.param(good.dedicated, unit_called("Sub 2", sku="SW-ALT"), "mixes SW-ACT and SW-ALT", id="mixed models"),
        pytest.param(
            good.dedicated,
            both(*(unit_called(name, sku="LS-ALT") for name in ("Left", "Right", "Centre"))),
            "Front uses LS-ALT; the brief allows LS-ACT",
            id="not a candidate",
        ),
        pytest.param(
            good.dedicated,
            both(*(unit_called(name, sku="SW-ALT") for name in ("Sub 1", "Sub 2"))),
            "Bass uses SW-ALT; the brief allows SW-ACT",
            id="not a candidate subwoofer",
        ),
        pytest.param(
            good.dedicated,
            both(without_unit("Sub 2"), without_connection_to("Sub 2/XLR/1")),
            "Bass has 1 subwoofer; the brief asks for 2",
            id="too few subwoofers",
        ),
    ],
)
def test_r18_what_is_used_is_had_on_the_offers_terms(drawn: Drawn, spoil: Spoil, words: str) -> None:
    assert_found(drawn, spoil, "R18", words)


@pytest.mark.parametrize(
    ("drawn", "limits", "words"),
    [
        (good.dedicated, {"spare_outputs": 4}, "3 outputs to spare; the brief asks for 4"),
        (good.split, {"most_subwoofers_lost": 2}, "One failure can silence 3 subwoofers; the brief allows 2"),
        (good.by_dsp_unit, {"most_dsp_units": 0}, "The design has 1 DSP unit; the brief allows 0"),
        (good.dedicated, {"balanced_only": True}, "Proc / SUB 1 to Sub 1 / RCA 1 is not balanced at both ends"),
        (good.dedicated, {"budget": Decimal("14466.99")}, "14467.00 NZD; the budget is 14466.99"),
    ],
)
def test_r18_the_briefs_limits_hold(drawn: Drawn, limits: dict[str, Any], words: str) -> None:
    design, brief = drawn()
    assert_told(design, limited(brief, **limits), "R18", words)


@pytest.mark.parametrize(
    ("drawn", "limits"),
    [
        (good.dedicated, {"spare_outputs": 3}),
        (good.split, {"most_subwoofers_lost": 3}),
        (good.by_dsp_unit, {"most_dsp_units": 1}),
        (good.by_dsp_unit, {"balanced_only": True}),
        (good.receiver, {"largest_split": 3}),
        (good.dedicated, {"budget": Decimal("14467.00")}),
    ],
)
def test_r18_limits_may_be_met_exactly(drawn: Drawn, limits: dict[str, Any]) -> None:
    design, brief = drawn()
    assert verify(design, limited(brief, **limits), CATALOGUE, HOUSE).findings == ()


@pytest.mark.parametrize("sku", ["P-LINE", "L-RCA-5", "SW-ACT"])
def test_r18_excluded_gear_occurs_nowhere(sku: str) -> None:
    design, brief = good.dedicated()
    assert_told(design, replace(brief, excluded=(sku,)), "R18", f"{sku} is excluded")


def test_r18_excluding_what_is_not_there_changes_nothing() -> None:
    design, brief = good.dedicated()
    assert verify(design, replace(brief, excluded=("AD-RX",)), CATALOGUE, HOUSE).findings == ()


def test_r18_excluded_gear_is_not_even_bought() -> None:
    design, brief = good.dedicated()
    bought = with_purchase("AD-RX", 1, 1000)(design)
    assert_told(bought, replace(brief, excluded=("AD-RX",)), "R18", "AD-RX is excluded")


@pytest.mark.parametrize(
    ("owned", "words"),
    [
        (Owned(sku="D-TB", must_use=True), "D-TB must be used: the client has 1, the design uses 0"),
        (Owned(sku="SW-ACT", count=3, must_use=True), "SW-ACT must be used: the client has 3, the design uses 2"),
        (Owned(sku="L-RCA-5", count=2, must_use=True), "L-RCA-5 must be used: the client has 2, the design uses 1"),
    ],
)
def test_r18_owned_gear_that_must_be_used_is(owned: Owned, words: str) -> None:
    design, brief = good.dedicated()
    assert_told(design, replace(brief, owned=(owned,)), "R18", words)


def test_r18_gear_that_stands_idle_is_not_used() -> None:
    design, brief = good.dedicated()
    idle = with_unit(UnitKind.DSP, "DSP 1", "D-TB")(design)
    owned = replace(brief, owned=(Owned(sku="D-TB", must_use=True),))
    assert_told(idle, owned, "R18", "D-TB must be used: the client has 1, the design uses 0")


def test_r18_gear_that_may_be_used_need_not_be() -> None:
    design, brief = good.dedicated()
    assert verify(design, replace(brief, owned=(Owned(sku="D-TB"),)), CATALOGUE, HOUSE).findings == ()


def test_r18_more_may_be_bought_than_is_used() -> None:
    design, brief = good.dedicated()
    assert verify(purchase_of("L-XLR-5", count=4)(design), brief, CATALOGUE, HOUSE).findings == ()


def test_r18_subwoofers_fill_the_first_positions() -> None:
    """Of a range of 1 to 3, the first and third are taken."""
    design, brief = good.dedicated()
    ranged = replace(brief, subwoofers=(replace(brief.subwoofers[0], least=1, most=3),))
    assert verify(design, ranged, CATALOGUE, HOUSE).findings == ()
    assert_told(
        unit_called("Sub 2", member=("Bass", 2))(design), ranged, "R18", "Bass fills positions 1, 3; the first 2"
    )


def test_r18_subwoofers_are_no_more_than_asked() -> None:
    design, brief = good.dedicated()
    ranged = replace(brief, subwoofers=(replace(brief.subwoofers[0], least=0, most=3),))
    third = both(
        with_unit(UnitKind.SUBWOOFER, "Sub 3", "SW-ACT", member=("Bass", 2)),
        with_connection("LFE1", "Proc/AUX/2", "Sub 3/XLR/1", stocked("L-XLR-10", 6.00)),
    )
    told = {finding.rule for finding in verify(third(design), ranged, CATALOGUE, HOUSE).findings}
    assert told == {"R18"}  # one subwoofer, lead and their labour are not paid for
    assert_told(third(design), brief, "R0", "stands at Bass 3, which the brief does not have")


def test_r16_rack_units_are_summed_over_all_gear() -> None:
    """The processor takes 2, each of two amplifiers 2: six in all."""
    design, brief = good.amplified()
    fits = replace(brief, rack=replace(brief.rack, units=6))
    assert verify(design, fits, CATALOGUE, HOUSE).findings == ()
    short = replace(brief, rack=replace(brief.rack, units=5))
    assert_told(design, short, "R16", "The gear takes 6 rack units; the rack has 5")


def _open_brief(target_spl_db: float) -> tuple[Design, Brief]:
    design, brief = good.dedicated()
    front = replace(brief.loudspeakers[0], candidates=(), target_spl_db=target_spl_db)
    return design, replace(brief, loudspeakers=(front,))


def test_r13_an_open_choice_reaches_the_target_at_the_primary_seat() -> None:
    """110 dB at 1 m; the sofa at (4, 2, 1) is sqrt(10) m from left and right: 110 - 10 = 100 dB."""
    design, brief = _open_brief(100.0)
    assert verify(design, brief, CATALOGUE, HOUSE).findings == ()
    design, brief = _open_brief(100.1)
    assert_told(design, brief, "R13", "Left reaches 100.0 dB at Sofa; the brief asks for 100.1 dB")


def test_r13_a_named_model_is_not_held_against_the_target() -> None:
    design, brief = good.dedicated()
    front = replace(brief.loudspeakers[0], target_spl_db=150.0)
    assert verify(design, replace(brief, loudspeakers=(front,)), CATALOGUE, HOUSE).findings == ()


def _passive(**changes: Any) -> Loudspeaker:
    plain = Loudspeaker(sku="X", name="X", powering=Powering.PASSIVE, sensitivity_db=88.0, handling_w=200.0)
    return replace(plain, **changes)


def test_r13_level_and_distance_as_in_the_worked_example() -> None:
    """L = S(1 W, 1 m) + 10 log10 P - 20 log10 d: 88 dB, 200 W, 3.5 m give 100.129 dB; 2 m loses 6.0206 dB.

    Free-field arithmetic, computed from the formula; no published example.
    """
    level_db = greatest_level_at_1m_db(_passive())
    assert level_db is not None
    here = Point(0.0, 0.0, 0.0)
    assert level_db - distance_loss_db(here, Point(0.0, 3.5, 0.0)) == pytest.approx(100.128939, abs=1e-6)
    assert distance_loss_db(here, Point(2.0, 0.0, 0.0)) == pytest.approx(6.02059991, abs=1e-8)
    assert distance_loss_db(Point(1.0, 1.0, 1.0), Point(2.0, 3.0, 3.0)) == pytest.approx(9.54242509, abs=1e-8)  # 3 m
    assert distance_loss_db(here, Point(0.1, 0.0, 0.0)) == 0.0


@pytest.mark.parametrize(
    ("impedance_ohm", "correction_db"), [(4.0, -3.0151288), (6.0, -1.25421621), (8.0, -0.00482884)]
)
def test_r13_sensitivity_for_2v83_is_brought_to_one_watt(impedance_ohm: float, correction_db: float) -> None:
    """SPL(1 W) = SPL(2.83 V) - 10 log10(2.83^2 / Z), computed."""
    at_2v83 = greatest_level_at_1m_db(_passive(sensitivity_at_2v83=True, impedance_ohm=impedance_ohm))
    at_1w = greatest_level_at_1m_db(_passive())
    assert at_2v83 is not None
    assert at_1w is not None
    assert at_2v83 - at_1w == pytest.approx(correction_db, abs=1e-7)


@pytest.mark.parametrize(
    "unknown",
    [
        _passive(sensitivity_db=None),
        _passive(handling_w=None),
        _passive(sensitivity_at_2v83=True),
        _passive(powering=Powering.ACTIVE),
    ],
)
def test_r13_a_loudspeaker_without_figures_is_not_shown_to_reach_anything(unknown: Loudspeaker) -> None:
    assert greatest_level_at_1m_db(unknown) is None


def test_r13_a_model_that_is_not_shown_to_reach_the_target_is_found() -> None:
    design, brief = _open_brief(1.0)
    active = replace(CATALOGUE.loudspeakers[0], max_spl_db=None)
    findings = verify(design, brief, replace(CATALOGUE, loudspeakers=(active,)), HOUSE).findings
    assert {finding.rule for finding in findings} == {"R13"}


def test_two_wrongs_are_both_told() -> None:
    design, brief = good.dedicated()
    spoiled = both(connection_to("Left/XLR/1", channel="M-030"), labour_for(Task.LEAD, count=4))(design)
    assert {"R1", "R4", "R18"} <= {finding.rule for finding in verify(spoiled, brief, CATALOGUE, HOUSE).findings}
