"""One device of the signal-flow diagram as it is drawn: names, and a row for each jack."""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.drawings.flow_boxes import Box, PortRow
from planner.drawings.flow_layout import HEADER_ROWS
from planner.drawings.lettering import shortened, text_width
from planner.drawings.svg import INK, PAPER, SOFT, Canvas, Spot

ROW = 14.0
"""The height of one row; the jack is in the middle of it."""

_HEADING, _MODEL, _PORT = 10.5, 8.5, 9.0
_PAD, _SIDE_GAP, _SIGNAL_GAP = 7.0, 12.0, 5.0
_MOST_PORT, _LEAST_NAME, _MOST_HEADING, _MOST_MODEL, _LEAST_BOX = 140.0, 50.0, 190.0, 150.0, 74.0


@dataclass(frozen=True, slots=True)
class Frame:
    """The place of a box: left, top of its first row, width, and the rows that it takes."""

    left: float
    top: float
    width: float
    rows: int

    @property
    def right(self) -> float:
        """Its right edge."""
        return self.left + self.width


def draw_box(canvas: Canvas, box: Box, frame: Frame) -> None:
    """Draws one device."""
    with canvas.group("box", f"{box.heading}: {box.model}", unit=box.unit.id):
        if box.compact:
            _compact(canvas, box, frame)
        else:
            _full(canvas, box, frame)


def _full(canvas: Canvas, box: Box, frame: Frame) -> None:
    height = (frame.rows - 1) * ROW + 5.0
    canvas.rect(frame.left, frame.top + 2.0, frame.width, height, rx="2", fill=PAPER, stroke=INK, stroke_width="1")
    room = frame.width - 2 * _PAD
    left = frame.left + _PAD
    canvas.text((left, frame.top + 14.5), shortened(box.heading, _HEADING, room, bold=True), _HEADING, bold=True)
    canvas.text((left, frame.top + 25.0), shortened(box.model, _MODEL, room), _MODEL, fill=SOFT)
    for side, x, anchor in ((box.inputs, frame.left, "start"), (box.outputs, frame.right, "end")):
        for at, row in enumerate(side):
            _port(canvas, row, (x, frame.top + (HEADER_ROWS + at + 0.5) * ROW), anchor, _text_columns(side))


def _port(canvas: Canvas, row: PortRow, at: Spot, anchor: str, columns: tuple[float, float]) -> None:
    """The jack on the edge of its box, its name, and what it carries, each in a column of its own.

    At an input the name is outermost, at an output the signal. What is free has no column.
    """
    names, signals = columns
    x, inwards = (at[0] + _PAD, 1) if anchor == "start" else (at[0] - _PAD, -1)
    outermost = names if anchor == "start" else signals
    inner = x + inwards * (outermost + _SIGNAL_GAP if outermost else 0.0)
    with canvas.group("port", f"{row.words} {row.signal}".strip(), jack=str(row.jack) if row.jack else ""):
        if row.jack is None:
            canvas.text((x, at[1] + 3.2), _fitted(row), _PORT, anchor=anchor, fill=SOFT)
            return
        name_x, signal_x = (x, inner) if anchor == "start" else (inner, x)
        canvas.circle(at, 2.3, fill=INK)
        canvas.text((name_x, at[1] + 3.2), _fitted(row), _PORT, anchor=anchor)
        if row.signal:
            canvas.text((signal_x, at[1] + 3.2), row.signal, _PORT, anchor=anchor, bold=True)


def _compact(canvas: Canvas, box: Box, frame: Frame) -> None:
    """Jack and name on one line, the model on the next."""
    canvas.rect(frame.left, frame.top + 1.5, frame.width, 24.0, rx="2", fill=PAPER, stroke=INK, stroke_width="1")
    (row,) = box.inputs
    port, baseline, right = _fitted(row), frame.top + ROW / 2 + 4.2, frame.right - _PAD
    with canvas.group("port", row.words, jack=str(row.jack)):
        canvas.circle((frame.left, frame.top + ROW / 2), 2.3, fill=INK)
        canvas.text((frame.left + _PAD, baseline), port, _PORT)
    room = frame.width - 2 * _PAD
    heading = shortened(box.heading, _HEADING, room - text_width(port, _PORT) - _SIDE_GAP, bold=True)
    canvas.text((right, baseline), heading, _HEADING, anchor="end", bold=True)
    canvas.text((right, frame.top + 22.0), shortened(box.model, _MODEL, room), _MODEL, anchor="end", fill=SOFT)


def box_width(box: Box) -> float:
    """As wide as its widest row; long names of models, jacks and devices are shortened, within reason."""
    heading = min(text_width(box.heading, _HEADING, bold=True), _MOST_HEADING)
    if box.compact:
        port = text_width(_fitted(box.inputs[0]), _PORT)
        model = min(text_width(box.model, _MODEL), _MOST_MODEL)
        return max(heading + port + _SIDE_GAP, model, _LEAST_BOX) + 2 * _PAD
    sides = [_side_width(side) for side in (box.inputs, box.outputs)]
    gap = _SIDE_GAP if all(sides) else 0.0
    model = min(text_width(box.model, _MODEL), _MOST_MODEL)
    return max(heading, model, sum(sides) + gap, _LEAST_BOX) + 2 * _PAD


def _side_width(side: Sequence[PortRow]) -> float:
    names, signals = _text_columns(side)
    free = (text_width(_fitted(row), _PORT) for row in side if row.jack is None)
    return max(names + (signals + _SIGNAL_GAP if signals else 0.0), *free, 0.0)


def _text_columns(side: Sequence[PortRow]) -> tuple[float, float]:
    """The widths of the names and of the signals of the jacks in use on one side."""
    used = [row for row in side if row.jack is not None]
    names = (text_width(_fitted(row), _PORT) for row in used)
    signals = (text_width(row.signal, _PORT, bold=True) for row in used if row.signal)
    return max(names, default=0.0), max(signals, default=0.0)


def _fitted(row: PortRow) -> str:
    """The words of a row; a long name of a group is shortened, and its number stays."""
    room = _MOST_PORT - text_width(f" {row.number}", _PORT)
    return f"{shortened(row.group, _PORT, max(room, _LEAST_NAME))} {row.number}"
