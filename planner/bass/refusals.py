"""What this prediction cannot be made for, told with the reason: every fault of a brief at once."""

import math
from collections.abc import Iterator
from dataclasses import replace

from planner.bass.shoebox import Shoebox
from planner.brief.records import Brief, Point, Room
from planner.errors import Fault
from planner.formulas.delay import speed_of_sound_m_per_s

LEAST_DISTANCE_M = 0.3
"""A subwoofer is a point here, which holds no nearer than about its own size."""

LEAST_TEMPERATURE_C, MOST_TEMPERATURE_C = -20.0, 50.0
"""The range of the formula for the speed of sound (ISO 9613-1)."""

_EDGE_M = 1e-9


def shoebox(room: Room) -> Shoebox:
    """The brief's room for the acoustics. Its temperature must be within the formula's range."""
    return Shoebox(
        size_m=(room.length_m, room.width_m, room.height_m),
        speed_m_per_s=speed_of_sound_m_per_s(room.temperature_c),
        reverberation_time_s=room.reverberation_time_s,
        reverberation_bands=tuple((one.hz, one.time_s) for one in room.reverberation_bands),
    )


def bass_faults(brief: Brief, low_hz: float, name: str = "brief.toml") -> tuple[Fault, ...]:
    """Every reason why the bass of this brief cannot be predicted from `low_hz` upwards.

    `name` is the brief's file in messages. Empty if all is well.
    """
    found = (
        *_room_faults(brief.room, low_hz),
        *_seat_faults(brief),
        *_subwoofer_faults(brief),
        *_nearness_faults(brief),
    )
    return tuple(replace(fault, where=f"{name} {fault.where}") for fault in found)


def _room_faults(room: Room, low_hz: float) -> Iterator[Fault]:
    if not LEAST_TEMPERATURE_C <= room.temperature_c <= MOST_TEMPERATURE_C:
        yield Fault(
            where="room.temperature_c",
            value=f"{room.temperature_c:g}",
            expected=f"{LEAST_TEMPERATURE_C:g} to {MOST_TEMPERATURE_C:g} °C",
            remedy="The speed of sound is known in that range only; write the temperature in use.",
        )
        return
    highest_hz = shoebox(room).schroeder_hz
    if highest_hz < low_hz:
        yield Fault(
            where="room",
            value=f"a room whose modes overlap from {highest_hz:.0f} Hz up",
            expected=f"separate modes from {low_hz:g} Hz up",
            remedy="So large or so damped a room is no matter of single modes; this prediction does not hold in it.",
        )


def _seat_faults(brief: Brief) -> Iterator[Fault]:
    if not brief.seats:
        yield Fault(where="seats", value="none", expected="at least one seat", remedy="Add [[seats]].")
    for n, seat in enumerate(brief.seats):
        yield from _outside(f"seats[{n}].position", seat.position, brief.room)


def _subwoofer_faults(brief: Brief) -> Iterator[Fault]:
    if not brief.subwoofers:
        yield Fault(
            where="subwoofers",
            value="none",
            expected="at least one subwoofer, whose bass is to be predicted",
            remedy="Add [[subwoofers]] with count and positions.",
        )
    for n, group in enumerate(brief.subwoofers):
        for m, position in enumerate(group.positions):
            yield from _outside(f"subwoofers[{n}].positions[{m}]", position, brief.room)


def _outside(where: str, position: Point, room: Room) -> Iterator[Fault]:
    """A fault where a position is not in the rectangular room: below the floor or above the ceiling, too."""
    lengths = (
        ("x", position.x_m, room.length_m),
        ("y", position.y_m, room.width_m),
        ("z", position.z_m, room.height_m),
    )
    wrong = [f"{axis} from 0 to {length:g}" for axis, value, length in lengths if not _within(value, length)]
    if wrong:
        yield Fault(
            where=where,
            value=f"[{position.x_m:g}, {position.y_m:g}, {position.z_m:g}]",
            expected=f"a position inside the rectangular room: {', '.join(wrong)} m",
            remedy="Move it, or correct the room. A room that is not rectangular can't be predicted here.",
        )


def _within(value_m: float, length_m: float) -> bool:
    return -_EDGE_M <= value_m <= length_m + _EDGE_M


def _nearness_faults(brief: Brief) -> Iterator[Fault]:
    for n, group in enumerate(brief.subwoofers):
        for m, position in enumerate(group.positions):
            for seat in brief.seats:
                distance_m = math.dist(_xyz(position), _xyz(seat.position))
                if distance_m < LEAST_DISTANCE_M:
                    yield Fault(
                        where=f"subwoofers[{n}].positions[{m}]",
                        value=f"{distance_m:.2f} m from the head at seat {seat.name!r}",
                        expected=f"at least {LEAST_DISTANCE_M:g} m",
                        remedy="A subwoofer is a point in this prediction; move it or the seat.",
                    )


def _xyz(point: Point) -> tuple[float, float, float]:
    return point.x_m, point.y_m, point.z_m
