"""What stands in the room of a design: loudspeakers, subwoofers, seats, rack, and the way of each cable."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from planner.brief.records import Brief, Point, Room
from planner.design import Design, Unit, UnitKind
from planner.placement import member_positions
from planner.wiring.labels import lead_marks


class ThingKind(StrEnum):
    """What a thing is. The layer of a loudspeaker is that of its channel in ITU-R BS.2051: middle, upper, bottom."""

    LOUDSPEAKER = "loudspeaker"
    LOUDSPEAKER_ABOVE = "loudspeaker above"
    LOUDSPEAKER_BELOW = "loudspeaker below"
    SUBWOOFER = "subwoofer"
    PRIMARY_SEAT = "primary seat"
    SEAT = "seat"
    RACK = "rack"


@dataclass(frozen=True, kw_only=True, slots=True)
class Thing:
    """One thing in the room, its name, and the marks of the leads that end at it."""

    kind: ThingKind
    name: str
    position: Point
    marks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CableWay:
    """The way of one lead on the floor plan: from one place to the other along the axes of the room."""

    mark: str
    points: tuple[Point, ...]


def things(design: Design, brief: Brief) -> tuple[Thing, ...]:
    """Everything in the room, loudspeakers and subwoofers in the order of the design."""
    positions = member_positions(brief)
    marks = _marks_by_unit(design)
    loads = (
        Thing(kind=_kind(unit, design), name=unit.id, position=positions[unit.member], marks=marks.get(unit.id, ()))
        for unit in design.units
        if unit.member is not None
    )
    return (*loads, *_seats_and_rack(brief))


def brief_things(brief: Brief) -> tuple[Thing, ...]:
    """Everything that a brief places in the room, before any design: of a subwoofer set as many as it may have."""
    positions = member_positions(brief)
    loudspeakers = (
        Thing(
            kind=_kind_of(placement.channel), name=placement.channel, position=positions[group.name, index]
        )
        for group in brief.loudspeakers
        for index, placement in enumerate(group.placements)
    )  # fmt: skip
    subwoofers = (
        Thing(kind=ThingKind.SUBWOOFER, name=f"{group.name} {index + 1}", position=position)
        for group in brief.subwoofers
        for index, position in enumerate(group.positions[: group.most])
    )
    return (*loudspeakers, *subwoofers, *_seats_and_rack(brief))


def _seats_and_rack(brief: Brief) -> tuple[Thing, ...]:
    seats = (
        Thing(
            kind=ThingKind.PRIMARY_SEAT if seat.primary else ThingKind.SEAT, name=seat.name, position=seat.position
        )
        for seat in brief.seats
    )  # fmt: skip
    return (*seats, Thing(kind=ThingKind.RACK, name="Rack", position=brief.rack.position))


def cable_ways(design: Design, brief: Brief) -> tuple[CableWay, ...]:
    """The way of every lead that leaves the rack, in the order of the marks.

    Of the two ways along the axes, the one that keeps nearer to the walls: both are equally long.
    """
    positions = member_positions(brief)
    places: dict[str, Point] = {
        unit.id: positions[unit.member] if unit.member is not None else brief.rack.position for unit in design.units
    }
    places |= {isolator: places[unit] for isolator, unit in _behind_isolators(design).items()}
    ways = []
    for connection, mark in lead_marks(design).items():
        start, end = places[connection.source.unit], places[connection.sink.unit]
        if start != end:
            ways.append(CableWay(mark, _along_the_walls(start, end, brief.room)))
    return tuple(ways)


def _kind(unit: Unit, design: Design) -> ThingKind:
    if unit.kind is UnitKind.SUBWOOFER:
        return ThingKind.SUBWOOFER
    return _kind_of(next((each.channel for each in design.connections if each.sink.unit == unit.id), ""))


def _kind_of(channel: str) -> ThingKind:
    """The layer of a channel."""
    if channel.startswith(("U", "T")):
        return ThingKind.LOUDSPEAKER_ABOVE
    return ThingKind.LOUDSPEAKER_BELOW if channel.startswith("B") else ThingKind.LOUDSPEAKER


def _marks_by_unit(design: Design) -> Mapping[str, tuple[str, ...]]:
    """The marks at each unit; those of a lead to an isolator at what lies behind it."""
    marks: dict[str, tuple[str, ...]] = {}
    behind = _behind_isolators(design)
    for connection, mark in lead_marks(design).items():
        unit = behind.get(connection.sink.unit, connection.sink.unit)
        marks[unit] = (*marks.get(unit, ()), mark)
    return marks


def _behind_isolators(design: Design) -> Mapping[str, str]:
    """What each isolator lies beside: the unit that it feeds."""
    isolators = {unit.id for unit in design.units if unit.kind is UnitKind.ISOLATOR}
    return {each.source.unit: each.sink.unit for each in design.connections if each.source.unit in isolators}


def _along_the_walls(start: Point, end: Point, room: Room) -> tuple[Point, ...]:
    corners = (Point(start.x_m, end.y_m, end.z_m), Point(end.x_m, start.y_m, end.z_m))
    ways = [(start, corner, end) for corner in corners]
    return min(ways, key=lambda way: _away_from_walls(way, room))


def _away_from_walls(way: Sequence[Point], room: Room) -> float:
    """Length times distance from the nearer wall that runs alongside, square metres."""
    return sum(
        abs(one.x_m - other.x_m) * min(one.y_m, room.width_m - one.y_m)
        + abs(one.y_m - other.y_m) * min(one.x_m, room.length_m - one.x_m)
        for one, other in pairwise(way)
    )
