"""The modal sum against worked values, closed forms, and what any correct one must obey."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.bass.modal_sum import modal_sum
from planner.bass.room_modes import Modes, modes_up_to
from planner.bass.shoebox import Shoebox
from tests.bass.rooms import level_db, points
from tests.published.check_values import oracle

Triple = tuple[float, float, float]

CHECK_ROOM = Shoebox(size_m=(5.0, 4.0, 2.5), speed_m_per_s=343.2, reverberation_time_s=0.4)
PLACES = {
    "corner": (points((0.0, 0.0, 0.0)), points((5.0, 4.0, 2.5))),
    "wall": (points((0.0, 2.0, 0.0)), points((3.2, 1.7, 1.1))),
}


def only(modes: Modes, index: tuple[int, int, int]) -> Modes:
    """One mode of several."""
    return next(block for block in modes.blocks(1) if tuple(block.index[0].tolist()) == index)


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize(
    ("frequency_hz", "name"), [(20.0, "20hz"), (343.2 / 10, "34_32hz"), (50.0, "50hz"), (80.0, "80hz")]
)
def test_the_worked_values_of_the_check_room(place: str, frequency_hz: float, name: str) -> None:
    """All modes up to 400 Hz, the uniform one among them, and no others: the recipe of the values."""
    source, seat = PLACES[place]
    expected = oracle(f"room.p_{place}_{name}")
    assert list(CHECK_ROOM.size_m) == oracle("room.p_room").value
    found = modal_sum(CHECK_ROOM, modes_up_to(CHECK_ROOM, 400.0), np.array([frequency_hz]), seat, source)
    assert level_db(found).item() == pytest.approx(expected.value, abs=expected.tol_abs), str(expected)


def test_one_mode_at_its_resonance() -> None:
    """Corner to corner, 4 π c² / (K 2 δ ω)."""
    source, seat = PLACES["corner"]
    mode = only(modes_up_to(CHECK_ROOM, 400.0), (1, 0, 0))
    found = modal_sum(CHECK_ROOM, mode, mode.frequency_hz, seat, source)
    assert level_db(found).item() == pytest.approx(oracle("room.single_mode_100_at_resonance").value, abs=1e-6)


def test_one_mode_is_3_db_down_at_the_ends_of_its_bandwidth() -> None:
    """The half-power bandwidth is δ/π. The resonance is not quite symmetrical: a tenth of a decibel."""
    room = Shoebox(size_m=(5.0, 4.0, 2.5), speed_m_per_s=343.2, reverberation_time_s=4.0)
    mode = only(modes_up_to(room, 400.0), (1, 0, 0))
    half = room.bandwidth_hz(50.0) / 2
    across = mode.frequency_hz + np.array([-half, 0.0, half])
    source, seat = PLACES["corner"]
    levels = level_db(modal_sum(room, mode, across, seat, source))[:, 0, 0]
    assert levels - levels[1] == pytest.approx([-3.01, 0, -3.01], abs=0.1)


def test_a_rigid_duct_in_closed_form() -> None:
    """A duct so thin that no mode lies across it: G = -cos(k x0) cos(k (L - x)) / (k sin kL), no loss.

    With H = 4 π G / A and next to no damping. The series ends as 1/n²: 60 000 modes leave 1e-5 of it.
    """
    expected = oracle("room.duct_green_40hz")
    side = 1e-5
    duct = Shoebox(size_m=(5.0, side, side), speed_m_per_s=343.2, reverberation_time_s=1e9)
    modes = modes_up_to(duct, 343.2 / 10 * 60_000)
    assert len(modes.frequency_hz) == 60_001
    found = modal_sum(duct, modes, np.array([40.0]), points((3.1, 0, 0)), points((0.8, 0, 0)))
    assert found.item().real * side**2 / (4 * math.pi) == pytest.approx(expected.value, abs=5e-6), str(expected)


lengths = st.tuples(st.floats(3.0, 9.0), st.floats(2.5, 6.0), st.floats(2.2, 3.5))
shares = st.tuples(st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
frequency = st.floats(15.0, 120.0)


def sound(size_m: Triple, source: Triple, seat: Triple, hertz: float, scale: float = 1.0) -> complex:
    """The pressure at a seat; places as shares of the room's lengths."""
    room = Shoebox(
        size_m=(size_m[0] * scale, size_m[1] * scale, size_m[2] * scale),
        speed_m_per_s=343.2,
        reverberation_time_s=0.5 * scale,
    )
    modes = modes_up_to(room, 250.0 / scale)
    seats_m, sources_m = points(seat) * room.size_m, points(source) * room.size_m
    return complex(modal_sum(room, modes, np.array([hertz / scale]), seats_m, sources_m).item())


@given(lengths, shares, shares, frequency)
@settings(max_examples=30)
def test_swapping_source_and_seat_changes_nothing(size_m: Triple, source: Triple, seat: Triple, hertz: float) -> None:
    assert sound(size_m, source, seat, hertz) == pytest.approx(sound(size_m, seat, source, hertz), rel=1e-9, abs=1e-9)


@given(lengths, shares, shares, frequency, st.sampled_from([0, 1, 2]))
@settings(max_examples=30)
def test_mirroring_everything_changes_nothing(
    size_m: Triple, source: Triple, seat: Triple, hertz: float, axis: int
) -> None:
    def image(place: Triple) -> Triple:
        x, y, z = (1 - share if n == axis else share for n, share in enumerate(place))
        return x, y, z

    mirrored = sound(size_m, image(source), image(seat), hertz)
    assert mirrored == pytest.approx(sound(size_m, source, seat, hertz), rel=1e-9, abs=1e-9)


@given(lengths, shares, shares, frequency, st.floats(0.3, 3.0))
@settings(max_examples=30)
def test_a_room_a_times_as_large_and_as_slow_has_its_frequencies_divided_by_a(
    size_m: Triple, source: Triple, seat: Triple, hertz: float, scale: float
) -> None:
    """The pressure falls as the distances grow, so it is a times as small re 1 m."""
    grown = sound(size_m, source, seat, hertz, scale)
    assert grown * scale == pytest.approx(sound(size_m, source, seat, hertz), rel=1e-6, abs=1e-6)


def test_a_source_on_a_nodal_plane_does_not_drive_the_mode() -> None:
    mode = only(modes_up_to(CHECK_ROOM, 100.0), (1, 0, 0))
    found = modal_sum(CHECK_ROOM, mode, mode.frequency_hz, points((5.0, 4.0, 2.5)), points((2.5, 1.0, 0.3)))
    assert abs(found.item()) < 1e-12


@pytest.mark.parametrize("index", [(1, 0, 0), (3, 0, 0), (1, 2, 0), (1, 0, 1)])
def test_two_sources_at_opposite_wall_midpoints_cancel_odd_modes_between_them(index: tuple[int, int, int]) -> None:
    mode = only(modes_up_to(CHECK_ROOM, 150.0), index)
    pair = points((0.0, 2.0, 0.3), (5.0, 2.0, 0.3))
    found = modal_sum(CHECK_ROOM, mode, mode.frequency_hz, points((4.2, 1.1, 1.2)), pair)[0, 0]
    assert abs(found[0]) > 0.1
    assert abs(found.sum()) < 1e-10 * abs(found[0])


def test_two_sources_at_opposite_wall_midpoints_drive_even_modes_twice() -> None:
    mode = only(modes_up_to(CHECK_ROOM, 150.0), (2, 0, 0))
    pair = points((0.0, 2.0, 0.3), (5.0, 2.0, 0.3))
    found = modal_sum(CHECK_ROOM, mode, mode.frequency_hz, points((4.2, 1.1, 1.2)), pair)[0, 0]
    assert found.sum() == pytest.approx(2 * found[0])


def test_each_mode_dies_away_as_its_own_frequency_has_it() -> None:
    """Driven at its own frequency far from others, a mode is 1 / 2δω high: twice the time, twice as high."""
    duct = Shoebox(size_m=(8.0, 0.4, 0.4), speed_m_per_s=343.2, reverberation_time_s=4.0)
    first_hz = 343.2 / 16.0
    banded = replace(duct, reverberation_bands=((first_hz, 4.0), (2 * first_hz, 8.0)))
    ends = points((0.0, 0.0, 0.0)), points((8.0, 0.0, 0.0))
    for order, factor in ((1, 1.0), (2, 2.0)):
        hertz = np.array([order * first_hz])
        modes = modes_up_to(duct, 3 * first_hz)
        plain, longer = (np.abs(modal_sum(room, modes, hertz, *ends)).item() for room in (duct, banded))
        assert longer / plain == pytest.approx(factor, rel=0.01)
