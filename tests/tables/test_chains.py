"""Line chains as people read them: figures by hand, and sentences whole."""

import pytest

from planner.catalogue.records import OutputStage
from planner.physics.noise import chain_noise
from planner.tables.chains import (
    CHAIN_HEADINGS,
    HOP_HEADINGS,
    JACK_HEADINGS,
    chain_name,
    chain_rows,
    chain_sentences,
    hop_rows,
    jack_rows,
)
from tests.physics.rig import In, Out, Rig, split
from tests.physics.test_levels import through_dsp

SUB_1 = "Sub 1/IN/1"


def jacks(rig: Rig, sink: str = SUB_1) -> list[dict[str, str]]:
    levels = rig.levels(sink)
    return [dict(zip(JACK_HEADINGS, row, strict=True)) for row in jack_rows(levels, chain_noise(levels))]


def sentences(rig: Rig, sink: str = SUB_1) -> list[str]:
    levels = rig.levels(sink)
    return chain_sentences(levels, chain_noise(levels))


def test_a_jack_is_told_in_the_three_units_of_the_trade() -> None:
    """1 V is +2.2 dBu and 0 dBV, 0.5 V 6 dB less; +8.2 dBu are 1.991 V."""
    source, sink = jacks(split(Out(max_dbu=8.2), [In(volts=0.5, max_dbu=14.0)]))
    assert (source["Jack"], sink["Jack"]) == ("Proc / OUT1 1", "Sub 1 / IN 1")
    assert [source[f"Greatest, {unit}"] for unit in ("V", "dBu", "dBV")] == ["1.991", "8.2", "6.0"]
    assert [sink[f"At full output, {unit}"] for unit in ("V", "dBu", "dBV")] == ["0.500", "-3.8", "-6.0"]
    assert [row["Margin, dB"] for row in (source, sink)] == ["12.0", "17.8"]
    assert [row["Ceiling, dBu"] for row in (source, sink)] == ["8.2", "14.0"]


def test_what_is_not_known_is_a_dash() -> None:
    source, sink = jacks(split(Out(max_dbu=None, ohm=None), [In(max_dbu=None)]))
    assert [cell for row in (source, sink) for cell in list(row.values())[1:-1]] == ["–"] * 16


def test_an_output_is_told_with_all_that_loads_it() -> None:
    """A symmetrical output of 600 ohm, one leg of 300 ohm into 600 and 1200 ohm to the shield: 400 ohm in all."""
    rig = split(Out(stage=OutputStage.SYMMETRICAL, ohm=600.0), [In(ohm=600.0), In(ohm=1200.0)])
    (row,) = [dict(zip(HOP_HEADINGS, cells, strict=True)) for cells in hop_rows(rig.levels(SUB_1))]
    assert (row["Output"], row["To input"]) == ("Proc / OUT1 1", "Sub 1 / IN 1")
    assert row["By way of"] == "Split, plugged on, 1 m of L; 2 inputs on one output"
    assert (row["Source, ohm"], row["Load, ohm"]) == ("300", "400")
    # Half the voltage by one leg, and 400 of 700 ohm: 20 log10(0.5 × 4/7) = -10.88 dB.
    assert row["Greatest loss, dB"] == row["Least loss, dB"] == "10.88"


def test_an_output_of_unknown_build_has_two_losses() -> None:
    rig = split(Out(stage=OutputStage.UNKNOWN), [In()])
    (row,) = [dict(zip(HOP_HEADINGS, cells, strict=True)) for cells in hop_rows(rig.levels(SUB_1))]
    assert (row["Greatest loss, dB"], row["Least loss, dB"]) == ("6.02", "0.00")


def test_the_sentences_of_a_chain_with_a_margin() -> None:
    margin, _, gain = sentences(through_dsp())
    assert (
        margin
        == "Least margin 15.8 dB, at DSP / OUT 1: with Sub 1 / IN 1 at full output, it is this far from clipping."
    )
    assert gain == "Gain to set before DSP / OUT 1: -6.0 dB."


def test_noise_is_told_below_full_output() -> None:
    """-96 dBu at an input that wants 1 V, +2.2 dBu."""
    rig = Rig()
    rig.processor(Out(), noise_dbu=-96.0)
    rig.sub("Sub 1", In(volts=1.0))
    rig.wire("Proc/OUT1/1", SUB_1)
    assert sentences(rig)[1:] == ["Noise at Sub 1 / IN 1: 98.2 dB below full output."]


def test_a_shortfall_is_told_as_one() -> None:
    """+4 dBu where 2 V, +8.24 dBu, are needed."""
    first, *_ = sentences(split(Out(max_dbu=4.0), [In(volts=2.0)]))
    assert first == (
        "4.2 dB of drive are lacking: Proc / OUT1 1 is at its ceiling 4.2 dB before Sub 1 / IN 1 has what it needs for"
        " full output."
    )


@pytest.mark.parametrize("over_db", [0.04, -0.04])
def test_a_margin_that_rounds_to_nothing_is_no_shortfall(over_db: float) -> None:
    first, *_ = sentences(split(Out(max_dbu=2.2185 + over_db), [In(volts=1.0)]))
    assert first.startswith("Least margin 0.0 dB, at Proc / OUT1 1")


def test_what_is_not_known_is_said() -> None:
    margin, noise = sentences(split(Out(max_dbu=None), [In(ohm=None)]))
    assert margin.startswith("Least margin not known")
    assert noise.startswith("Noise re full output not known")


def test_a_chain_is_named_by_what_it_carries_and_drives() -> None:
    rig = Rig()
    rig.processor(Out())
    rig.amplifier("Amp", In(volts=1.0))
    rig.passive("Left")
    rig.wire("Proc/OUT1/1", "Amp/IN/1")
    rig.wire("Amp/POST/1", "Left/POST1/1")
    assert chain_name(rig.levels("Amp/IN/1")) == "M+000 centre to Amp / IN 1, for Left"


def test_every_chain_is_a_row() -> None:
    rig = split(Out(max_dbu=8.2), [In(volts=0.5), In(volts=1.0)])
    levels = rig.chains()
    rows = chain_rows(levels, [chain_noise(each) for each in levels])
    assert all(len(row) == len(CHAIN_HEADINGS) for row in rows)
    assert [(row[0], row[1], row[3]) for row in rows] == [
        ("M+000 centre to Sub 1 / IN 1", "12.0", "-3.8"),
        ("M+000 centre to Sub 2 / IN 1", "6.0", "2.2"),
    ]
