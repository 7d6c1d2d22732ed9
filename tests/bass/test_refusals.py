"""What cannot be predicted is refused, all at once, each with where, what, why and what to do."""

from dataclasses import replace

import pytest

from planner.bass.refusals import bass_faults
from planner.bass.study import bass_study
from planner.brief.records import Point, Room
from planner.errors import BadInput
from tests.bass.example import BRIEF, CATALOGUE, FRONT


def test_a_sound_brief_has_no_fault() -> None:
    assert bass_faults(BRIEF, 20.0) == ()


@pytest.mark.parametrize(
    "place", [Point(7.0, 1.0, 1.0), Point(-0.1, 1.0, 1.0), Point(3.0, 4.2, 1.0), Point(3.0, 1.0, 2.6)]
)
def test_a_seat_or_subwoofer_outside_the_room_is_refused(place: Point) -> None:
    seats = (BRIEF.seats[0], replace(BRIEF.seats[1], position=place))
    group = replace(FRONT, positions=(FRONT.positions[0], place))
    faults = bass_faults(replace(BRIEF, seats=seats, subwoofers=(group,)), 20.0, "hall.toml")
    where = [fault.where for fault in faults]
    assert "hall.toml seats[1].position" in where
    assert "hall.toml subwoofers[0].positions[1]" in where
    assert all("rectangular" in str(fault) for fault in faults if "inside" in fault.expected)


def test_a_subwoofer_at_a_listener_s_head_is_refused() -> None:
    group = replace(FRONT, positions=(FRONT.positions[0], Point(3.4, 1.0, 0.9)))
    (fault,) = bass_faults(replace(BRIEF, subwoofers=(group,)), 20.0)
    assert "0.20 m from the head at seat 'Front 1'" in fault.value


def test_no_seats_and_no_subwoofers_are_two_faults() -> None:
    faults = bass_faults(replace(BRIEF, seats=(), subwoofers=()), 20.0)
    assert [fault.where for fault in faults] == ["brief.toml seats", "brief.toml subwoofers"]


def test_a_hall_without_separate_modes_is_refused() -> None:
    """2000 √(0.4 / 4800) = 18.3 Hz: every mode of the band overlaps its neighbours."""
    hall = Room(length_m=30, width_m=20, height_m=8)
    (fault,) = bass_faults(replace(BRIEF, room=hall), 20.0)
    assert "18 Hz" in fault.value
    assert bass_faults(replace(BRIEF, room=hall), 15.0) == ()


@pytest.mark.parametrize("celsius", [-25.0, 55.0])
def test_a_temperature_without_a_known_speed_of_sound_is_refused(celsius: float) -> None:
    (fault,) = bass_faults(replace(BRIEF, room=replace(BRIEF.room, temperature_c=celsius)), 20.0)
    assert fault.where == "brief.toml room.temperature_c"


def test_the_study_raises_all_of_them() -> None:
    broken = replace(BRIEF, seats=(), subwoofers=())
    with pytest.raises(BadInput) as raised:
        bass_study(broken, CATALOGUE)
    assert len(raised.value.faults) == 2
