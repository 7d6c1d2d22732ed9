"""The filters against worked coefficients, worked levels, and SciPy."""

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import signal

from planner.bass.biquads import FLAT_Q, SAMPLE_RATE_HZ, Biquad, crossover, high_pass, low_corner, low_pass
from tests.bass.rooms import level_db
from tests.published.check_values import CheckValue, oracle, oracles

CORNER = st.floats(10.0, 300.0)


def hertz_of(expected: CheckValue) -> float:
    return float(expected.name.rpartition("_")[2])


@pytest.mark.parametrize(("name", "made"), [("lp", low_pass(80.0)), ("hp", high_pass(80.0))])
def test_the_cookbook_s_coefficients(name: str, made: Biquad) -> None:
    assert made.b == pytest.approx(oracle(f"eq.{name}_80hz_q0707_b").value, rel=1e-9)
    assert made.a == pytest.approx(oracle(f"eq.{name}_80hz_q0707_a").value, rel=1e-9)


@pytest.mark.parametrize("expected", oracles("eq.lp_80hz_q0707_at_"), ids=lambda one: one.name)
def test_levels_of_the_low_pass(expected: CheckValue) -> None:
    found = low_pass(80.0).response(np.array([hertz_of(expected)]))
    assert level_db(found).item() == pytest.approx(expected.value, abs=expected.tol_abs), str(expected)


@pytest.mark.parametrize("expected", oracles("eq.hp_80hz_q0707_at_"), ids=lambda one: one.name)
def test_levels_of_a_subwoofer_s_low_corner(expected: CheckValue) -> None:
    found = low_corner(80.0, np.array([hertz_of(expected)]))
    assert level_db(found).item() == pytest.approx(expected.value, abs=expected.tol_abs), str(expected)


@pytest.mark.parametrize("expected", oracles("eq.lr4_80_lp_at_"), ids=lambda one: one.name)
def test_levels_of_the_crossover(expected: CheckValue) -> None:
    found = crossover(80.0, np.array([hertz_of(expected)]))
    assert level_db(found).item() == pytest.approx(expected.value, abs=expected.tol_abs), str(expected)


def test_both_sides_of_the_crossover_add_up_to_an_all_pass() -> None:
    hertz = np.geomspace(5, 2000, 200)
    total = crossover(80.0, hertz) + high_pass(80.0).response(hertz) ** 2
    assert level_db(total) == pytest.approx(np.zeros(200), abs=oracle("eq.lr4_sum_deviation").tol_abs)


@given(CORNER, st.sampled_from(["lowpass", "highpass"]))
@settings(max_examples=30)
def test_flat_ones_are_scipy_s_butterworth(corner_hz: float, kind: str) -> None:
    made = low_pass(corner_hz) if kind == "lowpass" else high_pass(corner_hz)
    b, a = signal.butter(2, corner_hz, kind, fs=SAMPLE_RATE_HZ)
    assert made.b == pytest.approx(b, rel=1e-6)
    assert made.a == pytest.approx(a, rel=1e-9)


@given(CORNER, st.floats(0.3, 5.0), st.sampled_from([low_pass, high_pass]))
@settings(max_examples=30)
def test_responses_are_those_of_scipy(corner_hz: float, q: float, make: Callable[[float, float], Biquad]) -> None:
    made = make(corner_hz, q)
    hertz = np.linspace(5, 300, 60)
    _, expected = signal.freqz(made.b, made.a, hertz, fs=SAMPLE_RATE_HZ)
    assert made.response(hertz) == pytest.approx(expected, rel=1e-6, abs=1e-9)


@given(CORNER)
@settings(max_examples=20)
def test_in_the_bass_a_digital_corner_is_an_analogue_one(corner_hz: float) -> None:
    """SciPy's analogue prototype, phase and all, up to 300 Hz: the roll-off of a box is no digital filter."""
    b, a = signal.butter(2, 2 * np.pi * corner_hz, "highpass", analog=True)
    hertz = np.linspace(5, 300, 60)
    _, expected = signal.freqs(b, a, 2 * np.pi * hertz)
    assert low_corner(corner_hz, hertz) == pytest.approx(expected, abs=1e-3)


def test_the_flat_q_is_3_db_down_at_the_corner() -> None:
    assert level_db(high_pass(40.0, FLAT_Q).response(np.array([40.0]))).item() == pytest.approx(-3.0103, abs=1e-4)
