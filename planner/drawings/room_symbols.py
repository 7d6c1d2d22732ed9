"""The signs of a room plan, told apart by shape, and the legend that explains them."""

import math
from collections.abc import Mapping, Sequence

from planner.brief.records import Point
from planner.drawings.lettering import text_width
from planner.drawings.room_things import Thing, ThingKind
from planner.drawings.svg import FAINT, INK, PAPER, SOFT, Canvas, Spot

RADIUS: Mapping[ThingKind, float] = {
    ThingKind.LOUDSPEAKER: 8.0,
    ThingKind.LOUDSPEAKER_ABOVE: 9.0,
    ThingKind.LOUDSPEAKER_BELOW: 9.0,
    ThingKind.SUBWOOFER: 9.0,
    ThingKind.PRIMARY_SEAT: 8.0,
    ThingKind.SEAT: 8.0,
    ThingKind.RACK: 10.0,
}
"""How far a sign reaches from its middle."""

_WORDS: Mapping[ThingKind, str] = {
    ThingKind.LOUDSPEAKER: "loudspeaker",
    ThingKind.LOUDSPEAKER_ABOVE: "loudspeaker, upper layer",
    ThingKind.LOUDSPEAKER_BELOW: "loudspeaker, bottom layer",
    ThingKind.SUBWOOFER: "subwoofer",
    ThingKind.PRIMARY_SEAT: "primary seat",
    ThingKind.SEAT: "seat",
    ThingKind.RACK: "rack",
}
_SIZE, _LINE, _GAP = 9.0, 22.0, 20.0


def symbol(canvas: Canvas, thing: Thing, at: Spot, direction: float) -> None:
    """Draws a thing; a loudspeaker points in a direction, radians clockwise from the right."""
    with canvas.group("thing", thing.name, kind=thing.kind.value, thing=thing.name):
        match thing.kind:
            case ThingKind.LOUDSPEAKER | ThingKind.LOUDSPEAKER_ABOVE | ThingKind.LOUDSPEAKER_BELOW:
                _loudspeaker(canvas, thing.kind, at, direction)
            case ThingKind.SUBWOOFER:
                _square(canvas, at, 8.0, fill=INK)
                canvas.circle(at, 5.0, fill=PAPER)
                canvas.circle(at, 2.0, fill=INK)
            case ThingKind.SEAT | ThingKind.PRIMARY_SEAT:
                canvas.rect(at[0] - 7.5, at[1] - 7.5, 15.0, 15.0, rx="4", fill=PAPER, stroke=INK, stroke_width="1.1")
                inner = INK if thing.kind is ThingKind.PRIMARY_SEAT else PAPER
                canvas.circle(at, 3.6, fill=inner, stroke=INK, stroke_width="1")
            case ThingKind.RACK:
                _square(canvas, at, 9.0, fill=PAPER, stroke=INK, stroke_width="1.4")
                for offset in (-4.5, 0.0, 4.5):
                    canvas.line(
                        [(at[0] - 9.0, at[1] + offset), (at[0] + 9.0, at[1] + offset)], stroke=INK, stroke_width="1.1"
                    )


def _loudspeaker(canvas: Canvas, kind: ThingKind, at: Spot, direction: float) -> None:
    """A wedge that opens towards the listener; ringed in the upper layer, boxed in the bottom one."""
    if kind is ThingKind.LOUDSPEAKER_ABOVE:
        canvas.circle(at, 9.0, fill="none", stroke=INK, stroke_width="1", stroke_dasharray="2.5 1.8")
    elif kind is ThingKind.LOUDSPEAKER_BELOW:
        _square(canvas, at, 8.5, fill="none", stroke=INK, stroke_width="1", stroke_dasharray="2.5 1.8")
    size = 7.5 if kind is ThingKind.LOUDSPEAKER else 5.5
    shape = ((-0.8, -0.35), (0.0, -0.35), (0.8, -0.9), (0.8, 0.9), (0.0, 0.35), (-0.8, 0.35))
    cosine, sine = math.cos(direction), math.sin(direction)
    points = [
        (at[0] + size * (x * cosine - y * sine), at[1] + size * (x * sine + y * cosine)) for x, y in shape
    ]  # fmt: skip
    canvas.polygon(points, fill=INK)


def _square(canvas: Canvas, at: Spot, half: float, **look: str) -> None:
    canvas.rect(at[0] - half, at[1] - half, 2 * half, 2 * half, **look)


def symbol_legend(
    canvas: Canvas, at: Spot, width: float, kinds: Sequence[ThingKind], notes: Sequence[str], *, ways: bool
) -> float:
    """Draws the signs in use with their words, the cable way if there is one, and notes; returns its height."""
    left, top = at
    canvas.line([(left, top), (left + width, top)], stroke=FAINT, stroke_width="0.8")
    x, y = 0.0, top + 18.0
    for kind in (*kinds, *((None,) if ways else ())):
        words = "cable way" if kind is None else _WORDS[kind]
        wide = 26.0 + text_width(words, _SIZE)
        if x and x + wide > width:
            x, y = 0.0, y + _LINE
        if kind is None:
            canvas.line([(left + x, y), (left + x + 18.0, y)], stroke="#8c9694", stroke_width="1.1")
        else:
            symbol(canvas, Thing(kind=kind, name=words, position=Point(0, 0, 0)), (left + x + 10.0, y), 0.0)
        canvas.text((left + x + 24.0, y + 3.2), words, _SIZE)
        x += wide + _GAP
    y += 10.0
    for note in notes:
        y += 13.0
        canvas.text((left, y), note, _SIZE, fill=SOFT)
    return y - top + 4.0
