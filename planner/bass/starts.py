"""Starting points for the search, spread evenly over the ranges and the same on every machine."""

import numpy as np

from planner.bass.task import Task
from planner.bass.trials import Trials


def spread_out(task: Task, count: int) -> Trials:
    """So many starting points within the ranges of the task's groups.

    Source: M. Roberts, The Unreasonable Effectiveness of Quasirandom Sequences, 2018 (from memory): steps
    of 1/φ, 1/φ², …, modulo 1, where φ^(d+1) = φ + 1 for d dimensions.
    """
    groups = len(task.groups)
    steps = _plastic(3 * groups) ** -np.arange(1.0, 3 * groups + 1)
    points = (0.5 + np.outer(np.arange(1, count + 1), steps)) % 1
    gain, delay, sign = np.split(points, 3, axis=1)
    ranges = [group.range for group in task.groups]
    return Trials(
        gain_db=gain * np.array([one.least_gain_db for one in ranges]),
        delay_ms=delay * np.array([one.most_delay_ms for one in ranges]),
        sign=np.where((sign < 0.5) & np.array([one.polarity for one in ranges]), -1.0, 1.0),
    )


def _plastic(dimensions: int) -> float:
    """The root of φ^(d+1) = φ + 1, by iteration."""
    phi = 2.0
    for _ in range(64):
        phi = (1 + phi) ** (1 / (dimensions + 1))
    return phi
