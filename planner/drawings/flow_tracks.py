"""How lines cross the gutter between two columns: each comes in at one row, runs up or down, and leaves at another.

Two lines never lie on one another. Where one leaves at the row at which another comes in, the
one that comes in turns first. Where that goes round in a ring, one line of it steps half a row
aside at once and turns behind all others. This is channel routing with vertical constraints
(A. Hashimoto, J. Stevens, Proc. 8th Design Automation Workshop, 1971; from memory).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Crossing:
    """One line in a gutter: the row at which it comes in on the left, and leaves on the right."""

    line: int
    left: int
    right: int

    @property
    def straight(self) -> bool:
        """Whether it needs no track."""
        return self.left == self.right


@dataclass(frozen=True, slots=True)
class Track:
    """Where a line turns: the number of its track from the left. `steps_aside`: see the module."""

    number: int
    steps_aside: bool = False


@dataclass(frozen=True, slots=True)
class Gutter:
    """The tracks of the lines that turn, by line, and how many there are side by side.

    Where a line steps aside, track 0 is kept free for that.
    """

    tracks: Mapping[int, Track]
    width: int


def gutter(crossings: Sequence[Crossing]) -> Gutter:
    """The tracks of all lines of one gutter. Rows are unique on the left, and on the right."""
    turning = [each for each in crossings if not each.straight]
    order, aside = _in_order(turning)
    first = 1 if aside else 0
    numbers: dict[int, int] = {}
    placed: list[Crossing] = []
    for each in order:
        numbers[each.line] = max(
            (numbers[other.line] + 1 for other in placed if _overlap(each, other) or other.left == each.right),
            default=first,
        )
        placed.append(each)
    last = max(numbers.values(), default=first - 1)
    tracks = {line: Track(number) for line, number in numbers.items()}
    for each in aside:
        last += 1
        tracks[each.line] = Track(last, steps_aside=True)
    return Gutter(tracks, last + 1)


def _in_order(turning: Sequence[Crossing]) -> tuple[list[Crossing], list[Crossing]]:
    """From left to right: those that must turn first, first; beside them those that step aside."""
    by_right = {each.right: each for each in turning}
    waiting = sorted(turning, key=_preference)
    order: list[Crossing] = []
    aside: list[Crossing] = []
    while waiting:
        # A line may turn once the line that comes in at the row where it leaves has turned.
        blocked = {by_right[each.left].line for each in waiting if each.left in by_right}
        free = next((each for each in waiting if each.line not in blocked), None)
        if free is None:
            aside.append(waiting.pop(0))
            continue
        waiting.remove(free)
        order.append(free)
    return order, aside


def _preference(crossing: Crossing) -> tuple[bool, int]:
    """Lines that go down turn the sooner the lower they come in, lines that go up the higher: so they do not cross."""
    down = crossing.right > crossing.left
    return down, -crossing.left if down else crossing.left


def _overlap(one: Crossing, other: Crossing) -> bool:
    """Whether two lines would touch if they turned on the same track."""
    top, bottom = sorted((one.left, one.right))
    other_top, other_bottom = sorted((other.left, other.right))
    return top <= other_bottom and other_top <= bottom
