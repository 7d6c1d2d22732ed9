"""A wide search over a coarse lattice: one group after another, every coarse setting of it tried.

The cost has very many local minima, since a delay of a whole period does almost the same as none. Downhill
steps alone end in the nearest; so each group in turn is put to the best setting of a lattice, all
the others held, until none moves. With z = conj(rest) × own, the squared pressure at a seat is

    |rest|² + |c|² |own|² + 2 Re(z c)

for every factor c of the lattice, which is one matrix product; single precision is enough for a first look.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from planner.bass.arrays import Reals
from planner.bass.controls import ControlRange
from planner.bass.task import PENALTY_PER_DB2, Task
from planner.bass.trials import Trials

_GAINS_DB = (0.0, -4.0, -10.0)
_DELAYS_PER_PERIOD = 12
_SWEEPS = 6
_MOVED = 1e-3
_TEN_OVER_LN10 = np.float32(10 / np.log(10))
_SILENCE = np.float32(1e-30)

Singles = NDArray[np.float32]


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Lattice:
    """The coarse settings of one group, each (point,), and what the search multiplies with.

    `basis` is 1, |c|², 2 Re c and -2 Im c, (frequency, 4, point).
    """

    gain_db: Reals
    delay_ms: Reals
    sign: Reals
    basis: Singles


@lru_cache(maxsize=16)
def lattice(frequencies_hz: tuple[float, ...], control: ControlRange) -> Lattice:
    """The lattice within a range, its delays twelve to a period of the highest frequency."""
    frequency_hz = np.array(frequencies_hz)
    steps = int(np.ceil(control.most_delay_ms / 1000 * max(frequencies_hz) * _DELAYS_PER_PERIOD))
    gains = np.array([gain for gain in _GAINS_DB if gain >= control.least_gain_db])
    delays = np.linspace(0, control.most_delay_ms, steps + 1)
    signs = np.array([1.0, -1.0]) if control.polarity else np.array([1.0])
    gain_db, delay_ms, sign = (grid.ravel() for grid in np.meshgrid(gains, delays, signs, indexing="ij"))
    factor = Trials(gain_db=gain_db[None], delay_ms=delay_ms[None], sign=sign[None]).drive(frequency_hz)[:, 0]
    basis = np.stack([np.ones(factor.shape), np.abs(factor) ** 2, 2 * factor.real, -2 * factor.imag], axis=1)
    return Lattice(gain_db=gain_db, delay_ms=delay_ms, sign=sign, basis=basis.astype(np.float32))


def scan(
    task: Task, trials: Trials, movable: tuple[int, ...] | None = None, sweeps: int = _SWEEPS
) -> tuple[Trials, Reals]:
    """Each trial moved to where no one group finds a better coarse setting, and its cost, (trial,).

    `movable`: the groups that may move; None: all. `sweeps`: how often each may, at most.
    """
    now = trials.copied()
    cost = np.full(len(now), np.inf)
    frequencies_hz = tuple(task.frequency_hz.tolist())
    lattices = {one.range: lattice(frequencies_hz, one.range) for one in task.groups}
    moving = np.arange(len(now))
    for _ in range(sweeps):
        before = cost[moving]
        for group in range(len(task.groups)) if movable is None else movable:
            grid = lattices[task.groups[group].range]
            costs = _costs(task, now.rows(moving), group, grid)
            found = costs.argmin(axis=1)
            found_cost = costs[np.arange(len(moving)), found]
            better = found_cost < cost[moving] - _MOVED
            movers, there = moving[better], found[better]
            now.gain_db[movers, group] = grid.gain_db[there]
            now.delay_ms[movers, group] = grid.delay_ms[there]
            now.sign[movers, group] = grid.sign[there]
            cost[movers] = found_cost[better]
        moving = moving[cost[moving] < before]
        if not len(moving):
            break
    return now, cost


def basins(task: Task, rest: Trials, group: int, count: int) -> Trials:
    """The best lattice points of one group, all others as in the one trial `rest`: one for each dip along its delay.

    With two groups, the other at 0 dB and 0 ms, that is all there is to search, since only what differs between
    them matters.
    """
    control = task.groups[group].range
    grid = lattice(tuple(task.frequency_hz.tolist()), control)
    costs = _costs(task, rest, group, grid)[0]
    by_delay = costs.reshape(len(np.unique(grid.gain_db)), -1, 2 if control.polarity else 1)
    padded = np.pad(by_delay, ((0, 0), (1, 1), (0, 0)), constant_values=np.inf)
    dips = (by_delay <= padded[:, :-2]) & (by_delay <= padded[:, 2:])
    order = np.argsort(np.where(dips.ravel(), costs, np.inf), kind="stable")[: min(count, int(dips.sum()))]
    found = rest.rows([0] * len(order))
    found.gain_db[:, group] = grid.gain_db[order]
    found.delay_ms[:, group] = grid.delay_ms[order]
    found.sign[:, group] = grid.sign[order]
    return found


def _costs(task: Task, trials: Trials, group: int, grid: Lattice) -> Reals:
    """The cost of each lattice point for one group of each trial, the others held, (trial, point)."""
    level = _log_power(task, trials, group, grid)
    weight = task.seat_weight.astype(np.float32)[None, :]
    mean = (weight @ level)[:, :, 0]
    np.square(level, out=level)
    variance = ((weight @ level)[:, :, 0] - mean**2).mean(axis=0) * _TEN_OVER_LN10**2
    loss_db = _loss_db(task, trials, group, grid, mean.mean(axis=0) * _TEN_OVER_LN10)
    cost: Reals = variance.astype(np.float64) + PENALTY_PER_DB2 * np.maximum(0, loss_db - task.most_loss_db) ** 2
    return cost


def _log_power(task: Task, trials: Trials, group: int, grid: Lattice) -> Singles:
    """ln |pressure|² for each lattice point of one group, (frequency, trial, seat, point)."""
    drive = trials.drive(task.frequency_hz)
    drive[:, :, group] = 0
    rest = np.matmul(drive, task.pressure)
    own = np.broadcast_to(task.pressure[:, None, group], rest.shape)
    cross = rest.conj() * own
    terms = np.stack([np.abs(rest) ** 2, np.abs(own) ** 2, cross.real, cross.imag], axis=-1).astype(np.float32)
    frequencies, count, seats, _ = terms.shape
    power = terms.reshape(frequencies, count * seats, 4) @ grid.basis
    np.maximum(power, _SILENCE, out=power)
    np.log(power, out=power)
    return power.reshape(frequencies, count, seats, -1)


def _loss_db(task: Task, trials: Trials, group: int, grid: Lattice, mean_level_db: Reals) -> Reals:
    """The loss of level at each point, (trial, point)."""
    room = task.headroom_db - trials.gain_db
    room[:, group] = np.inf
    least = np.minimum(room.min(axis=1)[:, None], task.headroom_db[group] - grid.gain_db[None])
    loss: Reals = task.reference_db - mean_level_db - least
    return loss
