"""A brief to start from: a layout in an empty room, with everything else at a common value.

Where the values come from: the ear at 1.2 m is that of ITU-R BS.775-3 (08/2012), Figure 1. Two thirds of the
length for the seats, 0.7 m from one to the next, the corners and then the middles of the walls for
subwoofers, and the levels to reach are common practice, no published source. All of it is there
to be changed.
"""

from collections.abc import Iterator
from datetime import date

from planner.brief.records import (
    Brief,
    LoudspeakerSet,
    Placement,
    Point,
    Project,
    Rack,
    Room,
    Seat,
    SubwooferSet,
)
from planner.layouts import Layout, LayoutChannel

MOST_SUBWOOFERS = 8

_EAR_M = 1.2
_FROM_WALL_M = 0.4
_SEAT_TO_SEAT_M = 0.7
_WIDEST_FRONT_DEG = 60.0
_FRONT_PEAK_DB = 105.0
_OTHER_PEAK_DB = 102.0


def starting_brief(layout: Layout, room: Room, subwoofers: int, *, currency: str, dated: date) -> Brief:
    """A whole brief for a row of three seats (one in a narrow room), with 0 to `MOST_SUBWOOFERS` subwoofers."""
    places = (*_corners(room), *_wall_middles(room))[:subwoofers]
    return Brief(
        project=Project(name="New system", client="", reference="", dated=dated, currency=currency),
        room=room,
        seats=_seats(room),
        rack=Rack(position=_corners(room)[-1]),
        layout=layout.name,
        loudspeakers=tuple(_sets(layout)),
        subwoofers=(SubwooferSet(name="Subwoofers", least=len(places), most=len(places), positions=places),)
        if places
        else (),
    )


def _sets(layout: Layout) -> Iterator[LoudspeakerSet]:
    """Front, around, above and below, as far as the layout has them."""
    channels = [channel for channel in layout.channels if not channel.is_lfe]
    for name in dict.fromkeys(map(_set_name, channels)):
        yield LoudspeakerSet(
            name=name,
            placements=tuple(Placement(channel=channel.label) for channel in channels if _set_name(channel) == name),
            target_spl_db=_FRONT_PEAK_DB if name == "Front" else _OTHER_PEAK_DB,
        )


def _set_name(channel: LayoutChannel) -> str:
    if channel.elevation_deg:
        return "Above" if channel.elevation_deg > 0 else "Below"
    return "Front" if abs(channel.azimuth_deg) <= _WIDEST_FRONT_DEG else "Around"


def _seats(room: Room) -> tuple[Seat, ...]:
    """The one in the middle is the primary one; those beside it are there to hear how the bass differs."""
    x_m, y_m, ear_m = round(room.length_m * 2 / 3, 2), room.width_m / 2, min(_EAR_M, room.height_m)
    places = {"Left": y_m - _SEAT_TO_SEAT_M, "Middle": y_m, "Right": y_m + _SEAT_TO_SEAT_M}
    if not places["Left"] >= _FROM_WALL_M:  # nor where the width is no number
        places = {"Middle": y_m}
    return tuple(
        Seat(name=name, position=Point(x_m, round(y_m, 2), ear_m), primary=name == "Middle")
        for name, y_m in places.items()
    )


def _corners(room: Room) -> tuple[Point, ...]:
    """Front left, front right, back left, back right."""
    near, x_far, y_far = _edges(room)
    return (
        Point(near, near, near / 2),
        Point(near, y_far, near / 2),
        Point(x_far, near, near / 2),
        Point(x_far, y_far, near / 2),
    )


def _wall_middles(room: Room) -> tuple[Point, ...]:
    """Front, back, left, right."""
    near, x_far, y_far = _edges(room)
    x_middle, y_middle = round(room.length_m / 2, 2), round(room.width_m / 2, 2)
    return (
        Point(near, y_middle, near / 2),
        Point(x_far, y_middle, near / 2),
        Point(x_middle, near, near / 2),
        Point(x_middle, y_far, near / 2),
    )


def _edges(room: Room) -> tuple[float, float, float]:
    """How far in from the near walls, and the same from the far ones as x and y."""
    near = _FROM_WALL_M
    return near, round(room.length_m - near, 2), round(room.width_m - near, 2)
