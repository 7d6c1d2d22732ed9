"""What the search for settings works on: a field, its control groups, and what a setting costs.

The aim is the mean spatial variance. It alone would be content with subwoofers that all but cancel, evenly
and everywhere; so the level may fall only so far. The level is the mean output level at the point where the
first subwoofer reaches its limit: with equal subwoofers, the mean level with the loudest group at 0 dB. Its
loss is counted against the same subwoofers all alike, on one signal.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planner.bass.arrays import Complexes, Reals
from planner.bass.bass_field import BassField
from planner.bass.controls import ControlGroup
from planner.bass.spread import seat_mean_db, spatial_variance_db2
from planner.bass.trials import Trials

MOST_LOSS_DB = 3.0
"""How much of the level may be given up: 3 dB is half the power. Common practice, no published source."""

PENALTY_PER_DB2 = 4.0
"""What a loss beyond the most counts, while the search is under way; the end result keeps to the most."""

LOSS_HAIR_DB = 1e-9
"""A loss that is over the most by no more than this is at the most."""

SILENCE = 1e-15
"""Less pressure than this is taken for this: two subwoofers can cancel to nothing, and a level must stay a number."""


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Appraisal:
    """What each trial comes to, both (trial,): the mean spatial variance, and the loss of level."""

    variance_db2: Reals
    loss_db: Reals

    def cost(self, most_loss_db: float, penalty_per_db2: float = PENALTY_PER_DB2) -> Reals:
        """The figure to make least: variance, and a penalty on loss beyond the most."""
        cost: Reals = self.variance_db2 + penalty_per_db2 * np.maximum(0, self.loss_db - most_loss_db) ** 2
        return cost

    def strict_cost(self, most_loss_db: float) -> Reals:
        """The same with loss beyond the most all but forbidden, and no penalty at the most itself."""
        over = np.maximum(0, self.loss_db - most_loss_db - LOSS_HAIR_DB)
        cost: Reals = self.variance_db2 + 1e6 * over
        return cost


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Task:
    """A field whose subwoofers are added up in their groups.

    Attributes:
        frequency_hz: (frequency,).
        pressure: complex, (frequency, group, seat).
        seat_weight: (seat,).
        headroom_db: of the group's weakest subwoofer, over the weakest of all, (group,).
        reference_db: the mean level of all these subwoofers alike, on one signal.
        groups: what each group is, and the range of its controls.
        most_loss_db: how much of that level may be given up.
    """

    frequency_hz: Reals
    pressure: Complexes
    seat_weight: Reals
    headroom_db: Reals
    reference_db: float
    groups: tuple[ControlGroup, ...]
    most_loss_db: float

    def levels_db(self, trials: Trials) -> Reals:
        """(frequency, trial, seat)."""
        return decibels(np.matmul(trials.drive(self.frequency_hz), self.pressure))

    def appraise(self, trials: Trials) -> Appraisal:
        """Variance and loss of each trial."""
        level_db = self.levels_db(trials)
        return Appraisal(
            variance_db2=spatial_variance_db2(level_db, self.seat_weight).mean(axis=0),
            loss_db=self.loss_db(seat_mean_db(level_db, self.seat_weight).mean(axis=0), trials.gain_db),
        )

    def loss_db(self, mean_level_db: Reals, gain_db: Reals) -> Reals:
        """The loss of level of trials with these mean levels (trial,) and gains (trial, group)."""
        loss: Reals = self.reference_db - mean_level_db - (self.headroom_db - gain_db).min(axis=1)
        return loss

    def thinned(self, step: int) -> "Task":
        """The same with only every so manyth frequency, for a first look."""
        pressure = np.ascontiguousarray(self.pressure[::step])
        return Task(
            frequency_hz=self.frequency_hz[::step],
            pressure=pressure,
            seat_weight=self.seat_weight,
            headroom_db=self.headroom_db,
            reference_db=_mean_level_db(pressure, self.seat_weight),
            groups=self.groups,
            most_loss_db=self.most_loss_db,
        )


def task(field: BassField, groups: Sequence[ControlGroup], most_loss_db: float = MOST_LOSS_DB) -> Task:
    """The subwoofers of these groups, added up in them; others of the field are silent."""
    members = [list(group.members) for group in groups]
    together = np.stack([field.pressure[:, one].sum(axis=1) for one in members], axis=1)
    turn = -2j * np.pi / 1000 * field.frequency_hz[:, None] * np.array([group.late_ms for group in groups])
    headroom_db = np.array([field.headroom_db[one].min() for one in members])
    return Task(
        frequency_hz=field.frequency_hz,
        pressure=together * np.exp(turn)[:, :, None],
        seat_weight=field.seat_weight,
        headroom_db=headroom_db - headroom_db.min(),
        reference_db=_mean_level_db(together, field.seat_weight),
        groups=tuple(groups),
        most_loss_db=most_loss_db,
    )


def decibels(pressure: Complexes) -> Reals:
    """Levels of pressure ratios; silence is shown as -300 dB."""
    power = pressure.real**2 + pressure.imag**2  # a square root would only be undone by the logarithm
    level_db: Reals = 10 * np.log10(np.maximum(power, SILENCE**2))
    return level_db


def _mean_level_db(pressure: Complexes, seat_weight: Reals) -> float:
    return float(seat_mean_db(decibels(pressure.sum(axis=1)), seat_weight).mean())
