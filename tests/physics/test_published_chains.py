"""The published check values of line chains, each read off a whole design put together by hand.

Left to the formulas alone are those of parts that no design holds (pads, star and build-out
splitters, two outputs on one input) and of figures that no chain shows by themselves (the
corner of a cable, thermal noise in a 1 Hz band).
"""

import math

import pytest

from planner.catalogue.records import OutputStage
from planner.formulas.levels import dbv_from_dbu, v_from_dbu
from planner.physics.levels import voltage_v
from tests.physics.rig import In, Out, Rig, split
from tests.published.check_values import oracle

ROUNDING = 5e-9
"""The file gives nine figures."""


def meets(result: float, name: str) -> None:
    value = oracle(name)
    tolerance = value.tol_abs if value.tol_abs is not None else ROUNDING * abs(value.value) + 1e-9
    assert abs(result - value.value) <= tolerance, f"{result!r} does not meet {value}"


@pytest.mark.parametrize("stage", [OutputStage.UNBALANCED, OutputStage.SYMMETRICAL])
@pytest.mark.parametrize("source_ohm", [50, 100, 150, 300, 600, 1000])
@pytest.mark.parametrize("kilohm", [10, 20, 47])
@pytest.mark.parametrize("inputs", [1, 2, 4])
def test_a_y_lead_loses_what_is_published(stage: OutputStage, source_ohm: int, kilohm: int, inputs: int) -> None:
    out = Out(stage=stage, ohm=source_ohm, max_dbu=0.0)
    rig = split(out, [In(ohm=1000 * kilohm, balanced=out.balanced)] * inputs)
    for number in range(1, inputs + 1):
        arriving_dbu = rig.levels(f"Sub {number}/IN/1").arriving_dbu
        assert arriving_dbu is not None
        meets(arriving_dbu, f"split.zs{source_ohm}_zin{kilohm}k_n{inputs}")


def arriving_from_600_ohm_dbu(input_ohm: float, inputs: int) -> float:
    levels = split(Out(ohm=600.0, max_dbu=0.0), [In(ohm=input_ohm)] * inputs).levels("Sub 1/IN/1")
    assert levels.arriving_dbu is not None
    return levels.arriving_dbu


def test_bridging_and_matching_lose_what_is_published() -> None:
    meets(arriving_from_600_ohm_dbu(6000.0, 1), "split.bridging_10_to_1")
    meets(arriving_from_600_ohm_dbu(600.0, 1), "split.matched_1_to_1")
    meets(
        arriving_from_600_ohm_dbu(600.0, 2) - arriving_from_600_ohm_dbu(600.0, 1),
        "split.matched_600_two_loads_re_one",
    )


@pytest.mark.parametrize("dbu", [4, 14, 18, 20, 24])
def test_an_output_at_its_maximum_gives_the_published_voltage(dbu: int) -> None:
    at_maximum_dbu = split(Out(max_dbu=dbu), [In()]).levels("Sub 1/IN/1").points[0].at_maximum_dbu
    assert at_maximum_dbu is not None
    meets(voltage_v(at_maximum_dbu), f"levels.plus{dbu}_dbu")


def full_output_dbu(volts: float) -> float:
    level = split(Out(), [In(volts=volts)]).levels("Sub 1/IN/1").full_output_dbu
    assert level is not None
    return level


def test_a_sensitivity_in_volts_is_the_published_level() -> None:
    meets(full_output_dbu(2.0), "levels.two_volt_rms_dbu")
    consumer_dbu = full_output_dbu(10 ** (-10 / 20))
    meets(consumer_dbu, "levels.minus10_dbv_in_dbu")
    meets(dbv_from_dbu(4.0) - dbv_from_dbu(consumer_dbu), "levels.pro_consumer_gap")


def test_one_leg_of_a_symmetrical_output_is_the_published_6_db_down() -> None:
    levels = split(Out(stage=OutputStage.SYMMETRICAL, max_dbu=0.0), [In()]).levels("Sub 1/IN/1")
    assert levels.arriving_dbu is not None
    meets(levels.arriving_dbu, "levels.bal_one_leg_loss")


def test_an_amplifier_known_by_power_and_gain_takes_the_published_drive() -> None:
    rig = Rig()
    rig.processor(Out())
    rig.amplifier("Amp", In(), power_w=200.0, gain_db=26.0)
    rig.passive("Left")
    rig.wire("Proc/OUT1/1", "Amp/IN/1")
    rig.wire("Amp/POST/1", "Left/POST1/1")
    level = rig.levels("Amp/IN/1").full_output_dbu
    assert level is not None
    meets(level, "levels.amp_drive_200w_8ohm_26db")


def worked_chain(pad_db: float) -> Rig:
    """Processor, DSP unit that takes as much as it gives, and amplifier; the pad is the joint's own loss.

    1 ohm inputs make no thermal noise to speak of, and the source impedance before one of
    them is that of a pad.
    """
    rig = Rig()
    rig.processor(Out(max_dbu=14.0), noise_dbu=-96.0)
    rig.dsp("DSP", In(max_dbu=8.0), Out(max_dbu=8.0, ohm=max(10 ** (pad_db / 20) - 1, 1e-9)), noise_dbu=-98.0)
    rig.amplifier("Amp", In(ohm=1.0, max_dbu=4.0, volts=v_from_dbu(4.0)), noise_dbu=-108.0)
    rig.passive("Left")
    rig.wire("Proc/OUT1/1", "DSP/IN/1")
    rig.route("DSP/IN/1", "DSP/OUT/1")
    rig.wire("DSP/OUT/1", "Amp/IN/1")
    rig.wire("Amp/POST/1", "Left/POST1/1")
    return rig


@pytest.mark.parametrize(
    ("pad_db", "noise", "snr"),
    [
        (0, "noise.chain_noise_at_amp_in", "noise.chain_snr"),
        (4, "noise.chain_4db_pad_noise", "noise.chain_4db_pad_snr"),
        (6, "noise.chain_6db_pad_noise", "noise.chain_6db_pad_snr"),
    ],
)
def test_the_worked_chain_has_the_published_noise(pad_db: float, noise: str, snr: str) -> None:
    rig = worked_chain(pad_db)
    levels, at_sink_dbu = rig.levels("Amp/IN/1"), rig.noise("Amp/IN/1").at_sink_dbu
    assert at_sink_dbu is not None
    assert levels.full_output_dbu is not None
    assert levels.least_margin_db is not None
    # The heat of 1 ohm, some -153 dBu, is in the noise: a millionth of it.
    assert math.isclose(at_sink_dbu, oracle(noise).value, abs_tol=2e-5), oracle(noise)
    largest_dbu = levels.full_output_dbu + levels.least_margin_db
    assert math.isclose(largest_dbu - at_sink_dbu, oracle(snr).value, abs_tol=2e-5), oracle(snr)


def test_the_worked_chain_clips_where_it_is_published_to() -> None:
    levels = [worked_chain(pad_db).levels("Amp/IN/1") for pad_db in (0, 4, 6)]
    assert [str(each.first_to_clip) for each in levels] == ["Amp / IN 1", "Amp / IN 1", "DSP / OUT 1"]
    margins = [[point.margin_db for point in each.points] for each in levels]
    # The DSP unit passes +8 dBu: 4 dB more than the amplifier, then with the pad as much, then 2 dB less.
    assert [row[2] for row in margins] == pytest.approx([4.0, 0.0, -2.0], abs=2e-5)
    assert [row[3] for row in margins] == pytest.approx([0.0, 0.0, 0.0], abs=2e-5)
    full_output_dbu = levels[0].full_output_dbu
    assert full_output_dbu is not None
    meets(full_output_dbu, "noise.chain_max")


@pytest.mark.parametrize("ohm", [150, 600, 1000, 10_000, 47_000])
def test_a_line_makes_the_published_thermal_noise(ohm: int) -> None:
    """An output and an input of twice the resistance each are that resistance in parallel."""
    noise = split(Out(ohm=2.0 * ohm), [In(ohm=2.0 * ohm)]).noise("Sub 1/IN/1")
    thermal = next(source for source in noise.sources if source.jack.unit == "Sub 1")
    meets(thermal.at_sink_dbu, f"noise.johnson_{ohm}_dbu")
    meets(voltage_v(thermal.at_sink_dbu), f"noise.johnson_{ohm}_v")


@pytest.mark.parametrize("apart_db", [0, 3, 6, 10, 20])
def test_two_noises_add_as_published(apart_db: int) -> None:
    rig = Rig()
    rig.processor(Out(), noise_dbu=-60.0)
    rig.amplifier("Amp", In(), noise_dbu=-60.0 - apart_db)
    rig.passive("Left")
    rig.wire("Proc/OUT1/1", "Amp/IN/1")
    rig.wire("Amp/POST/1", "Left/POST1/1")
    at_sink_dbu = rig.noise("Amp/IN/1").at_sink_dbu
    assert at_sink_dbu is not None
    value = oracle(f"noise.power_sum_diff_{apart_db}db")
    # Heat in 1 mOhm, 120 dB down, is left in.
    assert math.isclose(at_sink_dbu + 60.0, value.value, abs_tol=1e-6), value


@pytest.mark.parametrize("stages", [2, 3, 4])
def test_equal_stages_lose_the_published_signal_to_noise(stages: int) -> None:
    rig = Rig()
    rig.processor(Out(), noise_dbu=-60.0)
    previous = "Proc/OUT1/1"
    for number in range(1, stages - 1):
        rig.dsp(f"DSP {number}", In(), Out(), noise_dbu=-60.0)
        rig.wire(previous, f"DSP {number}/IN/1")
        rig.route(f"DSP {number}/IN/1", f"DSP {number}/OUT/1")
        previous = f"DSP {number}/OUT/1"
    rig.amplifier("Amp", In(), noise_dbu=-60.0)
    rig.passive("Left")
    rig.wire(previous, "Amp/IN/1")
    rig.wire("Amp/POST/1", "Left/POST1/1")
    at_sink_dbu = rig.noise("Amp/IN/1").at_sink_dbu
    assert at_sink_dbu is not None
    value = oracle(f"noise.n_equal_stages_snr_loss_{stages}")
    # Heat in 1 mOhm, 120 dB down, is left in.
    assert math.isclose(at_sink_dbu + 60.0, value.value, abs_tol=1e-6), value


@pytest.mark.parametrize("source_ohm", [50, 100, 600, 1000, 2200, 10_000])
@pytest.mark.parametrize("metres", [10, 30, 100])
def test_a_lead_takes_the_published_treble(source_ohm: int, metres: int) -> None:
    rig = Rig()
    rig.processor(Out(ohm=source_ohm))
    rig.active("Left", In())
    lead = rig.lead("Long", length_m=metres, pf_per_m=100.0, balanced=False)
    rig.wire("Proc/OUT1/1", "Left/IN/1", lead)
    loss_db = rig.levels("Left/IN/1").treble_loss_db
    assert loss_db is not None
    meets(loss_db, f"cable_c.loss20k_zs{source_ohm}_{metres}m")
