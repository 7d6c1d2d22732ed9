"""What R11 and R12 say, word for word, as a designer reads it."""

import pytest

from planner.catalogue.records import OutputStage
from planner.design import Severity
from planner.physics import examine
from tests.checks import good_designs
from tests.checks.gear import CATALOGUE
from tests.physics.rig import BALANCED_STAGES, In, Out, Rig, split


def test_a_chain_with_drive_and_quiet_to_spare_is_told_nothing() -> None:
    assert split(Out(max_dbu=10.0), [In(volts=1.0)]).sentences() == []


def test_too_little_drive_says_what_is_needed_what_arrives_and_what_would_do() -> None:
    assert split(Out(max_dbu=2.0), [In(volts=1.4)]).sentences() == [
        "R11 concern, M+000 to Sub 1 / IN 1: Too little drive by 3.1 dB. Full output takes 1.40 V (+5.1 dBu, +2.9 dBV),"
        " and at most 0.98 V (+2.0 dBu, -0.2 dBV) arrives clean. Proc / OUT1 clips first, at 0.98 V (+2.0 dBu,"
        " -0.2 dBV); it would have to pass 1.40 V (+5.1 dBu, +2.9 dBV). Remedy: an output in place of Proc / OUT1 that"
        " passes it; or a more sensitive input than Sub 1 / IN."
    ]


def test_a_conversion_that_halves_the_voltage_is_named_as_what_would_help() -> None:
    (told, wiring) = split_unbalanced(OutputStage.SYMMETRICAL, max_dbu=8.02).sentences()
    assert "Too little drive by 3.1 dB." in told
    assert "a balanced input in place of Sub 1 / IN, or a line transformer before it, for 6 dB more" in told
    assert wiring == (
        "R11 note, Proc / OUT1: It feeds Sub 1 / IN 1 unbalanced. It is a symmetrical output: one leg is used, and 6.0"
        " dB less arrives. Leave the cold core open at the unbalanced end; joined to the shell it overloads the output."
    )


def split_unbalanced(stage: OutputStage, max_dbu: float = 60.0) -> Rig:
    return split(Out(stage=stage, max_dbu=max_dbu), [In(volts=1.4)])


@pytest.mark.parametrize(
    ("stage", "words"),
    [
        (OutputStage.SERVO, "join the cold core to the shell"),
        (OutputStage.TRANSFORMER, "join the cold core to the shell"),
        (OutputStage.UNKNOWN, "ask the maker"),
    ],
)
def test_each_output_says_how_its_cold_is_to_be_wired(stage: OutputStage, words: str) -> None:
    (told,) = split_unbalanced(stage).sentences()
    assert told.startswith("R11 note, Proc / OUT1: It feeds Sub 1 / IN 1 unbalanced.")
    assert words in told


def test_an_impedance_balanced_output_may_be_wired_either_way() -> None:
    assert split_unbalanced(OutputStage.IMPEDANCE_BALANCED).sentences() == []


@pytest.mark.parametrize("stage", BALANCED_STAGES)
def test_a_balanced_input_needs_no_word_on_wiring(stage: OutputStage) -> None:
    assert split(Out(stage=stage), [In(volts=1.0, balanced=True)]).sentences() == []


def test_a_split_that_costs_the_drive_says_what_an_output_alone_would_bring() -> None:
    """600 ohm into four of 10 kohm: 1.87 dB lost, 0.51 dB with one (trade practice of Y leads, computed)."""
    rig = split(Out(ohm=600.0, max_dbu=4.0), [In(ohm=10e3, volts=1.2)] * 4)
    told = rig.sentences()[0]
    assert "an output that it does not share, for 1.4 dB more" in told


def test_the_same_is_said_once_of_chains_alike() -> None:
    rig = Rig()
    rig.processor(Out(max_dbu=2.0))
    rig.amplifier("Amp", In(volts=1.4))
    for number in (1, 2, 3):
        rig.passive(f"L{number}")
        rig.wire(f"Proc/OUT1/{number}", f"Amp/IN/{number}")
        rig.wire(f"Amp/POST/{number}", f"L{number}/POST1/1")
    (told,) = rig.sentences()
    assert told.startswith("R11 concern, M+000 to Amp / IN 1, M+000 to Amp / IN 2 and M+000 to Amp / IN 3: Too little")


def test_a_dsp_unit_at_the_end_of_its_gain_is_named() -> None:
    rig = Rig()
    rig.processor(Out(max_dbu=-4.0))
    rig.dsp("DSP", In(), Out(max_dbu=20.0), max_gain_db=6.0)
    rig.sub("Sub 1", In(volts=1.4))
    rig.wire("Proc/OUT1/1", "DSP/IN/1")
    rig.route("DSP/IN/1", "DSP/OUT/1")
    rig.wire("DSP/OUT/1", "Sub 1/IN/1")
    (told,) = rig.sentences()
    assert "Too little drive by 3.1 dB." in told
    assert "arrives clean. Proc / OUT1 clips first" in told
    assert "Remedy: a DSP unit with more gain than the 6 dB of DSP; or an output in place of Proc / OUT1" in told


def test_nothing_before_the_stage_that_clips_is_called_a_remedy() -> None:
    """The DSP unit's output is short by itself: neither its gain nor the conversion before it helps."""
    rig = Rig()
    rig.processor(Out(stage=OutputStage.SYMMETRICAL))
    rig.dsp("DSP", In(), Out(max_dbu=2.0), max_gain_db=6.0)
    rig.sub("Sub 1", In(volts=1.4))
    rig.wire("Proc/OUT1/1", "DSP/IN/1")
    rig.route("DSP/IN/1", "DSP/OUT/1")
    rig.wire("DSP/OUT/1", "Sub 1/IN/1")
    told = rig.sentences()[0]
    assert "DSP / OUT clips before full output by 3.1 dB." in told
    assert "drive" not in told
    assert told.endswith(
        "Remedy: an output in place of DSP / OUT that passes it; or a more sensitive input than Sub 1 / IN."
    )  # fmt: skip


def test_an_input_that_clips_below_its_own_sensitivity_is_a_fault_of_the_catalogue() -> None:
    (told,) = split(Out(), [In(volts=1.4, max_dbu=2.0)]).sentences()
    assert "Sub 1 / IN clips below its own full output by 3.1 dB." in told
    assert told.endswith(
        "Remedy: correct the sensitivity or the greatest level of Sub 1 / IN in the catalogue: they contradict each"
        " other."
    )


@pytest.mark.parametrize(("max_dbu", "told"), [(5.15, 0), (5.10, 0), (5.0, 1)])
def test_a_shortfall_that_no_meter_shows_is_let_pass(max_dbu: float, told: int) -> None:
    """1.4 V are +5.141 dBu."""
    assert len(split(Out(max_dbu=max_dbu), [In(volts=1.4)]).sentences()) == told


def noisy(noise_dbu: float, *, max_dbu: float = 20.0) -> Rig:
    rig = Rig()
    rig.processor(Out(max_dbu=max_dbu), noise_dbu=noise_dbu)
    rig.sub("Sub 1", In(volts=1.0))
    rig.wire("Proc/OUT1/1", "Sub 1/IN/1")
    return rig


def test_noise_with_room_to_turn_down_says_by_how_much() -> None:
    """-70 dBu against +2.2 dBu at the sink: 72.2 dB; 17.8 dB of margin."""
    assert noisy(-70.0).sentences() == [
        "R12 concern, M+000 to Sub 1 / IN 1: Too much noise by 7.8 dB. Noise stands 72.2 dB below full output, and the"
        " brief asks 80 dB. Most of it comes from Proc. Remedy: turn the input level of the device down by"
        " 7.8 dB; the chain has 17.8 dB to spare."
    ]


def test_noise_without_room_asks_for_a_quieter_device() -> None:
    (told,) = noisy(-70.0, max_dbu=4.0).sentences()
    assert told.endswith("Remedy: a quieter device in place of Proc, or a less sensitive input.")


def test_noise_of_the_amplifier_itself_asks_for_another() -> None:
    rig = Rig()
    rig.processor(Out())
    rig.amplifier("Amp", In(volts=1.0), noise_dbu=-60.0)
    rig.passive("Left")
    rig.wire("Proc/OUT1/1", "Amp/IN/1")
    rig.wire("Amp/POST/1", "Left/POST1/1")
    (told,) = rig.sentences()
    assert told.endswith("Most of it comes from Amp. Remedy: a quieter device than Amp.")


@pytest.mark.parametrize(("noise_dbu", "told"), [(-77.7, 1), (-77.8, 0)])
def test_noise_is_told_beyond_80_db_below_full_output(noise_dbu: float, told: int) -> None:
    """1 V is +2.2185 dBu: the limit is -77.7815 dBu."""
    assert len(noisy(noise_dbu).sentences()) == told


def long_lead(metres: float) -> Rig:
    rig = Rig()
    rig.processor(Out(ohm=1000.0))
    rig.active("Left", In(volts=1.0))
    rig.wire("Proc/OUT1/1", "Left/IN/1", rig.lead("Long", length_m=metres, pf_per_m=100.0, balanced=False))
    return rig


def test_treble_lost_in_a_long_lead_is_noted() -> None:
    """30 m of 100 pF/m behind 1000 ohm: 0.577 dB (published, computed)."""
    assert long_lead(30.0).sentences() == [
        "R11 note, M+000 to Left / IN 1: Too much treble lost in leads by 0.08 dB. The leads take 0.6 dB at 20 kHz,"
        " most of it 30 m on Proc / OUT1 of 1000 ohm. Remedy: shorter leads; or leads of lower capacitance; or an"
        " output of lower impedance."
    ]
    assert long_lead(25.0).sentences() == []


@pytest.mark.parametrize("pf_per_m", [100.0, None])
def test_a_subwoofer_has_no_treble_to_lose(pf_per_m: float | None) -> None:
    rig = Rig()
    rig.processor(Out(ohm=1000.0))
    rig.sub("Sub 1", In(volts=1.0))
    rig.wire("Proc/OUT1/1", "Sub 1/IN/1", rig.lead("Long", length_m=100.0, pf_per_m=pf_per_m, balanced=False))
    assert rig.sentences() == []


def test_what_the_catalogue_does_not_say_is_told_once_a_quantity() -> None:
    design, brief = good_designs.amplified()
    found = examine(design, brief, CATALOGUE)
    assert {finding.severity for finding in found.findings} == {Severity.NOTE}
    assert found.least_margin_db is None
    told = [finding.message for finding in found.findings]
    for words in (
        "does not say the greatest output level; clipping and drive are not checked on",
        "does not say the output impedance; levels and noise are not checked on",
        "does not say the input impedance; levels and noise are not checked on",
        "does not say the sensitivity; drive and noise are not checked on",
        "does not say the capacitance; the loss of treble is not checked on",
        "does not say the noise; noise is not checked on",
    ):
        assert sum(words in sentence for sentence in told) == 1, words


def test_unknowns_are_counted_by_chain_and_name_what_they_are_of() -> None:
    rig = split(Out(), [In(volts=1.0), In(volts=None)])
    assert rig.sentences() == [
        "R11 note, Sub 2 / IN: The catalogue does not say the sensitivity; drive and noise are not checked on 1 of 2"
        " line chains."
    ]


def test_the_ceiling_of_a_dsp_input_is_asked_for() -> None:
    rig = Rig()
    rig.processor(Out())
    rig.dsp("DSP", In(max_dbu=None), Out())
    rig.sub("Sub 1", In(volts=1.0, max_dbu=None))
    rig.wire("Proc/OUT1/1", "DSP/IN/1")
    rig.route("DSP/IN/1", "DSP/OUT/1")
    rig.wire("DSP/OUT/1", "Sub 1/IN/1")
    assert rig.sentences() == [
        "R11 note, DSP / IN: The catalogue does not say the greatest input level; clipping and drive are not checked on"
        " 1 of 1 line chains."
    ]


def test_a_link_read_as_wired_through_is_told() -> None:
    design, brief = good_designs.daisy_chain()
    told = [f for f in examine(design, brief, CATALOGUE).findings if "wired straight through" in f.message]
    assert [(f.rule, f.severity, f.subject) for f in told] == [
        ("R11", Severity.NOTE, "Sub 1 / LINK 1 and Sub 2 / LINK 1")
    ]
