"""A general-purpose solver's answer to the questions that our trade-off set answers.

Each option claims to be the cheapest design whose measures are as good as its own. Those are the
questions put to the solver, all or an even spread of them; that nothing is missing from the set, which
our search proves as well, the solver is not asked. Prices must be equal.
"""

import os
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from planner.brief.records import Measure
from planner.design import Measures
from tests.benchmarks.sizes import Case
from tests.benchmarks.timed import Took, most_memory_mb
from tests.oracle.instance import UNBOUNDED, Bounds, Instance
from tests.oracle.mathopt import Solved, Solver, least
from tests.oracle.terms import with_tax
from tests.oracle.trade_off import bounds_of, own_cell
from tests.oracle.whole.question import Question


@dataclass(frozen=True, kw_only=True, slots=True)
class Theirs:
    """What one solver took for the single cheapest, and for `asked` of the set's questions, `settled` of them."""

    cheapest: Took
    cheapest_settled: bool
    asked: int
    settled: int
    questions: Took
    memory_mb: float

    def set_s(self, options: int) -> Took:
        """The seconds for as many questions as the set has options; at least, where some were not settled."""
        each = options / self.asked
        return Took(self.questions.clock_s * each, self.questions.cpu_s * each)

    @property
    def all_settled(self) -> bool:
        return self.cheapest_settled and self.settled == self.asked

    def tree(self, options: int) -> dict[str, Any]:
        """As JSON takes it."""
        whole = self.set_s(options) if self.asked else None
        return {
            "cheapest_clock_s": self.cheapest.clock_s,
            "cheapest_cpu_s": self.cheapest.cpu_s,
            "cheapest_settled": self.cheapest_settled,
            "questions_asked": self.asked,
            "questions_settled": self.settled,
            "set_clock_s": whole and whole.clock_s,
            "set_cpu_s": whole and whole.cpu_s,
            "memory_mb": self.memory_mb,
        }


@dataclass(frozen=True, kw_only=True, slots=True)
class Sitting:
    """What a solver is asked; can be sent to another process. `cheapest_minor`: None where we do not know it."""

    case: Case
    cheapest_minor: int | None
    measures: tuple[Measures, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Examining:
    """Asks one solver, so many seconds a question and at most so many of the set's questions."""

    solver: Solver
    time_limit_s: float
    most_questions: int

    def __call__(self, sitting: Sitting) -> Theirs:
        """Raises AssertionError where a price is not ours. What the solver prints goes nowhere."""
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        asked = sitting.case
        instance = Instance(name=asked.name, brief=asked.brief, catalogue=asked.catalogue, house=asked.house)
        question = Question(instance)

        def answer(bounds: Bounds, price_minor: int | None) -> Solved:
            solved = least(question.under(bounds), question.subtotal, self.solver, self.time_limit_s)
            if solved.settled and price_minor is not None:
                found = None if solved.value is None else with_tax(instance, solved.value)
                assert found == price_minor, f"{asked.name}, {bounds}: {self.solver} {found}, ours {price_minor}"
            return solved

        cheapest = answer(UNBOUNDED, sitting.cheapest_minor)
        wanted = spread(sitting.measures, self.most_questions) if cheapest.settled else ()
        solved = [answer(_bounds(measures, asked.brief.measures), measures.price_minor) for measures in wanted]
        return Theirs(
            cheapest=Took(cheapest.clock_s, cheapest.cpu_s),
            cheapest_settled=cheapest.settled,
            asked=len(solved),
            settled=sum(entry.settled for entry in solved),
            questions=Took(sum(entry.clock_s for entry in solved), sum(entry.cpu_s for entry in solved)),
            memory_mb=most_memory_mb(),
        )


def spread(measures: Sequence[Measures], most: int) -> tuple[Measures, ...]:
    """At most so many, evenly over the whole: the first and the last among them."""
    if len(measures) <= most:
        return tuple(measures)
    if most == 1:
        return (measures[0],)
    return tuple(measures[round(index * (len(measures) - 1) / (most - 1))] for index in range(most))


def _bounds(measures: Measures, chosen: Sequence[Measure]) -> Bounds:
    return bounds_of(own_cell(measures, chosen))
