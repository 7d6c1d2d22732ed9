"""Which subwoofers are mirror images of one another, and that the field then agrees."""

import numpy as np
import pytest

from planner.bass.controls import USUAL_RANGE
from planner.bass.groupings import groupings, moved
from planner.bass.mirrors import mirror_symmetries
from planner.bass.trials import Trials
from tests.bass.rooms import CORNERS_M, ROOM, SEATS_M, field, grouped

IDENTITY = (0, 1, 2, 3)
LEFT_RIGHT = (1, 0, 3, 2)

Place = tuple[float, float, float]


def places(points_m: np.ndarray[tuple[int, int], np.dtype[np.float64]]) -> list[tuple[Place, object]]:
    return [((float(x), float(y), float(z)), "alike") for x, y, z in points_m]


def test_seats_that_mirror_left_and_right_make_left_and_right_alike() -> None:
    assert set(mirror_symmetries(ROOM.size_m, places(CORNERS_M), places(SEATS_M))) == {IDENTITY, LEFT_RIGHT}


def test_a_seat_in_the_very_middle_makes_all_corners_alike() -> None:
    """Front and back too; the ear need not be halfway up, since the image in height carries no corner to another."""
    seat = np.array([[3.1, 2.05, 1.1]])
    found = set(mirror_symmetries(ROOM.size_m, places(CORNERS_M), places(seat)))
    assert found == {IDENTITY, LEFT_RIGHT, (2, 3, 0, 1), (3, 2, 1, 0)}


@pytest.mark.parametrize("odd", ["seat place", "seat kind", "subwoofer place", "subwoofer kind"])
def test_one_that_is_odd_leaves_nothing_alike(odd: str) -> None:
    seats, subwoofers = places(SEATS_M), places(CORNERS_M)
    things = seats if odd.startswith("seat") else subwoofers
    (x, y, z), kind = things[0]
    things[0] = ((x, y + 0.05, z), kind) if odd.endswith("place") else ((x, y, z), "other")
    assert set(mirror_symmetries(ROOM.size_m, subwoofers, seats)) == {IDENTITY}


def test_two_in_one_place_are_no_hindrance() -> None:
    stacked = places(np.concatenate([CORNERS_M, CORNERS_M]))
    assert mirror_symmetries(ROOM.size_m, stacked, places(SEATS_M))[0] == tuple(range(8))


@pytest.mark.parametrize("groups", [2, 3])
def test_a_grouping_and_its_image_give_the_same_spread(groups: int) -> None:
    here = field(ROOM, CORNERS_M, SEATS_M)
    for grouping in groupings(4, groups):
        image = moved(grouping, LEFT_RIGHT)
        gains = {frozenset(group): -2.0 * n for n, group in enumerate(grouping)}
        of_image = [gains[frozenset(LEFT_RIGHT[n] for n in group)] for group in image]
        one, other = (
            Trials(gain_db=np.array([gain]), delay_ms=-np.array([gain]), sign=np.ones((1, groups)))
            for gain in (list(gains.values()), of_image)
        )
        here_db2 = grouped(here, grouping, USUAL_RANGE).appraise(one).variance_db2
        there_db2 = grouped(here, image, USUAL_RANGE).appraise(other).variance_db2
        assert there_db2 == pytest.approx(here_db2)
