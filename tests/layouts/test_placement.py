"""Where a layout puts the loudspeakers of a room: geometry worked by hand, and invariants.

Directions are checked with `scipy.spatial.transform.Rotation`, a general library, by turning
the vector that faces the front wall through azimuth and elevation. The stand-off of 0.1 m
and the casting to the walls are common practice, no published source.
"""

import math
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from planner.brief.records import Brief, LoudspeakerSet, Placement, Point, Project, Rack, Room, Seat, SubwooferSet
from planner.channels import CHANNELS, Angles, Channel, is_bass
from planner.layouts import LAYOUTS, Layout, layout
from planner.placement import (
    STAND_OFF_M,
    Placed,
    azimuth_deviation_deg,
    cast,
    listener,
    member_positions,
    placement_deviation,
)

ROOM = Room(length_m=6.1, width_m=4.2, height_m=2.6)
ROOM_CENTRE = Point(3.05, 2.1, 1.3)
SEAT = Seat(name="Middle", position=Point(4.0, 2.1, 1.2), primary=True)
LOUDSPEAKER_CHANNELS = tuple(channel for channel in CHANNELS if not is_bass(channel.label))


def brief_with(placements: tuple[Placement, ...], layout_name: str = "7.1.4", room: Room = ROOM) -> Brief:
    group = LoudspeakerSet(name="All", placements=placements, candidates=("SKU-1",))
    return Brief(
        project=Project(name="Test", client="", reference="", dated=date(2026, 3, 2), currency="EUR"),
        room=room,
        seats=(SEAT,),
        rack=Rack(position=Point(0, 0, 0)),
        layout=layout_name,
        loudspeakers=(group,),
    )


def one_placed(channel: str, position: Point | None, layout_name: str) -> Placed:
    (placed,) = placement_deviation(brief_with((Placement(channel=channel, position=position),), layout_name))
    return placed


def turned(direction: Angles) -> np.ndarray:
    """The direction as a vector (x, y, z): lift the one that faces the front wall, then turn it left."""
    facing_front = np.array([-1.0, 0.0, 0.0])
    # With x to the back and y to the right, z up, turning left is the positive turn about z.
    lift = Rotation.from_euler("y", direction.elevation_deg, degrees=True)
    turn = Rotation.from_euler("z", direction.azimuth_deg, degrees=True)
    return np.asarray(turn.apply(lift.apply(facing_front)))


def between_deg(one: np.ndarray, other: np.ndarray) -> float:
    cross, dot = np.linalg.norm(np.cross(one, other)), np.dot(one, other)
    return math.degrees(math.atan2(float(cross), float(dot)))


def as_vector(point: Point) -> np.ndarray:
    return np.array([point.x_m, point.y_m, point.z_m])


# Worked by hand in a room of 6.1 x 4.2 x 2.6 m, ear at (4.0, 2.1, 1.2): the inner box is
# 0.1 to 6.0, 0.1 to 4.1, 0.1 to 2.5.
BY_HAND = [
    ("M+000", (0.1, 2.1, 1.2)),
    ("M+090", (4.0, 0.1, 1.2)),  # left is towards y = 0
    ("M-090", (4.0, 4.1, 1.2)),
    ("M+135", (6.0, 0.1, 1.2)),  # 2.0 m back and 2.0 m to the left: the very corner
    ("M+180", (6.0, 2.1, 1.2)),
    ("T+000", (4.0, 2.1, 2.5)),
    ("UH+180", (5.3, 2.1, 2.5)),  # 1.3 m up at 45 degrees: 1.3 m back
    ("M+030", (0.536, 0.1, 1.2)),  # the side wall after 2.0 m to the left: 2.0 / tan 30 = 3.464 m forward
    ("U+090", (4.0, 0.1, 2.355)),  # the side wall again: 2.0 m x tan 30 = 1.155 m up
    ("B+000", (2.095, 2.1, 0.1)),  # 1.1 m down at 30 degrees: 1.1 / tan 30 = 1.905 m forward
]


@pytest.mark.parametrize(("channel", "expected"), BY_HAND)
def test_positions_worked_by_hand(channel: str, expected: tuple[float, float, float]) -> None:
    positions = member_positions(brief_with((Placement(channel=channel),), "22.2"))
    assert as_vector(positions["All", 0]) == pytest.approx(np.array(expected), abs=0.0006)  # to the millimetre


def rooms_and_ears(margin_m: float) -> st.SearchStrategy[tuple[Room, Point]]:
    """Rooms of 2 m to 20 m, and an ear at least the margin from every boundary."""
    sizes = st.tuples(*(st.floats(2.0, 20.0) for _ in range(3)))

    def with_ear(size: tuple[float, ...]) -> st.SearchStrategy[tuple[Room, Point]]:
        room = Room(length_m=size[0], width_m=size[1], height_m=size[2])
        return st.tuples(st.just(room), st.builds(Point, *(st.floats(margin_m, length - margin_m) for length in size)))

    return sizes.flatmap(with_ear)


@given(rooms_and_ears(0.5), st.sampled_from(LOUDSPEAKER_CHANNELS))
def test_a_placed_loudspeaker_is_seen_at_its_nominal_angles(place: tuple[Room, Point], channel: Channel) -> None:
    room, ear = place
    position = cast(ear, channel.angles, room)
    # 0.4 m away at least, and to the millimetre: at most 0.13 degrees out.
    assert between_deg(turned(channel.angles), as_vector(position) - as_vector(ear)) < 0.5


@given(rooms_and_ears(0.0), st.sampled_from(LOUDSPEAKER_CHANNELS))
def test_every_loudspeaker_is_in_the_room_and_off_its_boundaries(place: tuple[Room, Point], channel: Channel) -> None:
    room, ear = place
    position = as_vector(cast(ear, channel.angles, room))
    size = np.array([room.length_m, room.width_m, room.height_m])
    assert np.all(position >= STAND_OFF_M - 0.0006)
    assert np.all(position <= size - STAND_OFF_M + 0.0006)


@given(rooms_and_ears(0.2), st.sampled_from(LOUDSPEAKER_CHANNELS))
def test_every_loudspeaker_stands_at_a_boundary(place: tuple[Room, Point], channel: Channel) -> None:
    room, ear = place
    position = as_vector(cast(ear, channel.angles, room))
    far = np.array([room.length_m, room.width_m, room.height_m]) - STAND_OFF_M
    assert np.min(np.abs(np.concatenate([position - STAND_OFF_M, far - position]))) < 0.0011


@pytest.mark.parametrize("found", LAYOUTS, ids=lambda found: found.name)
def test_a_layout_placed_in_a_room_is_within_its_own_ranges_and_symmetrical(found: Layout) -> None:
    labels = [label for label in found.labels if not is_bass(label)]
    placed = placement_deviation(brief_with(tuple(Placement(channel=label) for label in labels), found.name))
    by_channel = {one.channel: one for one in placed}
    assert all(one.within for one in placed)
    for label, one in by_channel.items():
        if "-" in label:
            twin = by_channel[label.replace("-", "+")]
            assert one.position.y_m + twin.position.y_m == pytest.approx(ROOM.width_m, abs=0.0011)
            assert (one.position.x_m, one.position.z_m) == (twin.position.x_m, twin.position.z_m)


def test_a_given_position_stands_and_subwoofers_stand_where_given() -> None:
    corner = Point(0.2, 0.2, 0.2)
    brief = brief_with((Placement(channel="M+030", position=Point(0.3, 1.0, 1.0)), Placement(channel="M-030")))
    subwoofers = SubwooferSet(name="Bass", least=1, most=1, positions=(corner, ROOM_CENTRE))
    positions = member_positions(replace(brief, subwoofers=(subwoofers,)))
    assert positions["All", 0] == Point(0.3, 1.0, 1.0)
    assert positions["Bass", 0] == corner
    assert positions["Bass", 1] == ROOM_CENTRE
    assert set(positions) == {("All", 0), ("All", 1), ("Bass", 0), ("Bass", 1)}


def test_the_listener_is_the_mean_of_the_primary_seats_or_of_all() -> None:
    left = Seat(name="Left", position=Point(4.0, 1.0, 1.0), primary=True)
    right = Seat(name="Right", position=Point(4.0, 3.0, 1.2), primary=True)
    behind = Seat(name="Behind", position=Point(5.5, 2.0, 1.4))
    assert listener((left, behind, right)) == Point(4.0, 2.0, 1.1)
    nobody = tuple(replace(seat, primary=False) for seat in (left, right, behind))
    assert as_vector(listener(nobody)) == pytest.approx(np.array([4.5, 2.0, 1.2]))


# Channel, layout, position, then the deviation worked by hand from the ranges of ITU-R
# BS.2051-3 and the ear at (4.0, 2.1, 1.2).
DEVIATIONS = [
    ("M+110", "5.1", (4.0, 0.1, 1.2), -10.0, 0.0),  # at 90, permitted from 100
    ("M-110", "5.1", (4.0, 4.1, 1.2), 10.0, 0.0),
    ("M+110", "5.1", (5.0, 1.1, 1.2), 15.0, 0.0),  # at 135, permitted to 120
    ("M+030", "5.1", (2.0, 2.1, 1.2), -30.0, 0.0),  # straight ahead
    ("M+000", "5.1", (2.0, 2.1, 3.2), 0.0, 45.0),  # 2 m ahead and 2 m up
    ("U+045", "7.1.4", (3.0, 1.1, 1.2), 0.0, -30.0),  # at ear height, permitted from 30 up
    ("M+180", "22.2", (6.0, 4.1, 1.2), 45.0, 0.0),  # behind to the right: -135, the short way from 180
    ("M+180", "22.2", (6.0, 0.1, 1.2), -45.0, 0.0),  # behind to the left
    ("T+000", "22.2", (4.0, 2.1, 2.5), 0.0, 0.0),
    ("T+000", "22.2", (4.0, 3.4, 2.5), 0.0, -45.0),  # no azimuth is wrong overhead
    ("UH+180", "3+7+0", (4.0, 2.1, 2.5), 0.0, 0.0),  # plumb above is within 45 to 90 up
]


@pytest.mark.parametrize(("channel", "name", "position", "azimuth", "elevation"), DEVIATIONS)
def test_deviation_from_the_permitted_range(
    channel: str, name: str, position: tuple[float, float, float], azimuth: float, elevation: float
) -> None:
    placed = one_placed(channel, Point(*position), name)
    assert placed.azimuth_deviation_deg == pytest.approx(azimuth, abs=1e-6)
    assert placed.elevation_deviation_deg == pytest.approx(elevation, abs=1e-6)
    assert placed.within is (azimuth == elevation == 0)
    assert placed.distance_m == pytest.approx(math.dist((4.0, 2.1, 1.2), position))


def test_a_channel_that_the_layout_lacks_has_no_range_to_deviate_from() -> None:
    placed = one_placed("M+060", Point(1.0, 0.1, 1.2), "5.1")
    assert placed.azimuth_deviation_deg is placed.elevation_deviation_deg is placed.within is None


@given(st.sampled_from([channel.azimuth_range for channel in layout("22.2").channels]), st.floats(0, 1))
def test_no_azimuth_within_a_range_deviates_from_it(permitted: tuple[float, float], part: float) -> None:
    inside = permitted[0] + part * (permitted[1] - permitted[0])
    assert azimuth_deviation_deg(inside, permitted) == pytest.approx(0, abs=1e-9)


@given(st.floats(-180, 180), st.sampled_from([channel.azimuth_range for channel in layout("22.2").channels]))
def test_an_azimuth_corrected_by_its_deviation_is_within(azimuth: float, permitted: tuple[float, float]) -> None:
    deviation = azimuth_deviation_deg(azimuth, permitted)
    assert abs(deviation) <= 180
    corrected = azimuth - deviation
    assert any(permitted[0] - 1e-9 <= corrected + turn <= permitted[1] + 1e-9 for turn in (-360, 0, 360))
