"""How the time for the whole set grows with devices, and with feeds: the exponent of a power law.

Devices: the brief of M on markets of which each holds the smaller ones. Feeds: halls that differ in their
arrays and subwoofers, on the market of XL.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import log
from statistics import linear_regression
from typing import Any

from planner.options import Status
from tests.benchmarks.apart import apart
from tests.benchmarks.ours import Asking, Ours
from tests.benchmarks.sizes import HALLS, Case, with_devices, with_feeds

DEVICES = (180, 450, 900, 1800)
FEEDS = tuple(HALLS)


@dataclass(frozen=True, kw_only=True, slots=True)
class Grown:
    """One step: what there is, and our CPU seconds; `words` tell why there are none."""

    devices: int
    feeds: int
    options: int
    cpu_s: float | None
    words: str = ""

    def tree(self) -> dict[str, Any]:
        """As JSON takes it."""
        return {"devices": self.devices, "feeds": self.feeds, "options": self.options, "set_cpu_s": self.cpu_s}


def by_devices(time_limit_s: float) -> Iterator[Grown]:
    """The brief of M on ever larger markets."""
    yield from (_grown(with_devices(devices), time_limit_s) for devices in DEVICES)


def by_feeds(time_limit_s: float) -> Iterator[Grown]:
    """Ever larger halls on one market."""
    yield from (_grown(with_feeds(feeds), time_limit_s) for feeds in FEEDS)


def exponent(sizes: Sequence[int], seconds: Sequence[float | None]) -> float | None:
    """The exponent of the power law through the points, by least squares of the logarithms; None for fewer than two.

    >>> exponent((10, 100), (1.0, 10.0))
    1.0
    """
    points = [(log(size), log(took)) for size, took in zip(sizes, seconds, strict=True) if took is not None]
    if len(points) < 2:
        return None
    xs, ys = zip(*points, strict=True)
    return linear_regression(xs, ys).slope


def _grown(case: Case, time_limit_s: float) -> Grown:
    ours = apart(Asking(time_limit_s=time_limit_s), case, most_s=4 * time_limit_s)
    if not isinstance(ours, Ours):
        return Grown(devices=case.devices, feeds=case.feeds, options=0, cpu_s=None, words=ours)
    settled = ours.status is Status.PROVEN
    return Grown(
        devices=case.devices,
        feeds=case.feeds,
        options=len(ours.measures),
        cpu_s=ours.set.cpu_s if settled else None,
        words="" if settled else f"not within {time_limit_s:.0f} s",
    )
