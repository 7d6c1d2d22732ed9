"""One fault in a good design, in what it refers to, in its feeds or in its jacks: R0, R1, R2.

Each case names a piece of the sentence that must be reported under the rule.
"""

from dataclasses import replace

import pytest

from planner.design import LeadPart, UnitKind
from tests.checks import good_designs as good
from tests.checks.drawing import (
    Spoil,
    both,
    connection_to,
    jack,
    lead_to,
    stocked,
    unit_called,
    with_connection,
    with_purchase,
    with_unit,
    without_connection_to,
    without_unit,
)
from tests.checks.faults import assert_found
from tests.checks.good_designs import Drawn


@pytest.mark.parametrize(
    ("drawn", "spoil", "words"),
    [
        pytest.param(
            good.dedicated,
            with_unit(UnitKind.AMPLIFIER, "Left", "A-2"),
            "2 units bear the name Left",
            id="two units of one name",
        ),
        pytest.param(good.dedicated, unit_called("Sub 1", sku="SW-NONE"), "does not have", id="unknown sku"),
        pytest.param(good.dedicated, unit_called("Sub 1", sku="LS-ACT"), "is a loudspeaker", id="sku of another kind"),
        pytest.param(good.dedicated, unit_called("Proc", sku="L-XLR-5"), "is a part of a lead", id="sku of a lead"),
        pytest.param(
            good.dedicated, unit_called("Sub 1", member=("Bass", 7)), "stands at Bass 8", id="no such place in the set"
        ),
        pytest.param(good.dedicated, unit_called("Sub 1", member=None), "stands at no place", id="no place at all"),
        pytest.param(
            good.with_card, unit_called("Card 1", host="Proc 9"), "sits in Proc 9", id="card in an absent processor"
        ),
        pytest.param(
            good.dedicated,
            connection_to("Sub 1/RCA/1", source=jack("Amp 9/POST/1")),
            "no unit Amp 9",
            id="no such unit",
        ),
        pytest.param(
            good.dedicated,
            connection_to("Sub 1/RCA/1", source=jack("Proc/TAPE/1")),
            "no port group TAPE",
            id="no such port group",
        ),
        pytest.param(
            good.dedicated,
            connection_to("Sub 1/RCA/1", source=jack("Proc/SUB/3")),
            "the group has 2 jacks",
            id="jack index beyond the count",
        ),
        pytest.param(
            good.dedicated,
            connection_to("Sub 1/RCA/1", source=jack("Proc/SUB/0")),
            "the group has 2 jacks",
            id="jack index zero",
        ),
        pytest.param(
            good.dedicated,
            connection_to("Sub 1/RCA/1", source=jack("Left/RCA/1")),
            "used as an output, but it is an input",
            id="wrong direction",
        ),
        pytest.param(
            good.by_dsp_unit,
            lambda design: replace(design, routes=(replace(design.routes[0], source=jack("DSP 1/IN/3")),)),
            "the group has 2 jacks",
            id="route from no jack",
        ),
        pytest.param(
            good.dedicated, lead_to("Left/XLR/1", parts=(LeadPart(sku="L-NONE", count=1),)), "L-NONE", id="unknown lead"
        ),
        pytest.param(good.dedicated, with_purchase("NOTHING", 1, 100), "NOTHING is bought", id="unknown purchase"),
    ],
)
def test_r0_everything_referred_to_exists(drawn: Drawn, spoil: Spoil, words: str) -> None:
    assert_found(drawn, spoil, "R0", words)


@pytest.mark.parametrize(
    ("drawn", "spoil", "words"),
    [
        pytest.param(good.dedicated, without_connection_to("Sub 2/XLR/1"), "Nothing drives Sub 2", id="undriven"),
        pytest.param(
            good.dedicated,
            with_connection("LFE1", "Proc/AUX/2", "Sub 1/XLR/1", stocked("L-XLR-5", 1.60)),
            "Sub 1 is driven 2 times",
            id="driven twice, by two input groups",
        ),
        pytest.param(
            good.dedicated,
            connection_to("Left/XLR/1", channel="M-030"),
            "Left plays M+030, but its lead carries M-030",
            id="another channel",
        ),
        pytest.param(good.dedicated, without_unit("Centre"), "Front 3 (M+000) has no loudspeaker", id="missing"),
        pytest.param(
            good.dedicated,
            unit_called("Centre", member=("Front", 1)),
            "Right and Centre stand at the same place",
            id="two at one place",
        ),
        pytest.param(
            good.amplified, without_connection_to("Amp 1/BAL/1"), "Left hangs on Amp 1 / POST 1", id="dead amplifier"
        ),
        pytest.param(
            good.dedicated,
            both(
                with_unit(UnitKind.AMPLIFIER, "Amp 1", "A-2"),
                with_connection("LFE1", "Proc/AUX/3", "Amp 1/BAL/1", stocked("L-XLR-5", 1.00)),
            ),
            "Proc / AUX 3 is plugged in, but reaches no loudspeaker",
            id="an output that reaches nothing",
        ),
        pytest.param(
            good.crossed, connection_to("Centre/LOW/1", way=2), "Centre, way 1 is fed way 2", id="the other way"
        ),
        pytest.param(
            good.crossed,
            connection_to("Centre/LOW/1", way=None),
            "way 1 is fed the whole channel",
            id="the whole channel into a way",
        ),
        pytest.param(
            good.dedicated, connection_to("Left/XLR/1", way=1), "Left is fed way 1", id="a way into a whole loudspeaker"
        ),
    ],
)
def test_r1_every_feed_is_driven_once_by_its_channel(drawn: Drawn, spoil: Spoil, words: str) -> None:
    assert_found(drawn, spoil, "R1", words)


@pytest.mark.parametrize(
    ("drawn", "spoil", "words"),
    [
        pytest.param(
            good.dedicated,
            connection_to("Sub 2/XLR/1", source=jack("Proc/SUB/1")),
            "2 plugs are to go into Proc / SUB 1",
            id="two plugs in an output",
        ),
        pytest.param(
            good.dedicated,
            with_connection("LFE1", "Proc/SUB/2", "Sub 1/RCA/1", stocked("L-RCA-5", 1.60)),
            "2 plugs are to go into Sub 1 / RCA 1",
            id="two plugs in an input",
        ),
        pytest.param(
            good.split,
            connection_to("Sub 3/RCA/1", source=jack("Splitter 2/LEG/1")),
            "2 plugs are to go into Splitter 2 / LEG 1",
            id="two plugs on a splitter leg",
        ),
    ],
)
def test_r2_every_jack_takes_one_plug(drawn: Drawn, spoil: Spoil, words: str) -> None:
    assert_found(drawn, spoil, "R2", words)
