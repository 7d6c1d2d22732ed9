"""Amplifiers, sound level, noise, delay and hearing: limiting cases and inverses."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.formulas.amplifiers import (
    bridged_load_per_channel_ohm,
    gain_from_sensitivity_db,
    input_for_full_output_v,
    power_from_voltage_w,
    power_into_load_w,
    voltage_for_power_v,
)
from planner.formulas.delay import alignment_delays_ms, arrival_ms, speed_of_sound_m_per_s
from planner.formulas.hearing import exposure_minutes
from planner.formulas.noise import johnson_noise_v, noise_at_sink_dbu
from planner.formulas.sound_level import (
    full_scale_level_db,
    inverse_distance_loss_db,
    level_at_db,
    pair_sum_db,
    power_needed_w,
    sensitivity_for_1w_db,
    sum_range_db,
)

DOUBLE_DB = 20 * math.log10(2)
powers_w = st.floats(1, 5000)
loads_ohm = st.floats(1, 32)


@settings(max_examples=30)
@given(powers_w, loads_ohm, st.floats(0, 60))
def test_power_voltage_sensitivity_and_gain_come_back(power: float, load: float, gain: float) -> None:
    assert power_from_voltage_w(voltage_for_power_v(power, load), load) == pytest.approx(power)
    assert gain_from_sensitivity_db(input_for_full_output_v(power, load, gain), power, load) == pytest.approx(gain)


def test_no_voltage_is_no_power() -> None:
    assert power_from_voltage_w(0.0, 8.0) == voltage_for_power_v(0.0, 8.0) == 0


def test_an_amplifier_without_gain_needs_its_output_at_its_input() -> None:
    assert input_for_full_output_v(200.0, 8.0, 0.0) == 40.0


@pytest.mark.parametrize(
    ("load_ohm", "watts"), [(16.0, 50.0), (8.0, 100.0), (6.0, 400 / 3), (5.0, 160.0), (4.0, 200.0), (2.0, 200.0)]
)
def test_an_amplifier_of_constant_voltage_gives_v_squared_over_z_down_to_4_ohm(load_ohm: float, watts: float) -> None:
    """Ohm's law at √800 V, from 16 to 4 ohm; below the last rating nothing more is claimed."""
    assert power_into_load_w(load_ohm, 100.0, 200.0) == pytest.approx(watts)


@settings(max_examples=30)
@given(powers_w, st.floats(1, 2), loads_ohm)
def test_a_real_load_takes_no_more_than_constant_voltage_and_no_less_than_the_lesser_rating(
    power: float, ratio: float, load: float
) -> None:
    real = power_into_load_w(load, power, ratio * power)
    assert real <= power * 8 / load * (1 + 1e-12)
    assert load > 8 or power * (1 - 1e-12) <= real <= ratio * power * (1 + 1e-12)


def test_without_a_rating_at_4_ohm_none_is_invented() -> None:
    assert power_into_load_w(4.0, 100.0) == 100.0


def test_each_channel_of_a_bridged_pair_sees_half_the_load() -> None:
    """Two channels of 20 V against each other put 40 V on 8 ohm, 5 A, so each drives 20 V / 5 A."""
    current_a = 40.0 / 8.0
    assert bridged_load_per_channel_ohm(8.0) == 20.0 / current_a


def test_double_the_distance_is_6_db_less() -> None:
    assert inverse_distance_loss_db(1.0) == 0
    assert inverse_distance_loss_db(7.0) - inverse_distance_loss_db(3.5) == pytest.approx(-DOUBLE_DB)


def test_1_w_at_1_m_is_the_sensitivity() -> None:
    assert level_at_db(88.0, 1.0, 1.0) == 88.0


def test_2_83_v_is_1_w_into_just_over_8_ohm() -> None:
    assert sensitivity_for_1w_db(90.0, 2.83**2) == 90.0


def test_half_the_impedance_lowers_the_1_w_sensitivity_by_3_db() -> None:
    assert sensitivity_for_1w_db(90.0, 4.0) - sensitivity_for_1w_db(90.0, 8.0) == pytest.approx(-DOUBLE_DB / 2)


@settings(max_examples=30)
@given(st.floats(60, 130), st.floats(80, 110), st.floats(0.5, 20))
def test_the_power_needed_reaches_the_level(level: float, sensitivity: float, distance: float) -> None:
    assert level_at_db(sensitivity, power_needed_w(level, sensitivity, distance), distance) == pytest.approx(level)


def test_one_source_has_no_range() -> None:
    assert sum_range_db([104.0]) == (104.0, 104.0)


@settings(max_examples=40)
@given(st.floats(60, 120), st.floats(60, 120), st.floats(-720, 720).filter(lambda deg: 1 < deg % 360 < 179))
def test_two_tones_add_as_phasors(one_db: float, other_db: float, phase_deg: float) -> None:
    phasor = 10 ** (one_db / 20) + 10 ** (other_db / 20) * complex(
        math.cos(math.radians(phase_deg)), math.sin(math.radians(phase_deg))
    )
    assert pair_sum_db(one_db, other_db, phase_deg) == pytest.approx(20 * math.log10(abs(phasor)), abs=1e-6)


def test_a_pair_in_phase_and_at_right_angles_meets_the_ends_of_the_range() -> None:
    incoherent, coherent = sum_range_db([100.0, 94.0])
    assert pair_sum_db(100.0, 94.0, 0.0) == pytest.approx(coherent)
    assert pair_sum_db(100.0, 94.0, 90.0) == pytest.approx(incoherent)


def test_two_equal_tones_in_opposition_leave_no_level() -> None:
    with pytest.raises(ValueError, match="cancel"):
        pair_sum_db(100.0, 100.0, 180.0)


def test_a_test_signal_above_full_scale_is_refused() -> None:
    with pytest.raises(ValueError, match="calibrated_dbfs is 3"):
        full_scale_level_db(85.0, 3.0)


def test_a_piece_of_wire_makes_no_noise() -> None:
    assert johnson_noise_v(0.0) == 0


def test_four_times_the_resistance_or_bandwidth_doubles_the_noise_voltage() -> None:
    assert johnson_noise_v(4000.0) == pytest.approx(2 * johnson_noise_v(1000.0))
    assert johnson_noise_v(1000.0, 80_000.0) == pytest.approx(2 * johnson_noise_v(1000.0, 20_000.0))


def test_one_noise_arrives_changed_by_the_gain_after_it_alone() -> None:
    assert noise_at_sink_dbu([(-96.0, 26.0)]) == -70.0


def test_no_distance_leaves_the_latency_alone() -> None:
    assert arrival_ms(0.0, 343.2, latency_ms=4.2) == 4.2


@settings(max_examples=30)
@given(st.lists(st.floats(0, 100), min_size=1, max_size=12))
def test_aligned_arrivals_are_all_at_the_last_one(arrivals: list[float]) -> None:
    delays = alignment_delays_ms(arrivals)
    assert min(delays) == 0
    for arrival, delay in zip(arrivals, delays, strict=True):
        assert arrival + delay == pytest.approx(max(arrivals))


def test_no_arrivals_need_no_delays() -> None:
    assert alignment_delays_ms([]) == ()


def test_sound_is_faster_in_warm_air_by_about_0_6_m_per_s_and_degree() -> None:
    """A rule of thumb, common practice, no published source."""
    assert speed_of_sound_m_per_s(21.0) - speed_of_sound_m_per_s(20.0) == pytest.approx(0.6, abs=0.02)


def test_three_more_decibels_halve_the_time() -> None:
    assert exposure_minutes(103.0) == pytest.approx(exposure_minutes(100.0) / 2)
    assert exposure_minutes(85.0) == 8 * 60
