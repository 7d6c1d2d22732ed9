"""Shared peaking filters: the cookbook's by SciPy, peaks taken off, dips left, spread untouched."""

from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import signal

from planner.bass.arrays import Reals
from planner.bass.biquads import SAMPLE_RATE_HZ, peaking
from planner.bass.shared_filters import MOST_FILTERS, PeakingFilter, shared_filters
from planner.bass.spread import equal_weights, spread
from tests.bass.rooms import BAND_HZ, level_db


def total_db(filters: Sequence[PeakingFilter]) -> Reals:
    total: Reals = np.sum([one.response_db(BAND_HZ) for one in filters], axis=0, dtype=np.float64)
    return total


FLAT = np.zeros_like(BAND_HZ)


@given(st.floats(20.0, 200.0), st.floats(-12.0, 12.0), st.floats(0.5, 8.0))
@settings(max_examples=30)
def test_the_peaking_filter_is_scipy_s_bilinear_transform_of_the_cookbook_s_prototype(
    centre_hz: float, gain_db: float, q: float
) -> None:
    """H(s) = (s² + s A/Q + 1) / (s² + s/(AQ) + 1), A = 10^(dB/40), warped so that the centres meet."""
    amplitude = 10 ** (gain_db / 40)
    warped = 2 * SAMPLE_RATE_HZ * np.tan(np.pi * centre_hz / SAMPLE_RATE_HZ)
    b, a = signal.bilinear(
        [1, warped * amplitude / q, warped**2], [1, warped / (amplitude * q), warped**2], fs=SAMPLE_RATE_HZ
    )
    made = peaking(centre_hz, gain_db, q)
    assert made.b == pytest.approx(b, rel=1e-9)
    assert made.a == pytest.approx(a, rel=1e-9)


@given(st.floats(20.0, 200.0), st.floats(-12.0, 12.0), st.floats(0.5, 8.0))
@settings(max_examples=20)
def test_at_its_centre_it_has_its_gain_and_a_cut_undoes_a_boost(centre_hz: float, gain_db: float, q: float) -> None:
    at = np.array([centre_hz, 3 * centre_hz])
    assert level_db(peaking(centre_hz, gain_db, q).response(at[:1])).item() == pytest.approx(gain_db, abs=1e-6)
    both = peaking(centre_hz, gain_db, q).response(at) * peaking(centre_hz, -gain_db, q).response(at)
    assert level_db(both) == pytest.approx([0.0, 0.0], abs=1e-6)


def test_peaks_that_are_filters_themselves_are_taken_off() -> None:
    cuts = (PeakingFilter(centre_hz=32.0, gain_db=-6.0, q=4.0), PeakingFilter(centre_hz=58.0, gain_db=-4.0, q=5.6))
    peaks = -total_db(cuts)
    found = shared_filters(BAND_HZ, peaks, FLAT, 2)
    assert [one.centre_hz for one in found.filters] == [one.centre_hz for one in cuts]
    assert [one.gain_db for one in found.filters] == pytest.approx([one.gain_db for one in cuts], abs=2.0)


def test_a_dip_is_left_as_it_is() -> None:
    dip = PeakingFilter(centre_hz=45.0, gain_db=-12.0, q=4.0).response_db(BAND_HZ)
    assert shared_filters(BAND_HZ, dip, FLAT, 3).filters == ()


def test_the_subwoofers_own_slope_is_no_fault_of_the_room() -> None:
    slope = -12 * np.log2(BAND_HZ / 80)
    assert shared_filters(BAND_HZ, slope + 5, slope, 3).filters == ()


@pytest.mark.parametrize("most", [0, 1, 2, 3, 9])
def test_there_are_no_more_than_asked_nor_than_a_few(most: int) -> None:
    bumps = 6 * np.cos(BAND_HZ / 3)
    found = shared_filters(BAND_HZ, bumps, FLAT, most)
    assert len(found.filters) <= min(most, MOST_FILTERS)
    assert found.after_db <= found.before_db
    assert all(-12 <= one.gain_db < 0 for one in found.filters)


def test_they_cannot_change_the_spread() -> None:
    """J. Audio Eng. Soc. 54(5): seat-to-seat variation cannot be equalised away."""
    levels = np.random.default_rng(2).normal(0, 5, (len(BAND_HZ), 5)) + 8 * np.cos(BAND_HZ / 8)[:, None]
    filters = shared_filters(BAND_HZ, levels.mean(axis=1), FLAT, 3).filters
    assert filters
    after = levels + total_db(filters)[:, None]
    weight = equal_weights(5)
    assert spread(after, weight).spread_db == pytest.approx(spread(levels, weight).spread_db)
