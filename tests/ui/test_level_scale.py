"""The scale of the level diagram: nothing falls off it, order is kept, ticks are where their labels say."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ui.level_scale import LevelScale, level_scale

LEVELS = st.floats(min_value=-300.0, max_value=60.0)


@given(st.lists(LEVELS, max_size=8), st.lists(LEVELS, max_size=8))
def test_every_level_has_a_height_within_the_scale(signal: list[float], noise: list[float]) -> None:
    scale = level_scale(signal, noise)
    lowest, highest = scale.span
    assert all(lowest <= scale.height(level) <= highest for level in (*signal, *noise))
    assert all(lowest <= height <= highest for height in (*scale.ticks_dbu(), *scale.ticks_v()))


@given(st.lists(LEVELS, min_size=1, max_size=8), st.lists(LEVELS, min_size=1, max_size=8))
def test_decibels_keep_their_height_on_either_side_of_a_break(signal: list[float], noise: list[float]) -> None:
    scale = level_scale(signal, noise)
    for levels in (signal, noise):
        least, greatest = min(levels), max(levels)
        if scale.breaks is None or max(noise) < min(signal):
            assert scale.height(greatest) - scale.height(least) == pytest.approx(greatest - least, abs=1e-6)
    if max(noise) < min(signal):
        assert scale.height(max(noise)) < scale.height(min(signal))


def test_a_far_noise_floor_breaks_the_scale() -> None:
    scale = level_scale([4.0, 20.0], [-95.0, -91.0])
    assert scale.breaks is not None
    below, above = scale.breaks
    assert scale.height(-91.0) < below < above < scale.height(4.0)
    assert scale.height(4.0) - scale.height(-91.0) < 30.0


def test_a_near_noise_floor_does_not() -> None:
    assert level_scale([4.0, 20.0], [-12.0]).breaks is None
    assert level_scale([4.0], []).breaks is None
    assert level_scale([], []).breaks is None


def decibels(scale: LevelScale) -> dict[str, float]:
    return {label: height for height, label in scale.ticks_dbu().items()}


def test_ticks_stand_at_round_levels_and_voltages() -> None:
    """1 V is +2.2185 dBu by definition, 2 V 6.0206 dB more, 100 mV 20 dB less."""
    scale = level_scale([-20.0, 15.0], [])
    assert decibels(scale) == {"−20": -20.0, "−10": -10.0, "0": 0.0, "+10": 10.0}
    volts = {label: height for height, label in scale.ticks_v().items()}
    assert volts["1 V"] == pytest.approx(2.2185, abs=1e-4)
    assert volts["2 V"] - volts["1 V"] == pytest.approx(6.0206, abs=1e-4)
    assert volts["1 V"] - volts["100 mV"] == pytest.approx(20.0)


def test_a_wide_scale_has_decades_of_volts_alone() -> None:
    labels = list(level_scale([-90.0, 15.0], []).ticks_v().values())
    assert labels == ["10 µV", "100 µV", "1 mV", "10 mV", "100 mV", "1 V", "10 V"]
