"""One processor, asked with the loudspeakers and subwoofers left out that are too dear to win.

Where a design is known, a model with which no design costs less can be left out: what is proven
without it holds with it. Where none is known, the models are left out with which no design
costs less than somewhat more than what is proven to be out of reach. If there is none without
them, what they cost is out of reach too, and who asked may ask again or turn elsewhere first.
So the answer is that of the whole demand, however much is left out at first.
"""

import time
from dataclasses import replace
from threading import Lock

from planner.allocation.bounds import Bounds
from planner.allocation.price_floor import PriceFloor
from planner.allocation.side_by_side import Recall
from planner.allocation.solve import MOST_SCORE, Outcome, ProcessorModel, Verdict, scale_of
from planner.demand.build import Demand, ModelKey

_STEPS = (1.1, 1.2, 1.5)
"""Prices up to which models are let in, as multiples of what no design undercuts; beyond the last, all are."""
_ROUNDED = 1.1
"""Known prices are rounded up to powers of this, so that few models are built."""


class NarrowedModel:
    """A demand with one of its processors, numbered `processor`, with as few models as a question allows."""

    def __init__(self, demand: Demand, processor: int, recall: Recall | None = None) -> None:
        self._demand, self._processor, self._recall = demand, processor, recall
        self._scale = scale_of(demand)
        self._floor = PriceFloor(demand.with_processor(demand.processors[processor]))
        self.least_score = (self._floor.of_all() - 1) * self._scale
        self._models: dict[frozenset[ModelKey], ProcessorModel] = {}
        self._making = Lock()

    def cheapest(self, bounds: Bounds, seconds: float, *, floor: int, below: int) -> Outcome:
        """The least score within bounds, where it is less than `below`; NONE where it is not yet found.

        `floor` is a score already proven to be out of reach from below; the score of NONE is one, too.
        """
        deadline = time.monotonic() + seconds
        known: Outcome | None = None
        worth = min(below, self._next_step(floor))
        while True:
            left_out = self._dearer(worth)
            outcome = self._model(left_out).cheapest(bounds, deadline - time.monotonic(), floor=floor, below=below)
            match outcome.verdict:
                case Verdict.FEASIBLE | Verdict.UNKNOWN:
                    return outcome if known is None else replace(known, verdict=Verdict.FEASIBLE)
                case Verdict.NONE if known is None:
                    return Outcome(Verdict.NONE, score=min([below, *(self._score(key) for key in left_out)]))
                case Verdict.OPTIMAL:
                    known, below = outcome, outcome.score
            if known is not None and all(self._score(key) >= below for key in left_out):
                return known
            worth = below

    def exists(self, bounds: Bounds, seconds: float) -> Outcome:
        """Whether any design is within bounds, without an objective; the cheap models are tried first."""
        deadline = time.monotonic() + seconds
        outcome = Outcome(Verdict.NONE)
        for worth in (self._next_step(self.least_score), MOST_SCORE):
            outcome = self._model(self._dearer(worth)).exists(bounds, deadline - time.monotonic())
            if outcome.verdict is not Verdict.NONE:
                break
        return outcome

    def _next_step(self, floor: int) -> int:
        """The least step above what is out of reach."""
        steps = (int(step * self.least_score) for step in _STEPS)
        return next((step for step in steps if step > floor), MOST_SCORE)

    def _score(self, key: ModelKey) -> int:
        """A score that no design with a model undercuts."""
        return (self._floor.of_model(key) - 1) * self._scale

    def _dearer(self, worth: int) -> frozenset[ModelKey]:
        """The models with which no design scores less, for a score rounded up."""
        rounded = max(self.least_score, self._scale)
        while rounded < worth:
            rounded = int(_ROUNDED * rounded) + 1
        return frozenset() if rounded >= MOST_SCORE else self._floor.dearer(-(-rounded // self._scale) + 1)

    def _model(self, left_out: frozenset[ModelKey]) -> ProcessorModel:
        with self._making:
            if left_out not in self._models:
                self._models[left_out] = ProcessorModel(self._demand, self._processor, self._recall, left_out)
            return self._models[left_out]
