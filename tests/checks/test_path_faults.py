"""One fault in the signal path of a good design: R4 to R7.

Each case names a piece of the sentence that must be reported under the rule.
"""

from dataclasses import replace

import pytest

from planner.checks import verify
from planner.design import Design, Route, UnitKind
from tests.checks import good_designs as good
from tests.checks.drawing import (
    DIRECT,
    Spoil,
    both,
    connection_to,
    jack,
    made_up,
    stocked,
    unit_called,
    with_connection,
    with_unit,
    without_connection_to,
    without_unit,
)
from tests.checks.faults import assert_found
from tests.checks.gear import CATALOGUE, HOUSE
from tests.checks.good_designs import Drawn


def routes(*pairs: tuple[str, str]) -> Spoil:
    """The design with these routes instead of its own."""
    chosen = tuple(Route(source=jack(source), sink=jack(sink)) for source, sink in pairs)
    return lambda design: replace(design, routes=chosen)


SWAP_MAINS = both(
    connection_to("Left/XLR/1", source=jack("Proc/MAIN/2")), connection_to("Right/XLR/1", source=jack("Proc/MAIN/1"))
)
SECOND_DSP = with_unit(UnitKind.DSP, "DSP 2", "D-TB")


@pytest.mark.parametrize(
    ("drawn", "spoil", "words"),
    [
        pytest.param(good.dedicated, SWAP_MAINS, "fixed to M-030 and cannot carry M+030", id="another main channel"),
        pytest.param(
            good.receiver,
            connection_to("Sub 1/RCA/1", source=jack("Rec/PRE/1")),
            "Rec / PRE 1 is fixed to M+030 and cannot carry LFE1",
            id="bass through a main output",
        ),
        pytest.param(
            good.dedicated,
            connection_to("Left/XLR/1", source=jack("Proc/SUB/2")),
            "Proc / SUB 2 gives bass only and cannot carry M+030",
            id="a main channel through a sub output",
        ),
        pytest.param(
            good.with_card,
            connection_to("Sub 1/XLR/1", source=jack("Proc/AUX/1")),
            "can be assigned M+110, M-110, but not LFE1",
            id="a channel that is not listed",
        ),
        pytest.param(
            good.receiver,
            connection_to("Sub 1/RCA/1", channel="LFE2"),
            "carry one signal, not LFE1 and LFE2",
            id="two signals on mirrored outputs",
        ),
        pytest.param(
            good.crossed_by_processor,
            connection_to("Amp 1/BAL/1", source=jack("Proc/MAIN/3")),
            "gives the whole channel only",
            id="a way from a fixed output",
        ),
        pytest.param(
            good.crossed_by_processor,
            unit_called("Proc", sku="P-LINE"),
            "Centre needs 2 ways; Card 1 / EXP 1 is crossed over in 1 at most",
            id="too few ways in the crossover",
        ),
        pytest.param(
            good.crossed, connection_to("DSP 1/IN/1", way=1), "takes the whole channel", id="a way into a DSP unit"
        ),
        pytest.param(
            good.crossed,
            connection_to("Amp 1/BAL/2", source=jack("Proc/AUX/1")),
            "come from the processor and from a DSP unit",
            id="ways made in two devices",
        ),
        pytest.param(
            good.crossed,
            both(
                with_connection("M+000", "Proc/AUX/1", "DSP 1/IN/2", made_up(1.00, ("CN-XF", 1), ("BC-BAL", 1))),
                routes(("DSP 1/IN/1", "DSP 1/OUT/1"), ("DSP 1/IN/2", "DSP 1/OUT/2")),
            ),
            "DSP 1 / IN 1 and DSP 1 / IN 2; one DSP input must serve all",
            id="ways from two inputs",
        ),
        pytest.param(
            good.crossed,
            both(
                connection_to("Sub 1/XLR/1", source=jack("DSP 1/OUT/3")),
                routes(*((("DSP 1/IN/1"), f"DSP 1/OUT/{output}") for output in (1, 2, 3))),
            ),
            "The DSP input of Centre also serves Sub 1",
            id="a shared input for a crossover",
        ),
    ],
)
def test_r4_outputs_carry_what_their_role_allows(drawn: Drawn, spoil: Spoil, words: str) -> None:
    assert_found(drawn, spoil, "R4", words)


def _second_bass_channel(design: Design) -> Design:
    """Sub 2 on LFE2: one channel more than the processor renders."""
    return connection_to("Sub 2/XLR/1", channel="LFE2")(design)


EXTRA_LEADS = [
    with_connection("LFE1", f"Proc/{output}", f"Sub {number}/XLR/1", stocked("L-XLR-5", 1.60))
    for number, output in ((3, "AUX/2"), (4, "AUX/3"), (5, "AUX/4"), (6, "SUB/2"))
]
EXTRA_SUBWOOFERS = [
    with_unit(UnitKind.SUBWOOFER, f"Sub {number}", "SW-ACT", member=("Bass", number - 1)) for number in (3, 4, 5, 6)
]


@pytest.mark.parametrize(
    ("drawn", "spoil", "words"),
    [
        pytest.param(good.dedicated, _second_bass_channel, "takes 5 channels; the processor renders 4", id="rendered"),
        pytest.param(
            good.dedicated,
            both(*EXTRA_SUBWOOFERS, *EXTRA_LEADS),
            "takes 9 outputs; the processor sets 8 separately",
            id="processed",
        ),
        pytest.param(
            good.dedicated, with_unit(UnitKind.PROCESSOR, "Proc 2", "P-LINE"), "has 2 processors", id="two processors"
        ),
        pytest.param(good.dedicated, without_unit("Proc"), "has 0 processors", id="no processor"),
        pytest.param(
            good.with_card, unit_called("Proc", sku="P-LINE"), "C-4 does not fit P-LINE; it fits P-SMALL", id="misfit"
        ),
        pytest.param(
            good.with_card,
            with_unit(UnitKind.CARD, "Card 2", "C-4", host="Proc"),
            "The cards take 2 slots; Proc has 1",
            id="too many slots",
        ),
        pytest.param(good.with_card, unit_called("Card 1", host=None), "sits in no processor", id="loose card"),
    ],
)
def test_r5_the_processor_renders_and_processes_enough(drawn: Drawn, spoil: Spoil, words: str) -> None:
    assert_found(drawn, spoil, "R5", words)


def test_r5_a_mirrored_group_is_processed_once_however_many_jacks() -> None:
    """Three amplifiers and one mirrored group: 4 of the receiver's 5."""
    design, brief = good.receiver()
    lines = {line.group: line for line in verify(design, brief, CATALOGUE, HOUSE).ledger}
    assert (lines["processed outputs"].used, lines["SUB"].used) == (4, 2)


FOURTH_PASSIVE = both(
    with_unit(UnitKind.SUBWOOFER, "Sub 4", "SW-PAS", member=("Bass", 3)),
    with_connection("LFE1", "Rec/SPK/4", "Sub 4/POLE/1", made_up(8.20, ("BC-SPK", 17), ("CN-4P", 1))),
)


@pytest.mark.parametrize(
    ("drawn", "spoil", "words"),
    [
        pytest.param(
            good.receiver, FOURTH_PASSIVE, "Rec has 3 internal amplifier channels; 4 to be used", id="too many"
        ),
        pytest.param(
            good.receiver,
            connection_to("Left/POST/1", source=jack("Rec/PRE/1")),
            "Left is passive; it needs an amplifier channel",
            id="passive on a line output",
        ),
        pytest.param(
            good.receiver,
            connection_to("Sub 1/RCA/1", source=jack("Rec/SPK/3")),
            "it drives one passive feed and nothing else",
            id="active on an amplifier",
        ),
        pytest.param(
            good.receiver,
            connection_to("Splitter 1/IN/1", source=jack("Rec/SPK/3")),
            "Rec / SPK 3 is an amplifier channel",
            id="a splitter on an amplifier",
        ),
        pytest.param(
            good.amplified,
            connection_to("Centre/POST/1", source=jack("Amp 1/POLE/1")),
            "Amp 1, channel 1 is to drive 2 feeds",
            id="two feeds on one amplifier channel",
        ),
        pytest.param(
            good.amplified,
            connection_to("Amp 2/UNBAL/2", sink=jack("Amp 2/UNBAL/1")),
            "Amp 2, channel 1 is given 2 signals",
            id="two signals to one amplifier channel",
        ),
        pytest.param(
            good.amplified, without_connection_to("Left/POST/1"), "is given a signal, but drives nothing", id="idle"
        ),
        pytest.param(
            good.amplified,
            connection_to("Amp 1/BAL/1", channel="M+000"),
            "Amp 1 / POST 1 is said to give another signal than comes in",
            id="another signal behind the amplifier",
        ),
    ],
)
def test_r6_amplifier_channels_drive_one_passive_feed_each(drawn: Drawn, spoil: Spoil, words: str) -> None:
    assert_found(drawn, spoil, "R6", words)


def test_r6_an_amplifier_may_have_more_jacks_than_channels_but_not_more_signals() -> None:
    design, brief = good.amplified()
    one_channel = replace(CATALOGUE.amplifiers[0], channels=1)
    findings = verify(design, brief, replace(CATALOGUE, amplifiers=(one_channel,)), HOUSE).findings
    assert {(finding.rule, finding.subject) for finding in findings} == {
        ("R6", "Amp 1, channel 2"),
        ("R6", "Amp 2, channel 2"),
    }


@pytest.mark.parametrize(
    ("drawn", "spoil", "words"),
    [
        pytest.param(
            good.by_dsp_unit,
            routes(*(("DSP 1/IN/1", f"DSP 1/OUT/{output}") for output in (1, 2, 3))),
            "DSP 1 / OUT 4 derives from 0 inputs",
            id="output without a route",
        ),
        pytest.param(
            good.fixed_routing,
            routes(
                ("DSP 1/IN/1", "DSP 1/OUT/1"),
                ("DSP 1/IN/1", "DSP 1/OUT/2"),
                ("DSP 1/IN/2", "DSP 1/OUT/3"),
                ("DSP 1/IN/2", "DSP 1/OUT/2"),
            ),
            "DSP 1 / OUT 2 derives from 2 inputs",
            id="output from two inputs",
        ),
        pytest.param(
            good.fixed_routing,
            both(
                with_unit(UnitKind.DSP, "DSP 2", "D-FIX"),
                connection_to("DSP 1/IN/2", sink=jack("DSP 2/IN/1")),
                routes(("DSP 1/IN/1", "DSP 1/OUT/1"), ("DSP 1/IN/1", "DSP 1/OUT/2"), ("DSP 2/IN/1", "DSP 1/OUT/3")),
            ),
            "DSP 1 / OUT 3 cannot derive from DSP 2 / IN 1, in another unit",
            id="route across units",
        ),
        pytest.param(
            good.fixed_routing,
            routes(("DSP 1/IN/1", "DSP 1/OUT/1"), ("DSP 1/IN/1", "DSP 1/OUT/2"), ("DSP 1/IN/1", "DSP 1/OUT/3")),
            "DSP 1 / OUT 3 can derive from input 2 only, not 1",
            id="against fixed routing",
        ),
        pytest.param(
            good.amplified,
            lambda design: replace(design, routes=(Route(source=jack("Amp 1/BAL/1"), sink=jack("Amp 1/POST/2")),)),
            "Amp 1 is no DSP unit",
            id="route in an amplifier",
        ),
        pytest.param(
            good.by_dsp_unit,
            with_connection("LFE1", "Proc/AUX/2", "DSP 1/IN/2", made_up(1.00, ("CN-XF", 1), ("BC-BAL", 1))),
            "DSP 1 is given 2 signals; it takes 1",
            id="too many signals in",
        ),
        pytest.param(
            good.by_dsp_unit,
            lambda design: replace(
                design, routes=(*design.routes, Route(source=jack("DSP 1/IN/1"), sink=jack("DSP 1/OUT/5")))
            ),
            "DSP 1 is to give 5 signals; it gives 4",
            id="too many signals out",
        ),
        pytest.param(
            good.by_dsp_unit,
            connection_to("Sub 1/XLR/1", channel="LFE2"),
            "DSP 1 / OUT 1 is said to carry LFE2, but DSP 1 / IN 1 takes LFE1",
            id="another channel behind the unit",
        ),
        pytest.param(
            good.fixed_routing,
            without_connection_to("DSP 1/IN/2"),
            "DSP 1 / OUT 3 derives from DSP 1 / IN 2, which no signal comes into",
            id="input without a signal",
        ),
        pytest.param(
            good.by_dsp_unit,
            both(
                SECOND_DSP,
                connection_to("Sub 4/XLR/1", source=jack("DSP 2/OUT/1")),
                with_connection("LFE1", "DSP 1/OUT/4", "DSP 2/IN/1", made_up(1.00, ("BC-BAL", 1))),
                routes(
                    *(("DSP 1/IN/1", f"DSP 1/OUT/{output}") for output in (1, 2, 3, 4)), ("DSP 2/IN/1", "DSP 2/OUT/1")
                ),
            ),
            "DSP 2 is fed by DSP 1; DSP units are not cascaded",
            id="cascade",
        ),
        pytest.param(
            good.daisy_chain,
            both(
                SECOND_DSP,
                with_connection("LFE1", "Sub 3/LINK/1", "DSP 2/IN/1", made_up(6.00, ("CN-XF", 1), ("BC-BAL", 6))),
            ),
            "DSP 2 / IN 1 needs a processor output, not Sub 3",
            id="a DSP unit behind a subwoofer",
        ),
        pytest.param(
            good.fixed_routing,
            both(
                with_unit(UnitKind.SPLITTER, "Splitter 1", "SPL-XLR"),
                with_connection("LFE1", "Proc/AUX/1", "Splitter 1/IN/1", DIRECT),
                connection_to("DSP 1/IN/1", source=jack("Splitter 1/LEG/1")),
                connection_to("DSP 1/IN/2", source=jack("Splitter 1/LEG/2")),
            ),
            "each DSP input needs an output of its own",
            id="two inputs from one output",
        ),
    ],
)
def test_r7_dsp_units_derive_their_outputs_from_their_own_inputs(drawn: Drawn, spoil: Spoil, words: str) -> None:
    assert_found(drawn, spoil, "R7", words)
