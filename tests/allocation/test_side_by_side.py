"""Solves side by side: answers in order, and an end at once when whoever waits has had enough."""

from concurrent.futures import ThreadPoolExecutor
from threading import Event
from typing import cast

import pytest
from ortools.sat.python.cp_model import CpSolver

from planner.allocation.bounds import limits_of
from planner.allocation.parts import Parts
from planner.allocation.side_by_side import Recall, side_by_side
from planner.allocation.solve import Verdict
from planner.demand.build import build_demand
from tests.demand.shop import HOUSE
from tests.optimum.bench import bench


class Enough(Exception):
    pass


class Endless:
    """A solver that works until it is told to stop."""

    def __init__(self) -> None:
        self.begun, self._stopped = Event(), Event()

    def solve(self) -> None:
        self.begun.set()
        assert self._stopped.wait(60), "nobody stopped it"

    def stop_search(self) -> None:
        self._stopped.set()


def test_the_answers_come_in_the_order_of_the_questions() -> None:
    with ThreadPoolExecutor(2) as pool:
        assert side_by_side(pool, lambda n: n * n, range(20), lambda _: None, Recall()) == [n * n for n in range(20)]


def test_what_a_sign_of_life_raises_ends_the_solves_at_work_and_begins_no_other() -> None:
    recall, solvers = Recall(), [Endless() for _ in range(6)]

    def ask(solver: Endless) -> None:
        with recall.hears(cast(CpSolver, solver)):
            solver.solve()

    def beat(done: int) -> None:
        assert done == 0
        if all(solver.begun.wait(60) for solver in solvers[:2]):
            raise Enough

    with ThreadPoolExecutor(2) as pool, pytest.raises(Enough):
        side_by_side(pool, ask, solvers, beat, recall)
    assert recall.called
    assert not any(solver.begun.is_set() for solver in solvers[2:])


def test_a_fault_in_a_solve_is_raised() -> None:
    with ThreadPoolExecutor(2) as pool, pytest.raises(ZeroDivisionError):
        side_by_side(pool, lambda n: 1 // n, (1, 0), lambda _: None, Recall())


def test_nothing_is_solved_any_more_once_it_is_called_off() -> None:
    instance = bench(outputs=3, speakers=1, subs=2)
    parts = Parts(build_demand(instance.brief, instance.catalogue, HOUSE))
    parts.recall.call()
    assert parts.exists(limits_of(instance.brief), 60.0).verdict is Verdict.UNKNOWN
