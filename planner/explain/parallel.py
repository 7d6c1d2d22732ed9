"""Two questions at a time: the solver lets go of the interpreter while it works."""

from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

from planner.allocation.trade_off import WORKERS

Question = TypeVar("Question")
Result = TypeVar("Result")
One = TypeVar("One")
Two = TypeVar("Two")
Three = TypeVar("Three")


def side_by_side(ask: Callable[[Question], Result], questions: Iterable[Question]) -> list[Result]:
    """The answers in the order of the questions, which may not depend on one another."""
    with ThreadPoolExecutor(WORKERS) as pool:
        return list(pool.map(ask, questions))


def asked_together(
    one: Callable[[], One], two: Callable[[], Two], three: Callable[[], Three]
) -> tuple[One, Two, Three]:
    """The answers to three questions that do not depend on one another."""
    with ThreadPoolExecutor(WORKERS) as pool:
        first, second, third = pool.submit(one), pool.submit(two), pool.submit(three)
        return first.result(), second.result(), third.result()
