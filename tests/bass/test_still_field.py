"""The field at rest against what its equation demands, by other means than its own sum."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from planner.bass.arrays import Reals
from planner.bass.modal_sum import still_sum
from planner.bass.room_modes import modes_up_to
from planner.bass.still_field import still_field
from tests.bass.rooms import ROOM, points

SIZE = np.array(ROOM.size_m)


def at(seat_m: Reals, source_m: Reals) -> float:
    return float(still_field(ROOM, seat_m[None], source_m[None]).item())


@given(
    st.tuples(st.floats(0.02, 0.98), st.floats(0.02, 0.98), st.floats(0.02, 0.98)),
    st.floats(0.3, 1.5),
    st.floats(-0.25, 0.25),
    st.sampled_from([(0, 1, 2), (1, 2, 0), (2, 0, 1)]),
)
@settings(max_examples=40)
def test_it_does_not_matter_which_axis_is_summed_in_closed_form(
    source: tuple[float, float, float], apart_m: float, aside_m: float, axes: tuple[int, int, int]
) -> None:
    """The closed form runs along the axis on which the two are farthest apart.

    So two seats a hair apart, on either side of where that axis changes, get the same field by two different sums.
    """
    one, other, third = axes
    source_m = np.array(source) * SIZE
    offset = np.zeros(3)
    offset[[one, other, third]] = apart_m, apart_m, aside_m
    seat_m = source_m + offset
    assume(bool(np.all((seat_m > 0.01) & (seat_m < SIZE - 0.01))))
    hair = np.zeros(3)
    hair[one], hair[other] = 1e-8, -1e-8
    assert at(seat_m + hair, source_m) == pytest.approx(at(seat_m - hair, source_m), abs=1e-5)


def test_poisson_s_equation_holds_away_from_the_source() -> None:
    """∇²G = 4π/V there, since the mean is taken away: by central differences, to their h²."""
    source_m, seat_m, h = np.array([0.4, 0.5, 0.2]), np.array([3.1, 2.2, 1.2]), 0.02
    moves = [sign * h * np.eye(3)[axis] for axis in range(3) for sign in (1, -1)]
    laplacian = (sum(at(seat_m + move, source_m) for move in moves) - 6 * at(seat_m, source_m)) / h**2
    assert laplacian == pytest.approx(4 * np.pi / ROOM.volume_m3, rel=0.02)


@pytest.mark.parametrize("axis", [0, 1, 2])
def test_no_flow_crosses_a_wall(axis: int) -> None:
    """The same just inside a wall as at it, to the square of the distance."""
    seat_m, inside = np.array([3.1, 2.2, 1.2]), np.zeros(3)
    seat_m[axis] = SIZE[axis]
    inside[axis] = 0.01
    source_m = np.array([0.4, 0.5, 0.2])
    assert at(seat_m, source_m) == pytest.approx(at(seat_m - inside, source_m), abs=1e-4)


def test_near_the_source_it_is_the_free_field() -> None:
    """G goes as 1/r: halving 0.04 m adds 25."""
    source_m = np.array([3.0, 2.0, 1.2])
    near, nearer = np.array([0.04, 0, 0]), np.array([0.02, 0, 0])
    assert at(source_m + nearer, source_m) - at(source_m + near, source_m) == pytest.approx(25.0, abs=0.01)


def test_its_mean_over_the_room_is_nothing() -> None:
    """By the midpoint rule; what its first cell misses of the 1/r in the corner is the tolerance."""
    source_m = np.array([0.0, 0.0, 0.0])
    cells = (19, 13, 8)
    axes = [(np.arange(n) + 0.5) / n * length for n, length in zip(cells, SIZE, strict=True)]
    seats = np.stack(np.meshgrid(*axes, indexing="ij"), axis=-1).reshape(-1, 3)
    mean = still_field(ROOM, seats, source_m[None]).mean()
    assert mean == pytest.approx(0.0, abs=0.02)


def test_many_modes_at_rest_come_close_to_it() -> None:
    """A plain sum of tens of thousands of modes still wavers, by a few hundredths of the free field at 1 m."""
    seats, sources = points((3.2, 1.7, 1.1), (4.6, 3.0, 1.3)), points((0.3, 0.4, 0.2))
    plain = still_sum(modes_up_to(ROOM, 2000.0), seats, sources)
    assert plain == pytest.approx(still_field(ROOM, seats, sources), abs=0.05)
