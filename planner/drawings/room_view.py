"""The room drawn to scale, seen from above or from the side: walls, things, cable ways, dimensions, scale bar."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from planner.brief.records import Point
from planner.drawings.label_places import Rect, Wanted, label_places, leader
from planner.drawings.lettering import shortened, text_width
from planner.drawings.room_symbols import RADIUS, symbol
from planner.drawings.room_things import Thing, ThingKind
from planner.drawings.svg import INK, PAPER, SOFT, Canvas, Spot

_NAME, _DETAIL, _DIMENSION, _TITLE = 10.0, 8.5, 9.5, 15.0
_MARGIN, _TOP, _ASIDE, _LEAST_ASIDE, _RULE, _LEAST_WIDTH = 16.0, 66.0, 100.0, 12.0, 14.0, 340.0
_LONGEST, _MOST_NAME, _WALL = 560.0, 190.0, 2.4
_LINE, _GAP = 11.0, 4.0
_BAR_STEPS_M, _LEAST_BAR = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0), 40.0


@dataclass(frozen=True, slots=True)
class Label:
    """What is written beside a thing: its name, what follows on the same line, and a line below."""

    thing: Thing
    name: str
    beside: str
    detail: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Scene:
    """A room as it is seen: its size across and down, metres, and where a point of the room comes to stand in it.

    `across_words` and `down_words` name the two dimensions; `listener` is what loudspeakers point at.
    `aside` is the room for labels above and below.
    """

    across_m: float
    down_m: float
    seen: Callable[[Point], tuple[float, float]]
    across_words: str
    down_words: str
    labels: Sequence[Label]
    ways: Sequence[Sequence[Point]]
    listener: Point
    aside: float = 28.0


def room_view(scene: Scene) -> "RoomView":
    """The view of a scene, with as much beside the room as its labels take."""
    roomy = RoomView(scene, _ASIDE, _ASIDE)
    return RoomView(scene, *roomy.asides_taken())


class RoomView:
    """Draws one scene, with so much room for labels to the left and to the right."""

    def __init__(self, scene: Scene, left_aside: float, right_aside: float) -> None:
        self._scene = scene
        self._unit_m = _LONGEST / max(scene.across_m, scene.down_m)
        self._left, self._top = _MARGIN + left_aside, _TOP + 16.0 + scene.aside
        self._room = Rect(
            self._left, self._top, self._left + scene.across_m * self._unit_m, self._top + scene.down_m * self._unit_m
        )  # fmt: skip
        self.width = max(self._room.right + right_aside + _MARGIN, _LEAST_WIDTH)
        self._ways = [[self._at(point) for point in way] for way in scene.ways]
        self._wanted = [self._label_wanted(label) for label in scene.labels]
        self._places = self._placed()

    def asides_taken(self) -> tuple[float, float]:
        """How much room to the left and to the right signs and labels take."""
        signs = [_around(each.at, each.radius) for each in self._wanted]
        taken = (self._room, *signs, *self._places)
        left = self._room.left - min(rect.left for rect in taken)
        right = max(rect.right for rect in taken) - self._room.right
        return max(left + 2.0, _LEAST_ASIDE) + _RULE, max(right + 2.0, _LEAST_ASIDE)

    def draw(self, canvas: Canvas, heading: str, detail: str) -> float:
        """Draws everything but the legend; returns the height that it takes."""
        room = self.width - 2 * _MARGIN
        canvas.text((_MARGIN, 26.0), shortened(heading, _TITLE, room, bold=True), _TITLE, bold=True)
        canvas.text((_MARGIN, 40.0), shortened(detail, _DETAIL, room), _DETAIL, fill=SOFT)
        self._draw_walls(canvas)
        self._draw_ways(canvas)
        for label in sorted(self._scene.labels, key=_from_below):
            symbol(canvas, label.thing, self._at(label.thing.position), self._towards_listener(label.thing))
        self._dimensions(canvas)
        return self._draw_labels(canvas)

    def _at(self, point: Point) -> Spot:
        across_m, down_m = self._scene.seen(point)
        return self._left + across_m * self._unit_m, self._top + down_m * self._unit_m

    def _towards_listener(self, thing: Thing) -> float:
        """The direction, radians clockwise from the right, in which a loudspeaker points."""
        here, there = self._at(thing.position), self._at(self._scene.listener)
        return math.atan2(there[1] - here[1], there[0] - here[0])

    def _draw_walls(self, canvas: Canvas) -> None:
        room = self._room
        with canvas.group("room"):
            canvas.rect(
                room.left, room.top, room.right - room.left, room.bottom - room.top, fill=PAPER, stroke=INK,
                stroke_width=f"{_WALL:g}",
            )  # fmt: skip

    def _draw_ways(self, canvas: Canvas) -> None:
        for way in self._ways:
            with canvas.group("way"):
                canvas.line(way, stroke="#8c9694", stroke_width="1.1")

    # Dimensions

    def _dimensions(self, canvas: Canvas) -> None:
        """The size of the room above it and to its left, and the scale bar below."""
        room = self._room
        y = _TOP + 6.0
        with canvas.group("dimension"):
            _measured(canvas, (room.left, y), (room.right, y))
            words = f"{self._scene.across_words} {self._scene.across_m:.2f} m"
            _on_line(canvas, ((room.left + room.right) / 2, y), words)
        with canvas.group("dimension"):
            x = _MARGIN + 8.0
            _measured(canvas, (x, room.top), (x, room.bottom))
            words = f"{self._scene.down_words} {self._scene.down_m:.2f} m"
            canvas.text(
                (x, (room.top + room.bottom) / 2), words, _DIMENSION, anchor="middle",
                transform=f"rotate(-90 {x:g} {(room.top + room.bottom) / 2:.2f})", dy="-4",
            )  # fmt: skip

    def _bar(self, canvas: Canvas, top: float) -> None:
        """Two fields of a round length each."""
        step_m = next((step for step in _BAR_STEPS_M if step * self._unit_m >= _LEAST_BAR), _BAR_STEPS_M[-1])
        left, width = self._room.left, step_m * self._unit_m
        with canvas.group("scale"):
            for field, fill in enumerate((INK, PAPER)):
                canvas.rect(left + field * width, top, width, 5.0, stroke=INK, stroke_width="0.8", fill=fill)
            for field in range(3):
                words = f"{field * step_m:g} m" if field else "0"
                canvas.text((left + field * width, top + 15.0), words, _DETAIL, anchor="middle")

    # Labels

    def _placed(self) -> tuple[Rect, ...]:
        """Where each label goes: on no wall and no sign, and if it can be on no cable way."""
        taken = [*_walls(self._room), *(_around(each.at, each.radius) for each in self._wanted)]
        runs = [
            Rect(min(x1, x2) - 1, min(y1, y2) - 1, max(x1, x2) + 1, max(y1, y2) + 1)
            for way in self._ways
            for (x1, y1), (x2, y2) in pairwise(way)
        ]
        aside = self._scene.aside
        page = Rect(_MARGIN + _RULE, self._room.top - aside, self.width - _MARGIN, self._room.bottom + 14.0 + aside)
        return label_places(self._wanted, taken, list(dict.fromkeys(runs)), page)

    def _draw_labels(self, canvas: Canvas) -> float:
        for label, want, place in zip(self._scene.labels, self._wanted, self._places, strict=True):
            self._label(canvas, label, want, place)
        below = max((self._room.bottom, *(place.bottom for place in self._places))) + 14.0
        self._bar(canvas, below)
        return below + 26.0

    def _label_wanted(self, label: Label) -> Wanted:
        first = text_width(self._name(label), _NAME, bold=True)
        if label.beside:
            first += _GAP + text_width(label.beside, _DETAIL)
        width = max(first, text_width(label.detail, _DETAIL))
        height = _LINE * (2 if label.detail else 1) + 2.0
        return Wanted(self._at(label.thing.position), RADIUS[label.thing.kind], width + 4.0, height)

    def _name(self, label: Label) -> str:
        return shortened(label.name, _NAME, _MOST_NAME, bold=True)

    def _label(self, canvas: Canvas, label: Label, want: Wanted, place: Rect) -> None:
        with canvas.group("label", label.name, thing=label.thing.name):
            line = leader(want, place)
            if line is not None:
                canvas.line(line, stroke=SOFT, stroke_width="0.6")
            canvas.rect(place.left, place.top, place.right - place.left, place.bottom - place.top, fill=PAPER)
            x, name = place.left + 2.0, self._name(label)
            canvas.text((x, place.top + 9.5), name, _NAME, bold=True)
            if label.beside:
                beside = x + text_width(name, _NAME, bold=True) + _GAP
                canvas.text((beside, place.top + 9.5), label.beside, _DETAIL)
            if label.detail:
                canvas.text((x, place.top + 9.5 + _LINE), label.detail, _DETAIL, fill=SOFT)


def _from_below(label: Label) -> bool:
    """Seats and rack are drawn first: what hangs above them stays seen."""
    return label.thing.kind not in (ThingKind.SEAT, ThingKind.PRIMARY_SEAT, ThingKind.RACK)


def _measured(canvas: Canvas, start: Spot, end: Spot) -> None:
    """A dimension line with a slanted tick at each end (ISO 129-1 allows the oblique stroke)."""
    canvas.line([start, end], stroke=SOFT, stroke_width="0.8")
    for x, y in (start, end):
        canvas.line([(x - 3.0, y + 3.0), (x + 3.0, y - 3.0)], stroke=SOFT, stroke_width="1.2")


def _on_line(canvas: Canvas, at: Spot, words: str) -> None:
    canvas.text((at[0], at[1] - 4.0), words, _DIMENSION, anchor="middle")


def _walls(room: Rect) -> tuple[Rect, ...]:
    """The four walls, which no label covers."""
    half = _WALL / 2
    left, top, right, bottom = room.left, room.top, room.right, room.bottom
    return (
        Rect(left - half, top, left + half, bottom),
        Rect(right - half, top, right + half, bottom),
        Rect(left, top - half, right, top + half),
        Rect(left, bottom - half, right, bottom + half),
    )


def _around(at: Spot, radius: float) -> Rect:
    return Rect(at[0] - radius, at[1] - radius, at[0] + radius, at[1] + radius)
