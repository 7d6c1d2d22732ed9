"""One size: our whole set and single cheapest, beside general-purpose solvers asked the same, in one run."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from tests.benchmarks.apart import apart
from tests.benchmarks.ours import Asking, Ours
from tests.benchmarks.sizes import Case, Size, case
from tests.benchmarks.theirs import Examining, Sitting, Theirs
from tests.benchmarks.timed import Took
from tests.oracle.mathopt import Solver


@dataclass(frozen=True, kw_only=True, slots=True)
class Ratio:
    """How many times longer the better solver takes. `at_least`: it, or every solver, was stopped by the time limit."""

    solver: Solver
    cpu: float
    clock: float
    at_least: bool

    def tree(self) -> dict[str, Any]:
        """As JSON takes it."""
        return {"solver": self.solver.value, "cpu": self.cpu, "clock": self.clock, "at_least": self.at_least}


@dataclass(frozen=True, kw_only=True, slots=True)
class Compared:
    """What one size took; words in place of figures where there are none."""

    size: Size
    devices: int
    feeds: int
    ours: Ours | str
    theirs: Mapping[Solver, Theirs | str]

    @property
    def set_ratio(self) -> Ratio | None:
        """For the questions of the whole set."""
        if not isinstance(self.ours, Ours) or not self.ours.settled:
            return None
        options = len(self.ours.measures)
        took = {
            solver: (found.set_s(options), not found.all_settled)
            for solver, found in self.theirs.items()
            if isinstance(found, Theirs) and found.asked
        }
        return _best(self.ours.set, took)

    @property
    def cheapest_ratio(self) -> Ratio | None:
        """For the single cheapest design."""
        if not isinstance(self.ours, Ours) or self.ours.cheapest_minor is None or not self.ours.cheapest_settled:
            return None
        took = {
            solver: (found.cheapest, not found.cheapest_settled)
            for solver, found in self.theirs.items()
            if isinstance(found, Theirs)
        }
        return _best(self.ours.cheapest, took)

    def tree(self) -> dict[str, Any]:
        """As JSON takes it. `ratio_to_best_solver` is that of CPU seconds for the whole set."""
        whole, one = self.set_ratio, self.cheapest_ratio
        options = len(self.ours.measures) if isinstance(self.ours, Ours) else 0
        return {
            "size": self.size.value,
            "devices": self.devices,
            "feeds": self.feeds,
            "ratio_to_best_solver": None if whole is None else whole.cpu,
            "set_ratio": None if whole is None else whole.tree(),
            "cheapest_ratio": None if one is None else one.tree(),
            "ours": self.ours.tree() if isinstance(self.ours, Ours) else self.ours,
            **{
                solver.value: found.tree(options) if isinstance(found, Theirs) else found
                for solver, found in self.theirs.items()
            },
        }


def compared(
    size: Size, solvers: Sequence[Solver], *, time_limit_s: float, solver_limit_s: float, most_questions: int
) -> Compared:
    """Takes the times of one size, each way in a process of its own. Raises AssertionError where prices differ."""
    asked = case(size)
    ours = apart(Asking(time_limit_s=time_limit_s), asked, most_s=4 * time_limit_s)
    return Compared(
        size=size,
        devices=asked.devices,
        feeds=asked.feeds,
        ours=ours,
        theirs={
            solver: _examined(solver, asked, ours, solver_limit_s=solver_limit_s, most_questions=most_questions)
            for solver in solvers
        },
    )


def _examined(
    solver: Solver, asked: Case, ours: Ours | str, *, solver_limit_s: float, most_questions: int
) -> Theirs | str:
    sitting = Sitting(case=asked, cheapest_minor=None, measures=())
    if isinstance(ours, Ours):
        sitting = Sitting(
            case=asked,
            cheapest_minor=ours.cheapest_minor if ours.cheapest_settled else None,
            measures=ours.measures if ours.settled else (),
        )
    examining = Examining(solver=solver, time_limit_s=solver_limit_s, most_questions=most_questions)
    return apart(examining, sitting, most_s=60 + 1.5 * solver_limit_s * (1 + most_questions))


def _best(ours: Took, theirs: Mapping[Solver, tuple[Took, bool]]) -> Ratio | None:
    """Against the solver that is better in CPU seconds; one that was stopped counts what it took until then."""
    if not theirs:
        return None
    solver, (took, stopped) = min(theirs.items(), key=lambda entry: (entry[1][0].cpu_s, entry[0]))
    return Ratio(solver=solver, cpu=took.cpu_s / ours.cpu_s, clock=took.clock_s / ours.clock_s, at_least=stopped)
