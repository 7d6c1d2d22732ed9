"""Levels: limiting cases, and the conversions there and back."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.formulas.clipping import first_to_clip
from planner.formulas.levels import (
    dbu_from_dbv,
    dbu_from_v,
    dbv_from_dbu,
    dbv_from_v,
    in_phase_sum_db,
    power_ratio,
    power_ratio_db,
    power_sum_db,
    v_from_dbu,
    v_from_dbv,
    voltage_ratio,
    voltage_ratio_db,
)

levels_db = st.floats(-200, 200)
DOUBLE_DB = 20 * math.log10(2)


@settings(max_examples=30)
@given(levels_db)
def test_every_conversion_comes_back(level_db: float) -> None:
    assert dbu_from_v(v_from_dbu(level_db)) == pytest.approx(level_db, abs=1e-9)
    assert dbv_from_v(v_from_dbv(level_db)) == pytest.approx(level_db, abs=1e-9)
    assert dbu_from_dbv(dbv_from_dbu(level_db)) == pytest.approx(level_db, abs=1e-9)
    assert voltage_ratio_db(voltage_ratio(level_db), 1.0) == pytest.approx(level_db, abs=1e-9)
    assert power_ratio_db(power_ratio(level_db), 1.0) == pytest.approx(level_db, abs=1e-9)


def test_one_voltage_has_one_level_on_either_scale() -> None:
    assert dbv_from_dbu(dbu_from_v(1.7)) == pytest.approx(dbv_from_v(1.7), abs=1e-12)


def test_equal_voltages_are_0_db_apart_and_double_is_6_db() -> None:
    assert voltage_ratio_db(1.3, 1.3) == 0
    assert voltage_ratio_db(2.6, 1.3) == pytest.approx(DOUBLE_DB)


@settings(max_examples=50)
@given(st.lists(levels_db, min_size=1, max_size=8))
def test_a_sum_lies_between_the_greatest_and_all_in_phase(levels: list[float]) -> None:
    """Powers and amplitudes are added as such here, without the formula's scaling."""
    power, in_phase = power_sum_db(levels), in_phase_sum_db(levels)
    assert power == pytest.approx(10 * math.log10(sum(10 ** (level / 10) for level in levels)), abs=1e-9)
    assert in_phase == pytest.approx(20 * math.log10(sum(10 ** (level / 20) for level in levels)), abs=1e-9)
    assert max(levels) - 1e-9 <= power <= in_phase + 1e-9
    assert in_phase <= max(levels) + 20 * math.log10(len(levels)) + 1e-9


def test_the_sum_of_one_level_is_that_level() -> None:
    assert power_sum_db([-96.0]) == in_phase_sum_db([-96.0]) == -96.0


def test_a_level_far_below_adds_nothing() -> None:
    assert power_sum_db([0.0, -1e6]) == in_phase_sum_db([0.0, -1e6]) == 0.0


@pytest.mark.parametrize("add", [power_sum_db, in_phase_sum_db])
def test_no_levels_have_no_sum(add: object) -> None:
    assert callable(add)
    with pytest.raises(ValueError, match="levels_db is empty"):
        add([])


def test_the_first_of_stages_that_clip_together_is_named() -> None:
    assert first_to_clip([(14.0, -4.0), (8.0, -4.0), (4.0, 0.0)]) == (1, 4.0)


def test_gain_after_a_stage_carries_its_limit_forward() -> None:
    assert first_to_clip([(2.0, 20.0), (18.0, 0.0)]) == (1, 18.0)
    assert first_to_clip([(-4.0, 20.0), (18.0, 0.0)]) == (0, 16.0)


def test_a_chain_of_no_stages_has_no_limit() -> None:
    with pytest.raises(ValueError, match="limits is empty"):
        first_to_clip([])
