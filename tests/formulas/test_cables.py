"""Leads and loudspeaker cable: limiting cases, and the standards' rules of thumb."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.formulas.capacitance import corner_hz, greatest_capacitance_pf, low_pass_loss_db
from planner.formulas.speaker_cable import (
    CLASS_5_OHM_PER_KM,
    awg_area_mm2,
    awg_diameter_mm,
    cable_loss_db,
    class_5_ohm_per_m,
    copper_ohm_per_m,
    damping_factor,
    greatest_loop_ohm,
    longest_run_m,
    loop_resistance_ohm,
    resistance_at_ohm,
)


def test_a_lead_takes_3_db_at_its_corner() -> None:
    assert low_pass_loss_db(corner_hz(1000.0, 3000.0), 1000.0, 3000.0) == pytest.approx(-3.0103, abs=1e-4)


def test_far_above_its_corner_a_lead_takes_6_db_an_octave() -> None:
    corner = corner_hz(1000.0, 3000.0)
    octave = low_pass_loss_db(2000 * corner, 1000.0, 3000.0) - low_pass_loss_db(1000 * corner, 1000.0, 3000.0)
    assert octave == pytest.approx(-6.0206, abs=1e-4)


@pytest.mark.parametrize(
    ("frequency_hz", "source_ohm", "capacitance_pf"),
    [(0.0, 600.0, 3000.0), (20_000.0, 0.0, 3000.0), (20_000.0, 600.0, 0.0)],
)
def test_no_frequency_no_source_or_no_length_takes_nothing(
    frequency_hz: float, source_ohm: float, capacitance_pf: float
) -> None:
    assert low_pass_loss_db(frequency_hz, source_ohm, capacitance_pf) == 0


def test_a_lead_of_no_length_has_no_corner() -> None:
    with pytest.raises(ValueError, match="capacitance_pf is 0"):
        corner_hz(600.0, 0.0)


def test_at_the_greatest_capacitance_the_reactance_is_the_load() -> None:
    assert corner_hz(22_000.0, greatest_capacitance_pf(22_000.0, 15_000.0)) == pytest.approx(15_000.0)


@pytest.mark.parametrize(("gauge", "mils"), [(36, 5.0), (-3, 460.0)])
def test_the_two_gauges_that_define_the_scale(gauge: int, mils: float) -> None:
    """ASTM B258: number 36 is 0.005 inch, number 0000 is 0.46 inch; 1 mil is 0.0254 mm."""
    assert awg_diameter_mm(gauge) == pytest.approx(mils * 0.0254)


def test_three_gauges_halve_the_copper_and_ten_make_a_tenth() -> None:
    """Rules of thumb, common practice, no published source: true to 1 and 2 %."""
    assert awg_area_mm2(15) == pytest.approx(awg_area_mm2(12) / 2, rel=0.01)
    assert awg_area_mm2(22) == pytest.approx(awg_area_mm2(12) / 10, rel=0.02)


@pytest.mark.parametrize("area_mm2", CLASS_5_OHM_PER_KM)
def test_a_flexible_conductor_may_have_a_tenth_to_a_sixth_more_than_its_nominal_area(area_mm2: float) -> None:
    assert 1.10 < class_5_ohm_per_m(area_mm2) / copper_ohm_per_m(area_mm2) < 1.17


def test_a_size_that_the_standard_does_not_list_is_refused_by_name() -> None:
    with pytest.raises(ValueError, match=r"area_mm2 is 2\.08; expected a nominal area, one of 0\.5, 0\.75, 1, 1\.5"):
        class_5_ohm_per_m(2.08)


@pytest.mark.parametrize(
    ("temperature_c", "factor"),
    [
        (5, 1.064),
        (10, 1.042),
        (15, 1.020),
        (20, 1.000),
        (25, 0.980),
        (30, 0.962),
        (35, 0.943),
        (40, 0.926),
        (50, 0.893),
    ],
)
def test_temperature_agrees_with_the_standard_s_table(temperature_c: float, factor: float) -> None:
    """IEC 60228:2004 Annex A, factor to 20 °C, read in a cable maker's public table.

    The table rounds the coefficient to 0.004, which is 0.2 % at 50 °C.
    """
    assert resistance_at_ohm(1.0, temperature_c) * factor == pytest.approx(1.0, rel=0.0025)


def test_temperature_moves_both_kinds_of_conductor_alike() -> None:
    for conductor_ohm_per_m in (copper_ohm_per_m, class_5_ohm_per_m):
        warm = conductor_ohm_per_m(2.5, temperature_c=45.0) / conductor_ohm_per_m(2.5)
        assert warm == pytest.approx(resistance_at_ohm(1.0, 45.0))


def test_a_run_of_no_length_loses_nothing() -> None:
    assert loop_resistance_ohm(0.00798, 0.0) == 0
    assert cable_loss_db(8.0, 0.0) == 0


def test_a_loop_equal_to_the_load_halves_the_voltage() -> None:
    assert cable_loss_db(8.0, 8.0) == pytest.approx(-6.0206, abs=1e-4)


def test_a_limit_of_no_loss_allows_no_cable() -> None:
    assert greatest_loop_ohm(8.0, 0.0) == 0
    assert longest_run_m(0.00798, 0.0) == 0


@settings(max_examples=30)
@given(st.floats(2, 16), st.floats(-6, -0.01), st.floats(0.5, 10))
def test_the_longest_run_loses_just_what_the_limit_allows(load_ohm: float, limit_db: float, area_mm2: float) -> None:
    conductor = copper_ohm_per_m(area_mm2)
    run = longest_run_m(conductor, greatest_loop_ohm(load_ohm, limit_db))
    assert cable_loss_db(load_ohm, loop_resistance_ohm(conductor, run)) == pytest.approx(limit_db, abs=1e-9)


def test_a_gain_is_no_limit_of_loss() -> None:
    with pytest.raises(ValueError, match=r"loss_limit_db is 0\.5; expected -100 to 0"):
        greatest_loop_ohm(8.0, 0.5)


def test_with_no_cable_the_damping_is_the_amplifier_s_own() -> None:
    assert damping_factor(8.0, 0.0, 0.04) == pytest.approx(200)


def test_nothing_in_series_damps_without_limit_and_is_refused() -> None:
    with pytest.raises(ValueError, match="series_ohm is 0"):
        damping_factor(8.0, 0.0)


def test_halving_the_copper_doubles_the_resistance() -> None:
    assert copper_ohm_per_m(1.25) == 2 * copper_ohm_per_m(2.5)
    assert math.isclose(class_5_ohm_per_m(4.0) * 1000, 4.95)
