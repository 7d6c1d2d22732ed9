"""Time that an explanation may take, how far it is, and whether anybody still wants it."""

import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace

from planner.allocation.side_by_side import Recall

Tell = Callable[[str], None]
Stopped = Callable[[], bool]


@dataclass(frozen=True, kw_only=True, slots=True)
class Clock:
    """A moment of the monotonic clock by which all is to be done, and whom to tell what is being done.

    No question gets more than its `share` of the time left, so that a hard one leaves the others some.
    Once `stopped` is true no question is begun; `recall` ends those at work.
    """

    deadline: float
    tell: Tell = field(default=lambda text: None)
    stopped: Stopped = field(default=lambda: False)
    share: float = 1.0
    recall: Recall = field(default_factory=Recall)

    @classmethod
    def of(cls, seconds: float, tell: Tell | None = None) -> "Clock":
        """A clock that stops so many seconds from now."""
        deadline = time.monotonic() + seconds
        return cls(deadline=deadline) if tell is None else cls(deadline=deadline, tell=tell)

    def within(self, seconds: float) -> "Clock":
        """The same clock, stopping no later than so many seconds from now."""
        return replace(self, deadline=min(self.deadline, time.monotonic() + seconds))

    @property
    def left_s(self) -> float:
        """Seconds left, never below zero."""
        return max(self.deadline - time.monotonic(), 0.0)

    @property
    def share_s(self) -> float:
        """Seconds that one question may take."""
        return self.left_s * self.share

    @property
    def over(self) -> bool:
        """Whether there is no time for another question, or nobody wants it."""
        return self.left_s <= 0 or self.recall.called or self.stopped()
