"""Work in several processes, each apart: one that dies or hangs costs its own task and no other.

Processes are started afresh (never copied), so none inherits locks or threads. They end with the
process that started them, however that one ends.
"""

import contextlib
import os
import signal
import time
from collections import deque
from collections.abc import Callable, Generator, Iterable
from dataclasses import dataclass
from multiprocessing import get_context, parent_process
from multiprocessing.connection import Connection, wait
from threading import Thread
from typing import Generic, TypeVar

Task = TypeVar("Task")
Answer = TypeVar("Answer")

_SPAWN = get_context("spawn")


@dataclass(frozen=True, slots=True)
class Died:
    """The process ended in the midst of a task; `how` in words."""

    how: str


@dataclass(frozen=True, slots=True)
class Overdue:
    """The process was ended because its task took longer than any may."""


def usable_cores() -> int:
    """The cores that this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def worked(
    tasks: Iterable[Task], work: Callable[[Task], Answer], *, processes: int, most_s: float
) -> Generator[tuple[Task, Answer | Died | Overdue], None, None]:
    """Each task with what became of it, as they end. No task may take longer than `most_s` seconds.

    `work`, tasks and answers are sent from process to process; `work` ought to raise nothing. Whoever
    stops asking for more, or is interrupted, ends all processes.
    """
    waiting = deque(tasks)
    hands = [_Hand(work, waiting.popleft(), most_s) for _ in range(min(processes, len(waiting)))]
    try:
        while hands:
            for hand in _ended(hands):
                task, ending = hand.task, hand.ending()
                if not waiting:
                    hand.dismiss()
                    hands.remove(hand)
                elif isinstance(ending, (Died, Overdue)):
                    hand.dismiss()
                    hands[hands.index(hand)] = _Hand(work, waiting.popleft(), most_s)
                else:
                    hand.take(waiting.popleft())
                yield task, ending
    finally:
        for hand in hands:
            hand.dismiss()


class _Hand(Generic[Task, Answer]):
    """One process, and the task that it is at."""

    def __init__(self, work: Callable[[Task], Answer], task: Task, most_s: float) -> None:
        self.connection, theirs = _SPAWN.Pipe()
        self._process = _SPAWN.Process(target=_serve, args=(theirs, work), daemon=True)
        self._process.start()
        theirs.close()
        self._most_s = most_s
        self.take(task)

    def take(self, task: Task) -> None:
        """Sets the process to a task."""
        self.task = task
        self.until = time.monotonic() + self._most_s
        with contextlib.suppress(OSError):  # it has died already, which its ending will tell
            self.connection.send(task)

    def ending(self) -> Answer | Died | Overdue:
        """What became of the task, which has ended or is overdue."""
        try:
            if not self.connection.poll():
                return Overdue()
            answer: Answer = self.connection.recv()
        except (EOFError, OSError):
            self._process.join()
            return Died(_how(self._process.exitcode))
        return answer

    def dismiss(self) -> None:
        """Ends the process, at once and whatever it does."""
        self.connection.close()
        self._process.kill()
        self._process.join()


def _ended(hands: list[_Hand[Task, Answer]]) -> list[_Hand[Task, Answer]]:
    """Waits until one or more have ended their task, or are overdue."""
    seconds = min(hand.until for hand in hands) - time.monotonic()
    ready = wait([hand.connection for hand in hands], timeout=max(0.0, seconds))
    now = time.monotonic()
    return [hand for hand in hands if hand.connection in ready or hand.until <= now]


def _how(exit_code: int | None) -> str:
    """How a process ended: by a signal, as POSIX counts them below zero, or by itself."""
    if exit_code is None or exit_code >= 0:
        return f"its process ended with status {exit_code}"
    with contextlib.suppress(ValueError):
        return f"its process was ended by {signal.Signals(-exit_code).name}"
    return f"its process was ended by signal {-exit_code}"


def _serve(connection: Connection, work: Callable[[Task], Answer]) -> None:
    """Runs in the process: one task after another, until nobody sends any more."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # a terminal sends it to all; the one that started us decides
    Thread(target=_end_with_parent, daemon=True).start()
    with contextlib.suppress(EOFError, OSError):
        while True:
            connection.send(work(connection.recv()))


def _end_with_parent() -> None:
    parent = parent_process()
    if parent is not None:
        wait([parent.sentinel])
        os._exit(1)
