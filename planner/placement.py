"""Where the loudspeakers of a brief stand: as given, or where its layout's angles meet the room.

The listener's ear is the mean of the primary seats, or of all seats if none is primary.
Azimuth 0 faces the front wall (towards smaller x) and is positive to the left (towards
smaller y). From the ear a ray is cast in the channel's nominal direction until it is 0.1 m
short of a wall, the ceiling or the floor; there the loudspeaker stands, to the millimetre.
Middle-layer loudspeakers are thus at the height of the seated ear, which ITU-R BS.775-3
(08/2012) Figure 1 has at 1.2 m.

The stand-off and the casting to the boundary are common practice, no published source.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from planner.brief.records import Brief, Point, Room, Seat
from planner.channels import Angles, nominal_angles
from planner.layouts import Range, layout

Member = tuple[str, int]
"""The name of a set and the index within it, from 0."""

STAND_OFF_M = 0.1
"""Between a boundary of the room and a loudspeaker that a layout places."""

_TAPE_MEASURE_DEG = 0.5
_PLUMB_M = 0.01


@dataclass(frozen=True, kw_only=True, slots=True)
class Placed:
    """One loudspeaker as the listener sees it, and how far it is from where it may stand.

    The deviations are degrees outside the ranges of the brief's layout, 0 within them,
    negative to the right of or below the range; None if the layout has no such channel.
    """

    member: Member
    channel: str
    position: Point
    angles: Angles
    distance_m: float
    azimuth_deviation_deg: float | None
    elevation_deviation_deg: float | None

    @property
    def within(self) -> bool | None:
        """Whether it stands where the layout permits, to half a degree; None if that is not said."""
        if self.azimuth_deviation_deg is None or self.elevation_deviation_deg is None:
            return None
        return max(abs(self.azimuth_deviation_deg), abs(self.elevation_deviation_deg)) <= _TAPE_MEASURE_DEG


def listener(seats: tuple[Seat, ...]) -> Point:
    """The mean position of the primary seats, or of all of at least one seat if none is primary."""
    heads = [seat.position for seat in seats if seat.primary] or [seat.position for seat in seats]
    return Point(
        math.fsum(head.x_m for head in heads) / len(heads),
        math.fsum(head.y_m for head in heads) / len(heads),
        math.fsum(head.z_m for head in heads) / len(heads),
    )


def member_positions(brief: Brief) -> Mapping[Member, Point]:
    """The position of every loudspeaker and subwoofer of a brief, by set name and index.

    Of a subwoofer set all positions are listed, also those beyond `most`.
    """
    ear = listener(brief.seats)
    positions = {
        (group.name, index): placement.position or cast(ear, nominal_angles(placement.channel), brief.room)
        for group in brief.loudspeakers
        for index, placement in enumerate(group.placements)
    }
    for group in brief.subwoofers:
        positions.update({(group.name, index): position for index, position in enumerate(group.positions)})
    return positions


def cast(ear: Point, direction: Angles, room: Room) -> Point:
    """Where a ray from the ear first comes within the stand-off of a boundary, to the millimetre.

    An ear that is itself within the stand-off of the boundary that it faces gets a point
    beside it, off the ray; `placement_deviation` then shows how far off.
    """
    azimuth, elevation = math.radians(direction.azimuth_deg), math.radians(direction.elevation_deg)
    ray = (
        -math.cos(azimuth) * math.cos(elevation),
        -math.sin(azimuth) * math.cos(elevation),
        math.sin(elevation),
    )
    start = (ear.x_m, ear.y_m, ear.z_m)
    far = tuple(size - STAND_OFF_M for size in (room.length_m, room.width_m, room.height_m))
    lengths = [
        ((limit if step > 0 else STAND_OFF_M) - origin) / step
        for origin, step, limit in zip(start, ray, far, strict=True)
        if abs(step) > 1e-12  # a ray along a boundary never meets it
    ]
    reach = max(min(lengths), 0.0)
    x_m, y_m, z_m = (
        round(min(max(origin + reach * step, STAND_OFF_M), limit), 3)
        for origin, step, limit in zip(start, ray, far, strict=True)
    )
    return Point(x_m, y_m, z_m)


def seen_from(ear: Point, position: Point) -> Angles:
    """The direction in which a position is seen from the ear, azimuth in (-180, 180] degrees."""
    forward, left, up = ear.x_m - position.x_m, ear.y_m - position.y_m, position.z_m - ear.z_m
    return Angles(
        azimuth_deg=math.degrees(math.atan2(left, forward)),
        elevation_deg=math.degrees(math.atan2(up, math.hypot(forward, left))),
    )


def placement_deviation(brief: Brief) -> tuple[Placed, ...]:
    """Every loudspeaker of a brief as the listener sees it, against its layout's permitted ranges.

    Raises WrongUsage if the brief's layout is unknown.
    """
    ear = listener(brief.seats)
    positions = member_positions(brief)
    return tuple(
        _placed(brief, ear, (group.name, index), placement.channel, positions[group.name, index])
        for group in brief.loudspeakers
        for index, placement in enumerate(group.placements)
    )


def _placed(brief: Brief, ear: Point, member: Member, channel: str, position: Point) -> Placed:
    permitted = layout(brief.layout).channel(channel)
    seen = seen_from(ear, position)
    level_m = math.hypot(ear.x_m - position.x_m, ear.y_m - position.y_m)
    azimuth_off = elevation_off = None
    if permitted is not None:
        # Plumb above or below the ear, azimuth has no meaning.
        azimuth_off = azimuth_deviation_deg(seen.azimuth_deg, permitted.azimuth_range) if level_m > _PLUMB_M else 0.0
        elevation_off = _beyond(seen.elevation_deg, permitted.elevation_range)
    return Placed(
        member=member,
        channel=channel,
        position=position,
        angles=seen,
        distance_m=math.hypot(level_m, position.z_m - ear.z_m),
        azimuth_deviation_deg=azimuth_off,
        elevation_deviation_deg=elevation_off,
    )


def azimuth_deviation_deg(azimuth_deg: float, permitted: Range) -> float:
    """Degrees by which an azimuth lies outside a range, the short way round; negative to the right.

    >>> azimuth_deviation_deg(-175.0, (180.0, 180.0))
    5.0
    """
    turns = (_beyond(azimuth_deg + turn, permitted) for turn in (0.0, -360.0, 360.0))
    return min(turns, key=abs)


def _beyond(value: float, permitted: Range) -> float:
    low, high = permitted
    return value - low if value < low else max(value - high, 0.0)
