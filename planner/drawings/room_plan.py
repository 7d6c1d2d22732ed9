"""The room from above and in section, to scale, with all that is placed in it."""

from collections.abc import Sequence

from planner.brief.records import Brief, Point
from planner.design import Design
from planner.drawings.legend import wrapped
from planner.drawings.room_symbols import symbol_legend
from planner.drawings.room_things import Thing, ThingKind, brief_things, cable_ways, things
from planner.drawings.room_view import Label, Scene, room_view
from planner.drawings.svg import Canvas
from planner.placement import listener

_MARGIN, _NOTE, _HAND_M = 16.0, 9.0, 0.1

_PLAN_NOTE = (
    "The front wall is at the top. Figures are metres from the front wall, from the left wall and from the floor."
    " Cable ways run along the axes of the room and are an estimate, not a survey."
)

_BRIEF_NOTE = "The front wall is at the top. Figures are metres from the front wall, from the left wall and the floor."

_OVERHEAD_NOTE = (
    "What hangs overhead needs a rated fixing and a second, independent one, into structure, by a competent person;"
    " local codes prevail."
)
_SECTION_NOTE = "The front wall is to the left. Heights are metres from the floor to the middle of each thing."


def room_plan(design: Design, brief: Brief, heading: str, detail: str = "") -> str:
    """The room from above as SVG: loudspeakers, subwoofers, seats, rack and cable ways of a valid design."""
    ways = [way.points for way in cable_ways(design, brief)]
    return _plan(things(design, brief), ways, brief, heading, detail)


def room_section(design: Design, brief: Brief, heading: str, detail: str = "") -> str:
    """The room from the side as SVG, seen from the left wall with the front wall to the left: what is how high.

    Things that hide one another from there share a sign and a label.
    """
    return _section(things(design, brief), brief, heading, detail)


def brief_plan(brief: Brief, heading: str, detail: str = "") -> str:
    """The room from above as SVG as far as a sound brief tells, before there is a design."""
    return _plan(brief_things(brief), (), brief, heading, detail)


def brief_section(brief: Brief, heading: str, detail: str = "") -> str:
    """The room from the side as SVG as far as a sound brief tells, before there is a design."""
    return _section(brief_things(brief), brief, heading, detail)


def _plan(found: tuple[Thing, ...], ways: Sequence[Sequence[Point]], brief: Brief, heading: str, detail: str) -> str:
    scene = Scene(
        across_m=brief.room.width_m,
        down_m=brief.room.length_m,
        seen=lambda point: (point.y_m, point.x_m),
        across_words="width",
        down_words="length",
        labels=[Label(thing, thing.name, ", ".join(thing.marks), _place(thing.position)) for thing in found],
        ways=ways,
        listener=listener(brief.seats),
    )
    return _drawn(scene, found, heading, detail, _PLAN_NOTE if ways else _BRIEF_NOTE)


def _section(found: tuple[Thing, ...], brief: Brief, heading: str, detail: str) -> str:
    height_m = brief.room.height_m
    scene = Scene(
        across_m=brief.room.length_m,
        down_m=height_m,
        seen=lambda point: (point.x_m, height_m - point.z_m),
        across_words="length",
        down_words="height",
        labels=[
            Label(group[0], ", ".join(thing.name for thing in group), "", f"{group[0].position.z_m:.2f} m up")
            for group in _behind_one_another(found)
        ],
        ways=(),
        listener=listener(brief.seats),
    )
    return _drawn(scene, found, heading, detail, _SECTION_NOTE)


def _behind_one_another(found: Sequence[Thing]) -> list[list[Thing]]:
    """Things of one kind that are seen within a hand's breadth of the first of them."""
    groups: list[list[Thing]] = []
    for thing in found:
        for group in groups:
            first = group[0]
            apart = (first.position.x_m - thing.position.x_m, first.position.z_m - thing.position.z_m)
            if first.kind is thing.kind and max(map(abs, apart)) <= _HAND_M:
                group.append(thing)
                break
        else:
            groups.append([thing])
    return groups


def _drawn(scene: Scene, found: tuple[Thing, ...], heading: str, detail: str, note: str) -> str:
    canvas = Canvas(heading, _description(found))
    view = room_view(scene)
    below = view.draw(canvas, heading, detail)
    kinds = [kind for kind in ThingKind if any(thing.kind is kind for thing in found)]
    width = view.width - 2 * _MARGIN
    overhead = f" {_OVERHEAD_NOTE}" if ThingKind.LOUDSPEAKER_ABOVE in kinds else ""
    notes = wrapped(note + overhead, _NOTE, width)
    height = symbol_legend(canvas, (_MARGIN, below), width, kinds, notes, ways=bool(scene.ways))
    return canvas.picture(view.width, below + height + _MARGIN)


def _place(point: Point) -> str:
    return f"{point.x_m:.2f}, {point.y_m:.2f}, {point.z_m:.2f}"


def _description(found: tuple[Thing, ...]) -> str:
    """The same in words, for those who hear it."""
    placed = (f"{thing.name} ({thing.kind.value}) at {_place(thing.position)}" for thing in found)
    return f"Metres from the front wall, from the left wall and from the floor: {'; '.join(placed)}."
