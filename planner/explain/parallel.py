"""Questions two at a time, in the order in which they are put: the solver lets go of the interpreter while it works."""

from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from threading import Lock
from types import TracebackType
from typing import Any, Self, TypeVar

from planner.allocation.trade_off import WORKERS
from planner.explain.clock import Clock

Came = TypeVar("Came")


class Work:
    """Questions being asked. What is put first is begun first, so that what matters most is known when time ends."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._pool = ThreadPoolExecutor(WORKERS)
        self._counting = Lock()
        self._begun: list[Future[Any]] = []
        self._done = 0

    def put(self, what: str, ask: Callable[[], Came], after: Sequence[Future[Any]] = ()) -> Future[Came]:
        """Has a question asked once others, put before it, are answered: those that it shares a model with."""
        begun = self._pool.submit(self._ask, what, ask, after)
        self._begun.append(begun)
        return begun

    def _ask(self, what: str, ask: Callable[[], Came], after: Sequence[Future[Any]]) -> Came:
        for needed in after:
            needed.result()
        with self._counting:
            self._clock.tell(f"{what} ({self._done} of {len(self._begun)} parts explained)")
        came = ask()
        with self._counting:
            self._done += 1
        return came

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Waits for every answer; raises what one of them raised."""
        self._pool.shutdown(cancel_futures=kind is not None)
        if kind is None:
            for begun in self._begun:
                begun.result()
