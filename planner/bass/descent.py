"""Downhill from many trials at once, with analytic gradients.

The cost is a sum of squares: the weighted differences between each level and its seat mean, and the loss
beyond the most. So each trial takes Gauss-Newton steps, damped as Levenberg and Marquardt do, and held
within the ranges: a control at the end of its range that would go beyond it stays where it is.

With u = Σ c_g H_g the pressure at a seat, c_g = ± 10^(a/20) exp(-jωτ), and q = c_g H_g / u, the level has

    dL/da = Re q          (dB per dB)
    dL/dτ = (20/ln 10) ω Im q

Source: K. Levenberg, Quarterly of Applied Mathematics 2, 1944; D. W. Marquardt, Journal of the SIAM 11,
1963 (from memory).
"""

import math
from dataclasses import dataclass

import numpy as np

from planner.bass.arrays import Complexes, Reals, Truths
from planner.bass.task import PENALTY_PER_DB2, SILENCE, Task, decibels
from planner.bass.trials import Trials

_STEPS = 30
_FIRST_DAMPING, _LEAST_DAMPING, _MOST_DAMPING = 1e-2, 1e-7, 1e5
_EASIER, _HARDER = 0.2, 4.0
# A trial has arrived when so many steps gain less than this part of its cost, or even the shortest gain nothing.
_PATIENCE, _ARRIVED = 3, 1e-5


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Slope:
    """Half the cost's gradient (trial, control) and its Gauss-Newton matrix (trial, control, control)."""

    gradient: Reals
    normal: Reals

    def rows(self, kept: Truths) -> "Slope":
        """That of some of the trials."""
        return Slope(gradient=self.gradient[kept], normal=self.normal[kept])

    def renewed(self, moved: Truths, there: "Slope") -> "Slope":
        """With that of the trials that have moved as it is where they are now."""
        gradient, normal = self.gradient.copy(), self.normal.copy()
        gradient[moved], normal[moved] = there.gradient, there.normal
        return Slope(gradient=gradient, normal=normal)


def descend(task: Task, trials: Trials, steps: int = _STEPS, arrived: float = _ARRIVED) -> Trials:
    """Each trial's nearest best gains and delays. Polarities stay; no trial gets worse.

    One whose steps gain no more than `arrived` of its cost, several in a row, is left where it is.
    """
    low, high = _bounds(task)
    at = np.concatenate([trials.gain_db, trials.delay_ms], axis=1)
    cost = _cost(task, trials)
    damping = np.full(len(trials), _FIRST_DAMPING)
    resting = np.zeros(len(trials))
    moving = np.arange(len(trials))
    downhill = slope(task, trials)
    for _ in range(steps):
        step = _damped_step(downhill, damping[moving], _free(at[moving], downhill.gradient, low, high))
        tried = np.clip(at[moving] + step, low, high)
        tried_cost = _cost(task, _trials(tried, trials.sign[moving]))
        better = tried_cost < cost[moving]
        gains_much = better & (cost[moving] - tried_cost > arrived * cost[moving])
        tried_all = damping[moving] >= _MOST_DAMPING
        resting[moving] = np.where(gains_much, 0, resting[moving] + (better | tried_all))
        at[moving] = np.where(better[:, None], tried, at[moving])
        cost[moving] = np.where(better, tried_cost, cost[moving])
        eased = damping[moving] * np.where(better, _EASIER, _HARDER)
        damping[moving] = np.clip(eased, _LEAST_DAMPING, _MOST_DAMPING)
        still_moving = resting[moving] < _PATIENCE
        if not still_moving.any():
            break
        moving = moving[still_moving]
        downhill = downhill.rows(still_moving)
        moved = better[still_moving]
        if moved.any():
            downhill = downhill.renewed(moved, slope(task, _trials(at, trials.sign).rows(moving[moved])))
    return _trials(at, trials.sign)


def slope(task: Task, trials: Trials) -> Slope:
    """How the cost of each trial changes with each control: all gains per dB, then all delays per ms."""
    drive = trials.drive(task.frequency_hz)
    pressure = np.matmul(drive, task.pressure)
    level_db = decibels(pressure)
    mean_db = level_db @ task.seat_weight
    root_weight = np.sqrt(task.seat_weight / len(task.frequency_hz))
    residual = _rows((level_db - mean_db[..., None])[:, :, None] * root_weight)

    share = drive[..., None] * task.pressure[:, None] * (1 / _heard(pressure))[:, :, None]
    per_ms = 20 / math.log(10) * 2 * np.pi / 1000 * task.frequency_hz
    by_control = np.concatenate([share.real, share.imag * per_ms[:, None, None, None]], axis=2)
    mean_by_control = by_control @ task.seat_weight
    jacobian = _rows((by_control - mean_by_control[..., None]) * root_weight)

    normal = jacobian @ jacobian.transpose(0, 2, 1)
    gradient = (jacobian @ residual.transpose(0, 2, 1))[:, :, 0]
    over = np.maximum(0, task.loss_db(mean_db.mean(axis=0), trials.gain_db) - task.most_loss_db)
    of_loss = _loss_by_control(task, trials, mean_by_control) * (over > 0)[:, None]
    return Slope(
        gradient=gradient + PENALTY_PER_DB2 * over[:, None] * of_loss,
        normal=normal + PENALTY_PER_DB2 * of_loss[:, :, None] * of_loss[:, None, :],
    )


def _bounds(task: Task) -> tuple[Reals, Reals]:
    """Least and greatest of the gains, then of the delays, each (2 × group,)."""
    ranges = [group.range for group in task.groups]
    low = [one.least_gain_db for one in ranges] + [0.0 for _ in ranges]
    high = [0.0 for _ in ranges] + [one.most_delay_ms for one in ranges]
    return np.array(low), np.array(high)


def _trials(at: Reals, sign: Reals) -> Trials:
    groups = sign.shape[1]
    return Trials(gain_db=at[:, :groups], delay_ms=at[:, groups:], sign=sign)


def _cost(task: Task, trials: Trials) -> Reals:
    return task.appraise(trials).cost(task.most_loss_db)


def _free(at: Reals, gradient: Reals, low: Reals, high: Reals) -> Reals:
    """1 where a control may move downhill, 0 where it stands against the end of its range."""
    held = ((at <= low) & (gradient > 0)) | ((at >= high) & (gradient < 0)) | (low >= high)
    return np.where(held, 0.0, 1.0)


def _damped_step(at: Slope, damping: Reals, free: Reals) -> Reals:
    diagonal = np.einsum("bii->bi", at.normal)
    added = np.where(free > 0, damping[:, None] * (diagonal + 1e-3), 1.0)
    matrix = at.normal * free[:, :, None] * free[:, None, :] + added[:, :, None] * np.eye(added.shape[1])
    step: Reals = np.linalg.solve(matrix, -(at.gradient * free)[:, :, None])[:, :, 0].astype(np.float64)
    return step


def _heard(pressure: Complexes) -> Complexes:
    """The pressure, or where the groups cancel to nothing, next to nothing."""
    return np.where(np.abs(pressure) > SILENCE, pressure, SILENCE)


def _rows(by_frequency: Reals) -> Reals:
    """(frequency, trial, control, seat) as (trial, control, frequency × seat)."""
    _, trials, controls, _ = by_frequency.shape
    rows: Reals = by_frequency.transpose(1, 2, 0, 3).reshape(trials, controls, -1)
    return rows


def _loss_by_control(task: Task, trials: Trials, mean_by_control: Reals) -> Reals:
    """The loss falls as the mean level rises, and rises with the gain that uses up the headroom first."""
    by_control: Reals = -mean_by_control.mean(axis=0)
    first = (task.headroom_db - trials.gain_db).argmin(axis=1)
    by_control[np.arange(len(trials)), first] += 1
    return by_control
