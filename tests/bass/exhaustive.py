"""Every setting of two groups, one after another: what the search must not be beaten by."""

import numpy as np

from planner.bass.arrays import Reals
from planner.bass.bass_field import BassField
from planner.bass.controls import ControlRange


def least_variance_of_two(field: BassField, control: ControlRange, most_loss_db: float) -> float:
    """The least mean spatial variance of two subwoofers over all steps of their relative setting.

    Only differences matter, so one of the two stays at 0 dB and 0 ms, and the other takes every setting; then the other
    way round. Settings that lose more level than allowed don't count. For equal subwoofers.
    """
    gains = np.arange(0, control.least_gain_db - 1e-9, -control.gain_step_db)
    delays = np.arange(0, control.most_delay_ms + 1e-9, control.delay_step_ms)
    together = _levels_db(field.pressure.sum(axis=1))
    reference = float((together @ field.seat_weight).mean())
    return min(
        _least(field, held, gain, late, sign, delays, reference - most_loss_db)
        for held in (0, 1)
        for gain in gains
        for late in (0, 1)
        for sign in (1.0, -1.0)
    )


def _least(
    field: BassField, held: int, gain_db: float, late: int, sign: float, delays_ms: Reals, least_level_db: float
) -> float:
    """`held` stays at 0 dB while the other is turned down; `late` is delayed."""
    turn = np.exp(-2j * np.pi * field.frequency_hz[:, None] * delays_ms / 1000)
    factor = [np.ones_like(turn), np.ones_like(turn)]
    factor[late] = turn
    factor[1 - held] = factor[1 - held] * sign * 10 ** (gain_db / 20)
    pressure = sum(factor[n][:, :, None] * field.pressure[:, n, None] for n in (0, 1))
    level = _levels_db(np.asarray(pressure))
    mean = level @ field.seat_weight
    variance = ((level - mean[..., None]) ** 2 @ field.seat_weight).mean(axis=0)
    return float(np.where(mean.mean(axis=0) >= least_level_db - 1e-9, variance, np.inf).min())


def _levels_db(pressure: Reals) -> Reals:
    levels: Reals = 20 * np.log10(np.maximum(np.abs(pressure), 1e-15))
    return levels
