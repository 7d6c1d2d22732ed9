"""The level at each seat along the band: with one signal to all, and with each subwoofer set on its own."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from planner.bass.outcome import Outcome
from planner.bass.study import BassStudy, ComparedWay
from planner.brief.records import Seat
from planner.drawings.axes import Axes
from planner.drawings.bass_words import BEFORE, CAUTION, after_words, band_words
from planner.drawings.legend import wrapped
from planner.drawings.svg import INK, SOFT, Canvas

WIDTH = 760.0
_SIZE = 9.5
_LINE = 13.0
_BETWEEN_ROWS = 72.0
_STEP_DB = 5.0
_DEEPEST_DB = 40.0
_SEAT, _PRIMARY = "#4c8f8a", "#1f5f5a"


@dataclass(frozen=True, kw_only=True, slots=True)
class Panel:
    """One frame of curves: what stands above it, and the levels that it shows."""

    title: str
    outcome: Outcome


def seat_curves_svg(study: BassStudy, way: ComparedWay | None = None) -> str:
    """Two panels side by side, one curve a seat, the mean of the seats in bold.

    On the right is the way of control given; None: each subwoofer on its own. One panel where nothing can be set.
    """
    panels = [Panel(title=BEFORE, outcome=study.before)]
    if len(study.ways) > 1:
        after = way or study.ways[-1]
        panels.append(Panel(title=after_words(study, after), outcome=after.outcome))
    band = band_words(study.band.low_hz, study.band.high_hz)
    return seat_panels_svg(panels, study.seats, band, Sheet(across=len(panels)))


@dataclass(frozen=True, kw_only=True, slots=True)
class Sheet:
    """How panels are laid out: so many in a row, on a picture so wide, each so high."""

    across: int
    width: float = WIDTH
    height: float = 230.0


def seat_panels_svg(panels: Sequence[Panel], seats: Sequence[Seat], band: str, sheet: Sheet) -> str:
    """Panels on one scale, one curve a seat of all, the mean of the seats in bold."""
    bottom, top = _scale([panel.outcome for panel in panels])
    described = "; ".join((band, *(_described(panel) for panel in panels)))
    canvas = Canvas("Predicted level at each seat", f"{described}. {CAUTION}")
    width = (sheet.width - 60.0 * sheet.across) / sheet.across
    for n, panel in enumerate(panels):
        hertz = [one.frequency_hz for one in panel.outcome.by_frequency]
        axes = Axes(
            left=36.0 + n % sheet.across * (width + 60.0),
            upper=30.0 + n // sheet.across * (sheet.height + _BETWEEN_ROWS),
            width=width,
            height=sheet.height,
            low=hertz[0],
            high=hertz[-1],
            bottom=bottom,
            top=top,
        )
        axes.draw(canvas, panel.title, "Frequency, Hz", "Level, dB")
        _curves(canvas, axes, seats, panel.outcome)
    wide = sheet.width - 20.0
    lines = [*wrapped(_seats_words(seats), _SIZE, wide), *wrapped(CAUTION, _SIZE, wide)]
    rows = -(-len(panels) // sheet.across)
    below = 30.0 + rows * (sheet.height + _BETWEEN_ROWS) - _BETWEEN_ROWS + 48.0
    for n, words in enumerate(lines):
        canvas.text((10.0, below + n * _LINE), words, _SIZE, fill=SOFT)
    return canvas.picture(sheet.width, below + len(lines) * _LINE)


def _curves(canvas: Canvas, axes: Axes, seats: Sequence[Seat], outcome: Outcome) -> None:
    ends: list[float] = []
    hertz = [one.frequency_hz for one in outcome.by_frequency]
    for seat, found in zip(seats, outcome.by_seat, strict=True):
        look = {"stroke": _PRIMARY, "stroke_width": "1.3"} if seat.primary else {"stroke": _SEAT, "stroke_width": "0.9"}
        with canvas.group("seat", title=seat.name, seat=seat.name):
            canvas.line(axes.curve(hertz, found.level_db), **look, stroke_linejoin="round")
        ends.append(axes.spot(axes.high, found.level_db[-1])[1])
    mean = [one.mean_level_db for one in outcome.by_frequency]
    with canvas.group("mean", title="Mean of the seats"):
        canvas.line(axes.curve(hertz, mean), stroke=INK, stroke_width="2.4", stroke_linejoin="round")
    right = axes.left + axes.width
    for number, (end, y) in enumerate(zip(ends, apart(ends, _SIZE, axes.upper, axes.upper + axes.height), strict=True)):
        canvas.line([(right, end), (right + 7, y)], stroke=SOFT, stroke_width="0.5")
        canvas.text((right + 9, y + 3), str(number + 1), _SIZE - 1)


def apart(places: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """The places moved until each is at least a gap from the next, in their order, as far as the range has room.

    >>> apart([5.0, 5.0, 20.0], 4.0, 0.0, 30.0)
    [3.0, 7.0, 20.0]
    """
    gap = min(gap, (high - low) / max(len(places) - 1, 1))
    order = sorted(range(len(places)), key=lambda n: (places[n], n))
    groups: list[tuple[float, list[int]]] = []
    for n in order:
        groups.append((places[n], [n]))
        while len(groups) > 1 and _lower_end(groups[-1], gap) < _upper_end(groups[-2], gap) + gap - 1e-9:
            (_, last), (_, before) = groups.pop(), groups.pop()
            members = [*before, *last]
            groups.append((sum(places[m] for m in members) / len(members), members))
    moved = [0.0] * len(places)
    for middle, members in groups:
        half = (len(members) - 1) * gap / 2
        start = min(max(middle - half, low), high - 2 * half)
        for position, n in enumerate(members):
            moved[n] = start + position * gap
    return moved


def _lower_end(group: tuple[float, list[int]], gap: float) -> float:
    return group[0] - (len(group[1]) - 1) * gap / 2


def _upper_end(group: tuple[float, list[int]], gap: float) -> float:
    return group[0] + (len(group[1]) - 1) * gap / 2


def _scale(outcomes: Sequence[Outcome]) -> tuple[float, float]:
    """One scale for all, in whole steps; a null deeper than 40 dB below the peak ends at the edge."""
    levels = [level for outcome in outcomes for seat in outcome.by_seat for level in seat.level_db]
    top = math.ceil(max(levels) / _STEP_DB) * _STEP_DB
    bottom = math.floor(max(min(levels), top - _DEEPEST_DB) / _STEP_DB) * _STEP_DB
    return bottom, max(top, bottom + _STEP_DB)


def _described(panel: Panel) -> str:
    return f"{panel.title}: spread {panel.outcome.spread.spread_db:.2f} dB"


def _seats_words(seats: Sequence[Seat]) -> str:
    names = ", ".join(f"{n} {seat.name}{' (primary)' if seat.primary else ''}" for n, seat in enumerate(seats, start=1))
    return f"Level re one subwoofer at 1 m in the open. Bold: mean of the seats. Seats: {names}."
