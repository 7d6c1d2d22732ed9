"""Noise at the sink, in volts and by hand, and what is not known of it."""

import math

import pytest

from planner.catalogue.records import OutputStage
from planner.physics.levels import voltage_v
from tests.physics.rig import In, Out, Rig, split

SUB_1 = "Sub 1/IN/1"


def quiet_chain(*, dsp_noise_dbu: float | None = -90.0, amp_noise_dbu: float | None = -100.0) -> Rig:
    """+20 dBu at -80 dBu, a DSP unit that takes 8 dB away and adds its own, an amplifier of 1 V."""
    rig = Rig()
    rig.processor(Out(max_dbu=20.0), noise_dbu=-80.0)
    rig.dsp("DSP", In(), Out(max_dbu=12.0), noise_dbu=dsp_noise_dbu)
    rig.amplifier("Amp", In(volts=1.0), noise_dbu=amp_noise_dbu)
    rig.passive("Left")
    rig.wire("Proc/OUT1/1", "DSP/IN/1")
    rig.route("DSP/IN/1", "DSP/OUT/1")
    rig.wire("DSP/OUT/1", "Amp/IN/1")
    rig.wire("Amp/POST/1", "Left/POST1/1")
    return rig


def test_noises_add_as_powers_after_the_gain_behind_each() -> None:
    """-88 and -90 and -100 dBu at the amplifier; 1 V is +2.2185 dBu."""
    noise = quiet_chain().noise("Amp/IN/1")
    by_hand_dbu = 10 * math.log10(10**-8.8 + 10**-9.0 + 10**-10.0)
    assert noise.at_sink_dbu == pytest.approx(by_hand_dbu, abs=1e-4)
    assert noise.re_full_output_db == pytest.approx(by_hand_dbu - 2.2185, abs=1e-4)
    assert noise.loudest is not None
    assert noise.loudest.origin == "Proc"


def test_every_source_is_listed_in_the_order_of_flow() -> None:
    heat = "heat in the resistance of the line"
    found = [(source.origin, str(source.jack)) for source in quiet_chain().noise("Amp/IN/1").sources]
    assert found == [
        ("Proc", "Proc / OUT1 1"),
        (heat, "DSP / IN 1"),
        ("DSP", "DSP / OUT 1"),
        (heat, "Amp / IN 1"),
        ("Amp", "Amp / IN 1"),
    ]


@pytest.mark.parametrize("missing", [{"dsp_noise_dbu": None}, {"amp_noise_dbu": None}])
def test_noise_is_not_known_while_a_part_of_it_is_not(missing: dict[str, None]) -> None:
    noise = quiet_chain(**missing).noise("Amp/IN/1")
    assert noise.at_sink_dbu is None
    assert noise.re_full_output_db is None


def test_noise_without_a_sensitivity_is_a_level_and_no_ratio() -> None:
    noise = split(Out(), [In(volts=None)]).noise(SUB_1)
    assert noise.at_sink_dbu is not None
    assert noise.re_full_output_db is None


def test_a_direct_chain_needs_no_ceiling_to_know_its_noise() -> None:
    rig = Rig()
    rig.processor(Out(max_dbu=None), noise_dbu=-96.0)
    rig.sub("Sub 1", In(volts=1.0))
    rig.wire("Proc/OUT1/1", SUB_1)
    assert rig.noise(SUB_1).re_full_output_db == pytest.approx(-96.0 - 2.2185, abs=1e-4)


def test_a_link_output_adds_none_that_the_catalogue_could_tell() -> None:
    rig = Rig()
    rig.processor(Out(), noise_dbu=-90.0)
    for number in (1, 2):
        rig.sub(f"Sub {number}", In(volts=1.0), Out())
    rig.wire("Proc/OUT1/1", SUB_1)
    rig.wire("Sub 1/LINK/1", "Sub 2/IN/1")
    assert rig.noise("Sub 2/IN/1").at_sink_dbu == pytest.approx(-90.0, abs=1e-4)


def test_the_greater_noise_of_an_output_of_unknown_build_is_counted() -> None:
    rig = Rig()
    rig.processor(Out(stage=OutputStage.UNKNOWN), noise_dbu=-90.0)
    rig.sub("Sub 1", In(volts=1.0))
    rig.wire("Proc/OUT1/1", SUB_1)
    assert rig.noise(SUB_1).at_sink_dbu == pytest.approx(-90.0, abs=1e-3)  # not -96


def test_heat_is_that_of_the_output_and_all_its_inputs_together() -> None:
    """600 ohm beside two of 1200 ohm is 300 ohm; k of the SI, 293.15 K, 20 kHz."""
    noise = split(Out(ohm=600.0), [In(ohm=1200.0), In(ohm=1200.0)]).noise(SUB_1)
    heat = next(source for source in noise.sources if source.origin.startswith("heat"))
    assert voltage_v(heat.level_dbu) == pytest.approx(math.sqrt(4 * 1.380649e-23 * 293.15 * 300 * 20e3), rel=1e-9)


def test_the_floor_is_what_all_stages_up_to_a_point_make_there() -> None:
    """-80 dBu down the lead, less 8 dB beside -90 dBu at the DSP unit's output, beside -100 dBu at the amplifier.

    The thermal noise of these outputs of next to no impedance is below -170 dBu.
    """
    at_dsp_dbu = 10 * math.log10(10**-8.8 + 10**-9.0)
    at_amp_dbu = 10 * math.log10(10**-8.8 + 10**-9.0 + 10**-10.0)
    floors = quiet_chain().noise("Amp/IN/1").floors_dbu
    assert floors == pytest.approx((-80.0, -80.0, at_dsp_dbu, at_amp_dbu), abs=1e-4)


def test_a_floor_is_known_up_to_the_first_stage_that_is_not() -> None:
    floors = quiet_chain(dsp_noise_dbu=None).noise("Amp/IN/1").floors_dbu
    assert floors[:2] == pytest.approx((-80.0, -80.0), abs=1e-4)
    assert floors[2:] == (None, None)


def test_the_floor_falls_with_the_signal_where_inputs_load_an_output() -> None:
    """Two inputs of 1200 ohm on 600 ohm take 6.02 dB of the noise as of the signal."""
    rig = split(Out(ohm=600.0), [In(ohm=1200.0), In(ohm=1200.0)])
    at_output, at_input = rig.noise(SUB_1).floors_dbu
    assert at_output == -200.0
    heat_dbu = 20 * math.log10(math.sqrt(4 * 1.380649e-23 * 293.15 * 300 * 20e3) / math.sqrt(0.6))
    assert at_input == pytest.approx(10 * math.log10(10**-20.602 + 10 ** (heat_dbu / 10)), abs=1e-3)


def test_a_link_output_has_the_floor_of_its_subwoofer_s_input() -> None:
    rig = Rig()
    rig.processor(Out(), noise_dbu=-90.0)
    for number in (1, 2):
        rig.sub(f"Sub {number}", In(volts=1.0), Out())
    rig.wire("Proc/OUT1/1", SUB_1)
    rig.wire("Sub 1/LINK/1", "Sub 2/IN/1")
    assert rig.noise("Sub 2/IN/1").floors_dbu == pytest.approx((-90.0,) * 4, abs=1e-4)
