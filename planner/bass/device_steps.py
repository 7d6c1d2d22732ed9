"""Settings as a device can be set: brought to its steps, then checked against their neighbours."""

import numpy as np

from planner.bass.arrays import Reals
from planner.bass.task import Task
from planner.bass.trials import Trials

_REACH = 2
_MOST_SWEEPS = 50
_MOVED = 1e-9


def snapped(task: Task, trials: Trials) -> Trials:
    """The trials with the loudest group at 0 dB, the earliest at 0 ms, and all on the devices' steps.

    A common gain, delay or inversion of all groups changes no difference between seats.
    """
    ranges = [group.range for group in task.groups]
    gain_step = np.array([one.gain_step_db for one in ranges])
    delay_step = np.array([one.delay_step_ms for one in ranges])
    least_gain = np.array([one.least_gain_db for one in ranges])
    most_delay = np.array([one.most_delay_ms for one in ranges])
    gain_db = trials.gain_db - trials.gain_db.max(axis=1, keepdims=True)
    delay_ms = trials.delay_ms - trials.delay_ms.min(axis=1, keepdims=True)
    sign = trials.sign * (trials.sign[:, :1] if all(one.polarity for one in ranges) else 1.0)
    return Trials(
        gain_db=np.maximum(np.round(gain_db / gain_step) * gain_step, least_gain),
        delay_ms=np.minimum(np.round(delay_ms / delay_step) * delay_step, most_delay),
        sign=sign,
    )


def settled(task: Task, trials: Trials) -> Trials:
    """One trial on the steps, moved to a neighbour for as long as a neighbour is better.

    Neighbours are all settings of one group within two steps of gain and of delay, and the same inverted.
    The level may not fall further than allowed.
    """
    cost = float(_strict_cost(task, trials)[0])
    for _ in range(_MOST_SWEEPS):
        before = cost
        for group in range(len(task.groups)):
            neighbours = _neighbours(task, trials, group)
            costs = _strict_cost(task, neighbours)
            best = int(costs.argmin())
            if costs[best] < cost:
                trials, cost = neighbours.rows([best]), float(costs[best])
        if cost >= before - _MOVED:
            break
    return snapped(task, trials)


def _strict_cost(task: Task, trials: Trials) -> Reals:
    return task.appraise(trials).strict_cost(task.most_loss_db)


def _neighbours(task: Task, trials: Trials, group: int) -> Trials:
    """The trial with one group at each of its neighbours, its own place among them."""
    control = task.groups[group].range
    steps = np.arange(-_REACH, _REACH + 1)
    gains, delays = (moves.ravel() for moves in np.meshgrid(steps, steps, indexing="ij"))
    inverted = int(control.polarity)
    count = len(gains) + inverted
    gain_db, delay_ms, sign = (np.repeat(one, count, axis=0) for one in (trials.gain_db, trials.delay_ms, trials.sign))
    gain_db[: len(gains), group] += gains * control.gain_step_db
    delay_ms[: len(gains), group] += delays * control.delay_step_ms
    sign[len(gains) :, group] *= -1
    np.clip(gain_db[:, group], control.least_gain_db, 0, out=gain_db[:, group])
    np.clip(delay_ms[:, group], 0, control.most_delay_ms, out=delay_ms[:, group])
    return Trials(gain_db=gain_db, delay_ms=delay_ms, sign=sign)
