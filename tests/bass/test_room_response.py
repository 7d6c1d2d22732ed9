"""The converged response against finite differences and image sources, and its own report against the truth."""

import numpy as np
import pytest

from planner.bass.arrays import Complexes, Reals
from planner.bass.modal_sum import modal_sum
from planner.bass.room_modes import modes_up_to
from planner.bass.room_response import room_response
from planner.bass.shoebox import Shoebox
from tests.bass.finite_difference import Cell, finite_difference_response
from tests.bass.image_sources import image_response
from tests.bass.rooms import BAND_HZ, CORNERS_M, ROOM, SEATS_M, decay_per_s, level_db, points

RINGING = Shoebox(size_m=(5.0, 4.0, 2.5), speed_m_per_s=343.2, reverberation_time_s=0.6)


def level_errors_db(found: Complexes, other: Complexes) -> Reals:
    """Differences of level, save where the other is more than 10 dB below its mean.

    In a null the two damping models, and the last modes, decide what is left.
    """
    expected = level_db(other)
    heard = expected > expected.mean() - 10
    assert heard.mean() > 0.85
    errors: Reals = (level_db(found) - expected)[heard]
    return errors


def test_finite_differences_agree() -> None:
    """Within 0.25 dB rms. A grid of 0.125 m moves modes at 80 Hz down by 0.1 Hz, and its loss acts on ω, not ω_n."""
    cell_m = 0.125
    source: Cell = (1, 1, 1)
    receivers: list[Cell] = [(25, 13, 8), (31, 20, 8), (16, 5, 9), (25, 18, 12)]
    other = finite_difference_response(
        (40, 32, 20), cell_m, RINGING.speed_m_per_s, decay_per_s(RINGING), BAND_HZ, source, receivers, seconds=0.7
    )
    seats, sources = (np.array(receivers) + 0.5) * cell_m, (np.array([source]) + 0.5) * cell_m
    found = room_response(RINGING, BAND_HZ, seats, sources).pressure[:, :, 0]
    assert np.sqrt((level_errors_db(found, other) ** 2).mean()) < 0.25


@pytest.mark.parametrize(
    ("source", "seat"),
    [((0.3, 0.4, 0.2), (3.2, 1.7, 1.1)), ((0.3, 0.4, 0.2), (4.3, 2.6, 1.1)), ((2.5, 0.1, 0.3), (3.2, 1.7, 1.1))],
)
def test_image_sources_agree(source: tuple[float, float, float], seat: tuple[float, float, float]) -> None:
    """Within 0.25 dB rms. The image sum has (δ + jω)² where the modal sum has 2jδω_n - ω²."""
    other = image_response(
        RINGING.size_m, RINGING.speed_m_per_s, decay_per_s(RINGING), BAND_HZ, np.array(source), np.array(seat)
    )
    found = room_response(RINGING, BAND_HZ, points(seat), points(source)).pressure[:, 0, 0]
    assert np.sqrt((level_errors_db(found, other) ** 2).mean()) < 0.25


def test_the_two_models_of_damping_meet_as_it_vanishes() -> None:
    def error(time_s: float) -> float:
        room = Shoebox(size_m=(5.0, 4.0, 2.5), speed_m_per_s=343.2, reverberation_time_s=time_s)
        source, seat = np.array((0.3, 0.4, 0.2)), np.array((3.2, 1.7, 1.1))
        other = image_response(room.size_m, room.speed_m_per_s, decay_per_s(room), BAND_HZ, source, seat)
        found = room_response(room, BAND_HZ, seat[None], source[None]).pressure[:, 0, 0]
        return float(np.sqrt((np.abs(found - other) ** 2).sum() / (np.abs(other) ** 2).sum()))

    assert error(0.8) < 0.7 * error(0.4)


@pytest.fixture(scope="module")
def truth() -> Complexes:
    """Many more modes than are ever needed."""
    return room_response(ROOM, BAND_HZ, SEATS_M, CORNERS_M, 0.0005).pressure


def test_a_thousand_modes_do_as_well_as_tens_of_thousands() -> None:
    """The plain sum to 1200 Hz wavers by a few thousandths itself; that is the tolerance."""
    found = room_response(ROOM, BAND_HZ, SEATS_M, CORNERS_M)
    assert found.truncation.modes < 2500
    plain = modal_sum(ROOM, modes_up_to(ROOM, 1200.0), BAND_HZ, SEATS_M, CORNERS_M)
    error = np.sqrt((np.abs(found.pressure - plain) ** 2).sum() / (np.abs(plain) ** 2).sum())
    assert error < 0.01


@pytest.mark.parametrize("tolerance_db", [0.2, 0.02, 0.005])
def test_the_reported_change_bounds_what_is_still_missing(tolerance_db: float, truth: Complexes) -> None:
    found = room_response(ROOM, BAND_HZ, SEATS_M, CORNERS_M, tolerance_db)
    missing = np.sqrt((np.abs(found.pressure - truth) ** 2).sum(axis=(1, 2)) / (np.abs(truth) ** 2).sum(axis=(1, 2)))
    assert found.truncation.change_db <= tolerance_db
    assert 20 * np.log10(1 + missing.max()) <= found.truncation.change_db


def test_a_finer_tolerance_takes_more_modes() -> None:
    counts = [room_response(ROOM, BAND_HZ, SEATS_M, CORNERS_M, tol).truncation.modes for tol in (0.2, 0.02, 0.005)]
    assert counts == sorted(counts)
    assert counts[0] < counts[-1]


def test_swapping_all_sources_and_seats_transposes_the_response() -> None:
    there = room_response(ROOM, BAND_HZ, SEATS_M, CORNERS_M).pressure
    back = room_response(ROOM, BAND_HZ, CORNERS_M, SEATS_M).pressure
    assert back == pytest.approx(there.transpose(0, 2, 1), rel=1e-9, abs=1e-9)
