"""Where labels go beside what they name: on nothing, in the picture, and as near as may be."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.drawings.svg import Spot

_DIRECTIONS = 16
_STEP, _STEPS, _ASLANT, _NEAR = 9.0, 40, 2.0, 10.0
_LINE_COST = 14.0
"""A line behind a label is worth so many units of distance."""


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle: left, top, right, bottom."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: "Rect") -> bool:
        """Whether the two have a point in common within their edges."""
        return (
            self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom
        )

    def within(self, other: "Rect") -> bool:
        """Whether it lies in the other."""
        return (
            other.left <= self.left and self.right <= other.right
            and other.top <= self.top and self.bottom <= other.bottom
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Wanted:
    """A label to be placed: what it names stands at a spot and is so large; the label is so wide and so high."""

    at: Spot
    radius: float
    width: float
    height: float


def label_places(
    labels: Sequence[Wanted], taken: Sequence[Rect], lines: Sequence[Rect], page: Rect
) -> tuple[Rect, ...]:
    """A place for each label, in order. `lines` are runs of lines, which a label avoids if it can.

    A label that is far from what it names has a leader to it, which crosses no other label if it
    can be helped. One for which there is no room on the page goes below it: none is ever lost.
    """
    placing = _Placing(taken, lines, page)
    return tuple(placing.place(label) for label in labels)


def leader(label: Wanted, place: Rect) -> tuple[Spot, Spot] | None:
    """The line from the edge of what is named to the nearest point of a label far from it; None where it is near."""
    x, y = label.at
    near = min(max(x, place.left), place.right), min(max(y, place.top), place.bottom)
    distance = math.dist(near, label.at)
    if distance <= label.radius + _NEAR:
        return None
    share = label.radius / distance
    return (x + (near[0] - x) * share, y + (near[1] - y) * share), near


class _Placing:
    def __init__(self, taken: Sequence[Rect], lines: Sequence[Rect], page: Rect) -> None:
        self._taken, self._lines, self._page = taken, lines, page
        self._placed: list[Rect] = []
        self._leaders: list[tuple[Spot, Spot]] = []

    def place(self, label: Wanted) -> Rect:
        """The best free place, which is from then on taken."""
        found = self._nearest(label, crossing=False) or self._nearest(label, crossing=True) or self._below(label)
        line = leader(label, found)
        if line is not None:
            self._leaders.append(line)
        self._placed.append(found)
        return found

    def _nearest(self, label: Wanted, *, crossing: bool) -> Rect | None:
        """The free place that costs least; with `crossing` a leader may run through a label."""
        best: tuple[float, Rect] | None = None
        for distance, place in _candidates(label):
            if best is not None and distance >= best[0]:
                break  # candidates come in the order of distance, so none after this is better
            if self._free(place) and (crossing or self._clear(label, place)):
                cost = distance + _LINE_COST * sum(place.meets(line) for line in self._lines)
                if best is None or cost < best[0]:
                    best = cost, place
        return best[1] if best is not None else None

    def _free(self, place: Rect) -> bool:
        return place.within(self._page) and not any(place.meets(other) for other in (*self._taken, *self._placed))

    def _clear(self, label: Wanted, place: Rect) -> bool:
        """Whether no leader runs through it, nor its own through another label."""
        if any(_crosses(line, place) for line in self._leaders):
            return False
        line = leader(label, place)
        return line is None or not any(_crosses(line, other) for other in self._placed)

    def _below(self, label: Wanted) -> Rect:
        lowest = max((self._page.bottom, *(rect.bottom for rect in self._placed)))
        left, top = self._page.left, lowest + 2.0
        return Rect(left, top, left + label.width, top + label.height)


def _candidates(label: Wanted) -> Iterator[tuple[float, Rect]]:
    """Places around what is named, each with its distance: straight beside, above and below it first, then aslant."""
    for step in range(_STEPS):
        reach = label.radius + 3.0 + step * _STEP
        for aslant in (False, True):
            for turn in range(_DIRECTIONS):
                if (turn % (_DIRECTIONS // 4) != 0) is aslant:
                    yield step * _STEP + _ASLANT * aslant, _beside(label, 2 * math.pi * turn / _DIRECTIONS, reach)


def _beside(label: Wanted, angle: float, reach: float) -> Rect:
    x = label.at[0] + round(math.cos(angle), 6) * (reach + label.width / 2)
    y = label.at[1] + round(math.sin(angle), 6) * (reach + label.height / 2)
    return Rect(x - label.width / 2, y - label.height / 2, x + label.width / 2, y + label.height / 2)


def _crosses(line: tuple[Spot, Spot], rect: Rect) -> bool:
    """Whether a line passes through a rectangle (clipping after Liang and Barsky, 1984; from memory)."""
    (x1, y1), (x2, y2) = line
    enters, leaves = 0.0, 1.0
    for start, change, low, high in ((x1, x2 - x1, rect.left, rect.right), (y1, y2 - y1, rect.top, rect.bottom)):
        if change == 0:
            if not low < start < high:
                return False
            continue
        first, last = sorted(((low - start) / change, (high - start) / change))
        enters, leaves = max(enters, first), min(leaves, last)
    return enters < leaves
