"""The legend below a picture: a sample of each kind of line in it, and a note."""

from collections.abc import Sequence

from planner.drawings.lettering import text_width
from planner.drawings.signal_kinds import STROKES, SignalKind
from planner.drawings.svg import FAINT, SOFT, Canvas, Spot

_SIZE, _SAMPLE, _LINE, _GAP = 9.0, 34.0, 15.0, 22.0


def legend(canvas: Canvas, at: Spot, width: float, kinds: Sequence[SignalKind], note: str) -> None:
    """Draws the legend with its top left corner at a spot."""
    left, top = at
    canvas.line([(left, top), (left + width, top)], stroke=FAINT, stroke_width="0.8")
    for kind, (x, line) in zip(kinds, _places(width, kinds), strict=True):
        y = top + 14.0 + line * _LINE
        with canvas.group("legend", kind=kind.value):
            canvas.line([(left + x, y - 3.0), (left + x + _SAMPLE, y - 3.0)], **STROKES[kind].look)
            canvas.text((left + x + _SAMPLE + 6.0, y), STROKES[kind].words, _SIZE)
    for number, words in enumerate(wrapped(note, _SIZE, width)):
        canvas.text((left, top + 14.0 + (_lines(width, kinds) + number) * _LINE), words, _SIZE, fill=SOFT)


def legend_height(width: float, kinds: Sequence[SignalKind], note: str) -> float:
    """The height that the legend takes."""
    return (_lines(width, kinds) + len(wrapped(note, _SIZE, width))) * _LINE + 4.0


def wrapped(text: str, size: float, width: float) -> list[str]:
    """The text in lines no wider than this, broken at blanks; a longer word stands alone.

    >>> wrapped("one two three", 10.0, 45.0)
    ['one two', 'three']
    """
    lines: list[str] = []
    for word in text.split():
        if lines and text_width(f"{lines[-1]} {word}", size) <= width:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(word)
    return lines


def _places(width: float, kinds: Sequence[SignalKind]) -> list[tuple[float, int]]:
    """Where each sample starts: x, and the line that it is on."""
    places: list[tuple[float, int]] = []
    x, line = 0.0, 0
    for kind in kinds:
        wide = _SAMPLE + 6.0 + text_width(STROKES[kind].words, _SIZE)
        if x and x + wide > width:
            x, line = 0.0, line + 1
        places.append((x, line))
        x += wide + _GAP
    return places


def _lines(width: float, kinds: Sequence[SignalKind]) -> int:
    return max((line for _, line in _places(width, kinds)), default=-1) + 1
