"""Questions two at a time, in the order in which they are put: the solver lets go of the interpreter while it works."""

from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor, wait
from types import TracebackType
from typing import Any, Self, TypeVar

from planner.allocation.trade_off import WORKERS
from planner.explain.clock import Clock

Came = TypeVar("Came")

_BEAT_S = 0.1


class Work:
    """Questions being asked. What is put first is begun first, so that what matters most is known when time ends.

    Whoever put them tells how far they are, ten times a second, and hears then whether they are still wanted.
    """

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._pool = ThreadPoolExecutor(WORKERS)
        self._begun: dict[Future[Any], str] = {}

    def put(self, what: str, ask: Callable[[], Came], after: Sequence[Future[Any]] = ()) -> Future[Came]:
        """Has a question asked once others, put before it, are answered: those that it shares a model with."""

        def in_turn() -> Came:
            for needed in after:
                needed.result()
            return ask()

        begun = self._pool.submit(in_turn)
        self._begun[begun] = what
        return begun

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Waits for every answer; raises what one of them raised, or whoever is told of them."""
        try:
            if kind is None:
                self._wait()
        finally:
            self._call_off()
            self._pool.shutdown()

    def _wait(self) -> None:
        while waiting := wait(self._begun, timeout=_BEAT_S).not_done:
            at_work = next((what for begun, what in self._begun.items() if begun.running()), "")
            self._clock.tell(f"{at_work}, {len(self._begun) - len(waiting)} of {len(self._begun)} parts explained")
            if self._clock.over:
                self._clock.recall.call()
        for begun in self._begun:
            begun.result()

    def _call_off(self) -> None:
        """Ends whatever is still at work."""
        for begun in self._begun:
            begun.cancel()
        while wait(self._begun, timeout=_BEAT_S).not_done:
            self._clock.recall.call()
