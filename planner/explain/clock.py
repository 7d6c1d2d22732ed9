"""Time that an explanation may take, and how far it is."""

import time
from collections.abc import Callable
from dataclasses import dataclass, field

Tell = Callable[[str], None]


@dataclass(frozen=True, kw_only=True, slots=True)
class Clock:
    """A moment of the monotonic clock by which all is to be done, and whom to tell what is being done."""

    deadline: float
    tell: Tell = field(default=lambda text: None)

    @classmethod
    def of(cls, seconds: float, tell: Tell | None = None) -> "Clock":
        """A clock that stops so many seconds from now."""
        deadline = time.monotonic() + seconds
        return cls(deadline=deadline) if tell is None else cls(deadline=deadline, tell=tell)

    @property
    def left_s(self) -> float:
        """Seconds left, never below zero."""
        return max(self.deadline - time.monotonic(), 0.0)
