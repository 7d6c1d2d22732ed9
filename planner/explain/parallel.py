"""Two questions at a time: the solver lets go of the interpreter while it works."""

from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

from planner.allocation.trade_off import WORKERS

Question = TypeVar("Question")
Result = TypeVar("Result")


def side_by_side(ask: Callable[[Question], Result], questions: Iterable[Question]) -> list[Result]:
    """The answers in the order of the questions, which may not depend on one another."""
    with ThreadPoolExecutor(WORKERS) as pool:
        return list(pool.map(ask, questions))
