"""A search in a thread of its own, so that the form stays usable while it runs.

What the planner said is kept for the whole process, by the content that it was asked with: a
page that is loaded anew, or an edit undone, has its answer at once.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from threading import Event, Lock, Thread
from time import monotonic
from typing import TYPE_CHECKING

from ui.answers import Question, Verdict, ask, broken

if TYPE_CHECKING:
    from planner.plan import Progress

A_MOMENT_S = 1.5
_LOOK_EVERY_S = 0.1
_MOST_VERDICTS = 32


class Stopped(Exception):
    """Raised within a search that nobody waits for any longer."""


class Search:
    """One question put to the planner, for so many seconds at most."""

    def __init__(self, asked: Question, *, time_limit_s: float) -> None:
        self.asked = asked
        self.progress: Progress | None = None
        self._time_limit_s = time_limit_s
        self._stop = Event()
        self._thread = Thread(target=self._run, name="search", daemon=True)
        self._thread.start()

    @property
    def running(self) -> bool:
        """Whether it is still at work."""
        return self._thread.is_alive()

    def soon_over(self, meanwhile: Callable[[], object]) -> bool:
        """Waits a moment; whether the search ended within it, so that its answer can be shown at once.

        `meanwhile` is called again and again, and may end the waiting by what it raises.
        """
        end = monotonic() + A_MOMENT_S
        while self.running and monotonic() < end:
            self._thread.join(_LOOK_EVERY_S)
            meanwhile()
        return not self.running

    def stop(self) -> None:
        """Has the search end at its next sign of life; its answer is not wanted."""
        self._stop.set()

    def _run(self) -> None:
        try:
            verdict = ask(self.asked, time_limit_s=self._time_limit_s, progress=self._hear)
        except Stopped:
            return
        except Exception as error:  # a thread has nobody above it to tell
            verdict = broken(error)
        VERDICTS.keep(self.asked.key, verdict)

    def _hear(self, progress: "Progress") -> None:
        if self._stop.is_set():
            raise Stopped
        self.progress = progress


@dataclass
class Verdicts:
    """What the planner said, by the key of the question; the oldest is forgotten first."""

    _by_key: dict[str, Verdict] = field(default_factory=dict)
    _lock: Lock = field(default_factory=Lock)

    def keep(self, key: str, verdict: Verdict) -> None:
        """Remembers what the planner said."""
        with self._locked() as by_key:
            by_key.pop(key, None)
            by_key[key] = verdict
            while len(by_key) > _MOST_VERDICTS:
                by_key.pop(next(iter(by_key)))

    def forget(self, key: str) -> None:
        """Has this put to the planner anew."""
        with self._locked() as by_key:
            by_key.pop(key, None)

    def get(self, key: str) -> Verdict | None:
        """What the planner said to this, if it is remembered."""
        with self._locked() as by_key:
            return by_key.get(key)

    def clear(self) -> None:
        """Forgets all."""
        with self._locked() as by_key:
            by_key.clear()

    @contextmanager
    def _locked(self) -> Iterator[dict[str, Verdict]]:
        with self._lock:
            yield self._by_key


VERDICTS = Verdicts()
"""What was said to anyone: the key stands for all that was asked, so no two users can mix."""
