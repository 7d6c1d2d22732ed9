"""Solves side by side, in threads, that whoever waits for them can call off at any moment."""

from collections.abc import Callable, Iterable
from concurrent.futures import Executor, wait
from contextlib import contextmanager
from threading import Lock
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ortools.sat.python.cp_model import CpSolver

_BEAT_S = 0.1

Asked = TypeVar("Asked")
Answer = TypeVar("Answer")


class Recall:
    """Calls off the solves at work under it, and lets none begin any more."""

    def __init__(self) -> None:
        self._at_work: set[CpSolver] = set()
        self._lock = Lock()
        self.called = False

    @contextmanager
    def hears(self, solver: "CpSolver") -> "Iterator[None]":
        """Has a solver listen while it works."""
        with self._lock:
            self._at_work.add(solver)
        try:
            yield
        finally:
            with self._lock:
                self._at_work.discard(solver)

    def call(self) -> None:
        """Ends what is at work; to be repeated, since a solver that is only just beginning does not hear it."""
        with self._lock:
            self.called = True
            for solver in self._at_work:
                solver.stop_search()


def side_by_side(
    pool: Executor,
    ask: Callable[[Asked], Answer],
    questions: Iterable[Asked],
    beat: Callable[[int], None],
    recall: Recall,
) -> list[Answer]:
    """The answers in the order of the questions.

    `beat` is called again and again meanwhile, with how many are answered. Whatever it raises
    (or Ctrl-C) ends the solves at once, and is raised here when the last has ended.
    """
    asked = [pool.submit(ask, question) for question in questions]
    try:
        while waiting := wait(asked, timeout=_BEAT_S).not_done:
            beat(len(asked) - len(waiting))
        return [each.result() for each in asked]
    except BaseException:
        for each in asked:
            each.cancel()
        while wait(asked, timeout=_BEAT_S).not_done:
            recall.call()
        raise
