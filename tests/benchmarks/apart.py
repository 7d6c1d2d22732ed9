"""A piece of work in a process of its own, so that it starts from nothing, and ends where it takes too long."""

from collections.abc import Callable
from typing import TypeVar

from planner.batch.processes import Died, Overdue, worked

Task = TypeVar("Task")
Answer = TypeVar("Answer")


def apart(work: Callable[[Task], Answer], task: Task, *, most_s: float) -> Answer | str:
    """What came of it, or in words why nothing did."""
    for _, ending in worked([task], work, processes=1, most_s=most_s):
        match ending:
            case Died(how):
                return how
            case Overdue():
                return f"not within {most_s:.0f} s"
            case answer:
                return answer
    raise AssertionError("one task has one ending")
