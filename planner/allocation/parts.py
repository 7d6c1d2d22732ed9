"""The cheapest design within bounds, processor by processor.

Exactly one processor is chosen, so the cheapest design is the cheapest over the processors.
Each has a small model of its own, and a memory of what its solves have proven: its score in
tighter bounds is never less than in looser ones. Processors are tried in the order of that
bound, each only for a score better than the best so far; the rest cannot win.

A *score* is the objective value of the models: the price before tax, scaled, with ties broken
by the measures. Scores of different processors compare, since the scale is one.
"""

from collections.abc import Callable
from concurrent.futures import Executor
from dataclasses import dataclass, field

from planner.allocation.bounds import Bounds, Point, meets
from planner.allocation.side_by_side import Recall, side_by_side
from planner.allocation.solve import MOST_SCORE, Outcome, ProcessorModel, Verdict
from planner.demand.build import Demand
from planner.demand.counts import Counts


@dataclass(frozen=True, slots=True)
class Lesson:
    """What a solve proved of one processor: within `bounds` no score is less than `floor`."""

    part: int
    bounds: Point
    floor: int


@dataclass(slots=True)
class Attempt:
    """The outcome within bounds, with what was learnt on the way and not yet remembered."""

    outcome: Outcome
    lessons: list[Lesson] = field(default_factory=list)
    solves: int = 0


class Parts:
    """All processors of a demand, with what is known of each.

    `attempt` only reads what is remembered, so that several can run side by side; `remember`
    is called afterwards, in a fixed order.
    """

    def __init__(self, demand: Demand) -> None:
        self.recall = Recall()
        self._models = [ProcessorModel(demand, number, self.recall) for number, _ in enumerate(demand.processors)]
        self._lessons: list[list[Lesson]] = [
            [Lesson(number, (), model.least_score)] for number, model in enumerate(self._models)
        ]

    def __len__(self) -> int:
        return len(self._models)

    def floor(self, part: int, bounds: Point) -> int:
        """A score that the processor cannot undercut within the bounds."""
        return max(lesson.floor for lesson in self._lessons[part] if not lesson.bounds or meets(bounds, lesson.bounds))

    def prime(self, bounds: Bounds, seconds: float, pool: Executor, beat: Callable[[int], None]) -> int:
        """Solves every processor alone within the loosest bounds, side by side; counts the solves.

        `beat` as in `side_by_side`.
        """
        point = bounds.point()

        def alone(part: int) -> Lesson | None:
            outcome = self._models[part].cheapest(bounds, seconds, floor=self.floor(part, point), below=MOST_SCORE)
            if outcome.verdict is Verdict.NONE:
                return Lesson(part, point, MOST_SCORE)
            return Lesson(part, point, outcome.score) if outcome.verdict is Verdict.OPTIMAL else None

        for lesson in side_by_side(pool, alone, range(len(self._models)), beat, self.recall):
            if lesson is not None:
                self._lessons[lesson.part].append(lesson)
        return len(self._models)

    def exists(self, bounds: Bounds, seconds: float) -> Verdict:
        """Whether any design is within bounds: FEASIBLE, NONE, or UNKNOWN when time ran out."""
        verdicts = set()
        for model in self._models:
            verdicts.add(model.exists(bounds, seconds).verdict)
            if verdicts & {Verdict.OPTIMAL, Verdict.FEASIBLE}:
                return Verdict.FEASIBLE
        return Verdict.UNKNOWN if Verdict.UNKNOWN in verdicts else Verdict.NONE

    def attempt(self, bounds: Bounds, seconds: float, known: tuple[int, Counts] | None = None) -> Attempt:
        """The best design within bounds over all processors; `known` is one to beat, with its score."""
        point = bounds.point()
        best_score, best = known if known is not None else (MOST_SCORE, None)
        attempt = Attempt(Outcome(Verdict.NONE))
        ranked = sorted((self.floor(part, point), part) for part in range(len(self._models)))
        for floor, part in ranked:
            if floor >= best_score:
                break
            outcome = self._models[part].cheapest(bounds, seconds, floor=floor, below=best_score)
            attempt.solves += 1
            match outcome.verdict:
                case Verdict.OPTIMAL:
                    best_score, best = outcome.score, outcome.counts
                    attempt.lessons.append(Lesson(part, point, outcome.score))
                case Verdict.NONE:
                    attempt.lessons.append(Lesson(part, point, best_score))
                case _:
                    attempt.outcome = outcome if best is None else Outcome(Verdict.FEASIBLE, best, best_score)
                    return attempt
        attempt.outcome = Outcome(Verdict.NONE) if best is None else Outcome(Verdict.OPTIMAL, best, best_score)
        return attempt

    def remember(self, attempt: Attempt) -> None:
        """Keeps the lessons of an attempt."""
        for lesson in attempt.lessons:
            self._lessons[lesson.part].append(lesson)
