"""The cheapest design within bounds, processor by processor.

Exactly one processor is chosen, so the cheapest design is the cheapest over the processors.
Each has a small model of its own, and a memory of what its solves have proven: its score in
tighter bounds is never less than in looser ones, and a design of the score that looser bounds
prove to be least is cheapest in all bounds that it meets. Processors are tried in the order of
what they cannot undercut, each only for a score better than the best so far; the rest cannot
win. One that has never been tried is first solved within the loosest bounds of the search,
which settles it for most of the bounds to come.

A *score* is the objective value of the models: the price before tax, scaled, with ties broken
by the measures. Scores of different processors compare, since the scale is one.
"""

import time
from collections.abc import Callable
from concurrent.futures import Executor
from dataclasses import dataclass, field
from heapq import heapify, heappop, heappush
from threading import Lock

from planner.allocation.bounds import Bounds, Point, claim_point, meets
from planner.allocation.narrowed import NarrowedModel
from planner.allocation.side_by_side import Recall, side_by_side
from planner.allocation.solve import MOST_SCORE, Outcome, Verdict
from planner.demand.build import Demand
from planner.demand.counts import Counts


@dataclass(frozen=True, slots=True)
class Lesson:
    """What a solve proved of one processor: within `bounds` no score is less than `floor`.

    `counts` is the design of that score, where there is one. `settled`: there is no more to learn.
    """

    part: int
    bounds: Point
    floor: int
    counts: Counts | None = None
    settled: bool = False


@dataclass(slots=True)
class Attempt:
    """The outcome within bounds, with what was learnt on the way and not yet remembered."""

    outcome: Outcome
    lessons: list[Lesson] = field(default_factory=list)
    solves: int = 0


class Parts:
    """All processors of a demand, with what is known of each.

    `attempt` only reads what is remembered, so that several can run side by side; `remember`
    is called afterwards, in a fixed order. What a processor can do within the loosest bounds is
    the same whoever asks first.
    """

    def __init__(self, demand: Demand) -> None:
        self.recall = Recall()
        self._models = [NarrowedModel(demand, number, self.recall) for number, _ in enumerate(demand.processors)]
        self._lessons: list[list[Lesson]] = [
            [Lesson(number, (), model.least_score)] for number, model in enumerate(self._models)
        ]
        self._loosest: Bounds | None = None
        self._primed: dict[int, Lesson] = {}
        self._priming = [Lock() for _ in self._models]

    def __len__(self) -> int:
        return len(self._models)

    def floor(self, part: int, bounds: Point) -> int:
        """A score that the processor cannot undercut within the bounds."""
        return max(lesson.floor for lesson in self._looser(part, bounds))

    def prime(self, bounds: Bounds, seconds: float, pool: Executor, beat: Callable[[int], None]) -> int:
        """Begins a search within bounds: solves those processors alone that may win there, side by side.

        `beat` as in `side_by_side`. Counts the solves.
        """
        self._loosest, deadline = bounds, time.monotonic() + seconds
        best = MOST_SCORE

        def alone(part: int) -> bool:
            nonlocal best
            primed = self._prime(part, best, deadline - time.monotonic())
            if primed and self._primed[part].counts is not None:
                best = min(best, self._primed[part].floor)
            return primed

        order = sorted(range(len(self._models)), key=lambda part: self._models[part].least_score)
        return sum(side_by_side(pool, alone, order, beat, self.recall))

    def attempt(self, bounds: Bounds, seconds: float, known: tuple[int, Counts] | None = None) -> Attempt:
        """The best design within bounds over all processors; `known` is one to beat, with its score."""
        deadline, point = time.monotonic() + seconds, bounds.point()
        best_score, best = known if known is not None else (MOST_SCORE, None)
        attempt = Attempt(Outcome(Verdict.NONE))
        ranked = [(self.floor(part, point), part) for part in range(len(self._models))]
        heapify(ranked)
        while ranked:
            floor, part = heappop(ranked)
            if floor >= best_score:
                break
            primed = self._prime(part, best_score, deadline - time.monotonic())
            attempt.solves += primed
            # read anew: another attempt may have learnt more meanwhile, and what is known decides which design it is
            known_floor = max(floor, self.floor(part, point))
            if primed or known_floor > floor:
                heappush(ranked, (known_floor, part))
                continue
            outcome = self._known(part, point, floor)
            if outcome is None:
                seconds = deadline - time.monotonic()
                outcome = self._models[part].cheapest(bounds, seconds, floor=floor, below=best_score)
                attempt.solves += 1
            match outcome.verdict:
                case Verdict.OPTIMAL:
                    best_score, best = outcome.score, outcome.counts
                    attempt.lessons.append(Lesson(part, point, outcome.score, outcome.counts))
                case Verdict.NONE:
                    attempt.lessons.append(Lesson(part, point, outcome.score))
                    heappush(ranked, (outcome.score, part))
                case _:
                    attempt.outcome = outcome if best is None else Outcome(Verdict.FEASIBLE, best, best_score)
                    return attempt
        attempt.outcome = Outcome(Verdict.NONE) if best is None else Outcome(Verdict.OPTIMAL, best, best_score)
        return attempt

    def remember(self, attempt: Attempt) -> None:
        """Keeps the lessons of an attempt."""
        for lesson in attempt.lessons:
            self._lessons[lesson.part].append(lesson)

    def _looser(self, part: int, bounds: Point) -> list[Lesson]:
        """What was learnt of a processor within bounds that hold these."""
        lessons = [lesson for lesson in self._lessons[part] if not lesson.bounds or meets(bounds, lesson.bounds)]
        primed = self._primed.get(part)
        return [*lessons, primed] if primed is not None and meets(bounds, primed.bounds) else lessons

    def _known(self, part: int, bounds: Point, floor: int) -> Outcome | None:
        """A design of the processor that meets the bounds at the score that nothing there undercuts."""
        for lesson in self._looser(part, bounds):
            if lesson.counts is not None and lesson.floor == floor and meets(claim_point(lesson.counts.claim), bounds):
                return Outcome(Verdict.OPTIMAL, lesson.counts, floor)
        return None

    def _prime(self, part: int, below: int, seconds: float) -> bool:
        """Learns what the processor can do within the loosest bounds, as far as it may be less than a score.

        False where that was known as far already, or is never asked.
        """
        if self._loosest is None:
            return False
        with self._priming[part]:
            model, point = self._models[part], self._loosest.point()
            known = self._primed.get(part, Lesson(part, point, model.least_score))
            if known.settled or known.floor >= below:
                return False
            outcome = model.cheapest(self._loosest, seconds, floor=known.floor, below=MOST_SCORE)
            match outcome.verdict:
                case Verdict.OPTIMAL:
                    self._primed[part] = Lesson(part, point, outcome.score, outcome.counts, settled=True)
                case Verdict.NONE:
                    settled = outcome.score >= MOST_SCORE
                    self._primed[part] = Lesson(part, point, outcome.score, settled=settled)
                case _:
                    self._primed[part] = Lesson(part, point, known.floor, settled=True)
            return True

    def exists(self, bounds: Bounds, seconds: float) -> Outcome:
        """Whether any design is within bounds: FEASIBLE with one, NONE, or UNKNOWN when time ran out."""
        deadline, settled = time.monotonic() + seconds, True
        for model in self._models:
            left = deadline - time.monotonic()
            outcome = model.exists(bounds, left) if left > 0 else Outcome(Verdict.UNKNOWN)
            if outcome.verdict in (Verdict.OPTIMAL, Verdict.FEASIBLE):
                return Outcome(Verdict.FEASIBLE, outcome.counts)
            settled = settled and outcome.verdict is Verdict.NONE
        return Outcome(Verdict.NONE if settled else Verdict.UNKNOWN)
