"""Seconds by the clock, CPU seconds of this process, and the most memory that it has held."""

import resource
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

LONG_ENOUGH_S = 3600.0
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Took:
    """Seconds by the clock, and CPU seconds, all threads together."""

    clock_s: float
    cpu_s: float


def timed(work: Callable[[], T]) -> tuple[Took, T]:
    """What a piece of work took, and what came of it."""
    clock, cpu = time.perf_counter(), time.process_time()
    result = work()
    return Took(time.perf_counter() - clock, time.process_time() - cpu), result


def most_memory_mb() -> float:
    """The largest resident size of this process so far, in megabytes (Linux counts it in kB)."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000
