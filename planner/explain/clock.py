"""Time that an explanation may take, how far it is, and whether anybody still wants it."""

import time
from collections.abc import Callable
from dataclasses import dataclass, field

Tell = Callable[[str], None]
Stopped = Callable[[], bool]

_SHARE = 4
"""No question gets more than this part of the time left, so that a hard one leaves the others some."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Clock:
    """A moment of the monotonic clock by which all is to be done, and whom to tell what is being done.

    `stopped` is heard between questions: once it is true, no other is begun.
    """

    deadline: float
    tell: Tell = field(default=lambda text: None)
    stopped: Stopped = field(default=lambda: False)

    @classmethod
    def of(cls, seconds: float, tell: Tell = lambda text: None, stopped: Stopped = lambda: False) -> "Clock":
        """A clock that stops so many seconds from now."""
        return cls(deadline=time.monotonic() + seconds, tell=tell, stopped=stopped)

    @property
    def left_s(self) -> float:
        """Seconds left, never below zero."""
        return max(self.deadline - time.monotonic(), 0.0)

    @property
    def share_s(self) -> float:
        """Seconds that one question of many may take."""
        return self.left_s / _SHARE

    @property
    def over(self) -> bool:
        """Whether there is no time for another question, or nobody wants it."""
        return self.left_s <= 0 or self.stopped()
