"""The trade-off set: every combination of measures that no other beats, each at its least price.

The measures other than price are whole numbers. A *cell* is a set of bounds on them. Its
cheapest design is found, and proven, by one solve. Whatever else is worth having in the cell
must be strictly better than that design in some measure, so what is left of the cell is one
smaller cell for each measure, tightened by one. Cells are settled without a solve where
- a looser cell has no design: then this one has none;
- the cheapest design of a looser cell meets these bounds: then it is cheapest here too;
- a known design meets them at a price that a looser cell proves to be least.
Cells of which neither is within the other are solved side by side, always the same ones, so
that the same input gives the same answer on any machine.
"""

import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import partial

from planner.allocation.bounds import BOUNDED, Bounds, Point, bounds_at, claim_point, meets
from planner.allocation.parts import Attempt, Parts
from planner.allocation.side_by_side import side_by_side
from planner.allocation.solve import Verdict
from planner.brief.records import Measure
from planner.demand.counts import Counts

WORKERS = 2

Ticker = Callable[[int, int], None]
Watch = Callable[[Counts], None]


@dataclass(frozen=True, slots=True)
class Found:
    """One member of the set. `proven`: no design with measures as good is cheaper."""

    counts: Counts
    proven: bool


@dataclass(frozen=True, slots=True)
class TradeOff:
    """The set, and the bounds that were not settled when time ran out."""

    found: tuple[Found, ...]
    open_cells: tuple[Bounds, ...]
    solves: int


@dataclass(frozen=True, slots=True)
class Solved:
    """The proven best design of a cell: its counts, its measures as a point, its score."""

    cell: Point
    counts: Counts
    point: Point
    score: int


class TradeOffSearch:
    """Explores all cells within the limits of a brief.

    `ceilings` holds the most that a point can reach in each measure, where that is known.
    `watch` sees every design as it is found, and may end the search by raising.
    """

    def __init__(
        self,
        parts: Parts,
        limits: Bounds,
        measures: Sequence[Measure],
        ceilings: Point,
        tick: Ticker,
        watch: Watch = lambda counts: None,
    ) -> None:
        self._parts, self._groups, self._ceilings, self._tick = parts, limits.groups, ceilings, tick
        self._watch = watch
        self._weighed = [axis for axis, measure in enumerate(BOUNDED) if measure in measures]
        self._waiting = [limits.point()]
        self._seen = set(self._waiting)
        self._empty: list[Point] = []
        self._solved: list[Solved] = []
        self._unproven: list[Counts] = []
        self._solves = 0

    def run(self, deadline: float) -> TradeOff:
        """Settles cells until none is left or the monotonic clock reaches `deadline`."""
        with ThreadPoolExecutor(WORKERS) as pool:
            limits = bounds_at(self._waiting[0], self._groups)
            self._solves += self._parts.prime(
                limits, deadline - time.monotonic(), pool, lambda done: self._tick(done, 0)
            )
            while self._waiting and time.monotonic() < deadline:
                batch = self._side_by_side()
                seconds = deadline - time.monotonic()
                attempt = partial(self._attempt, seconds=seconds)
                attempts = side_by_side(pool, attempt, batch, self._beat, self._parts.recall)
                for cell, found in zip(batch, attempts, strict=True):
                    if not self._learn(cell, found):
                        deadline = 0.0
                self._settle_known()
                self._beat()
        left = tuple(bounds_at(cell, self._groups) for cell in sorted(self._waiting))
        return TradeOff(self._undominated(), left, self._solves)

    def _beat(self, _: int = 0) -> None:
        """A sign of life, which may raise in order to end the search."""
        self._tick(self._solves, len({id(solved.counts) for solved in self._solved}))

    def _settle_known(self) -> None:
        """Settles every waiting cell that needs no solve, and those that this opens."""
        pending, self._waiting = self._waiting, []
        while pending:
            cell = pending.pop()
            if any(meets(cell, empty) for empty in self._empty):
                continue
            answer = self._answer(cell)
            if answer is None:
                self._waiting.append(cell)
            else:
                pending += self._rest_of(cell, claim_point(answer.claim))

    def _answer(self, cell: Point) -> Counts | None:
        """The cheapest design of a cell, where what is known already proves it."""
        looser = [solved for solved in self._solved if meets(cell, solved.cell)]
        for solved in looser:
            if meets(solved.point, cell):
                return solved.counts
        best = self._best(cell)
        if best is not None and any(solved.score == best.score for solved in looser):
            self._solved.append(Solved(cell, best.counts, best.point, best.score))
            return best.counts
        return None

    def _best(self, cell: Point) -> "Solved | None":
        """The best proven design known that meets the bounds."""
        meeting = [solved for solved in self._solved if meets(solved.point, cell)]
        return min(meeting, key=lambda solved: solved.score, default=None)

    def _rest_of(self, cell: Point, reached: Point) -> Iterator[Point]:
        """The cells, not met before, that hold whatever is better than what was reached."""
        for axis in self._weighed:
            wanted = reached[axis] + 1
            if wanted > self._ceilings[axis]:
                continue
            smaller = (*cell[:axis], max(cell[axis], wanted), *cell[axis + 1 :])
            if smaller not in self._seen:
                self._seen.add(smaller)
                yield smaller

    def _side_by_side(self) -> list[Point]:
        """Up to one cell a worker, the loosest first, none within another."""
        batch: list[Point] = []
        for cell in sorted(self._waiting):
            if not any(meets(cell, other) or meets(other, cell) for other in batch):
                batch.append(cell)
            if len(batch) == WORKERS:
                break
        return batch

    def _attempt(self, cell: Point, seconds: float) -> Attempt:
        """One cell, told of the best design known there."""
        best = self._best(cell)
        known = None if best is None else (best.score, best.counts)
        return self._parts.attempt(bounds_at(cell, self._groups), seconds, known)

    def _learn(self, cell: Point, attempt: Attempt) -> bool:
        """Notes what an attempt established; False where it ran out of time."""
        self._solves += attempt.solves
        self._parts.remember(attempt)
        outcome = attempt.outcome
        match outcome.verdict:
            case Verdict.OPTIMAL if outcome.counts is not None:
                self._watch(outcome.counts)
                point = claim_point(outcome.counts.claim)
                self._solved.append(Solved(cell, outcome.counts, point, outcome.score))
                return True
            case Verdict.NONE:
                self._empty.append(cell)
                return True
        if outcome.counts is not None:
            self._watch(outcome.counts)
            self._unproven.append(outcome.counts)
        return False

    def _undominated(self) -> tuple[Found, ...]:
        """The designs that none other beats, cheapest first, one for each combination."""
        candidates = [Found(solved.counts, True) for solved in self._solved]
        candidates += [Found(counts, False) for counts in self._unproven]
        ranked = sorted(candidates, key=lambda f: (f.counts.claim.subtotal_minor, _negated(self._values(f))))
        kept: list[Found] = []
        for found in ranked:
            if not any(meets(self._values(other), self._values(found)) for other in kept):
                kept.append(found)
        return tuple(kept)

    def _values(self, found: Found) -> Point:
        point = claim_point(found.counts.claim)
        return tuple(point[axis] for axis in self._weighed)


def _negated(point: Point) -> Point:
    return tuple(-value for value in point)
