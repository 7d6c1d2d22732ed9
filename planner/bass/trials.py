"""Many settings of the same control groups at once, one trial a row."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planner.bass.arrays import Complexes, Reals, Wholes
from planner.bass.controls import Setting


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Trials:
    """Gains, delays and signs, each (trial, group); a sign of -1 is inverted polarity."""

    gain_db: Reals
    delay_ms: Reals
    sign: Reals

    def __len__(self) -> int:
        return len(self.gain_db)

    def drive(self, frequency_hz: Reals) -> Complexes:
        """The complex factor on each group, (frequency, trial, group)."""
        turn = -2j * np.pi / 1000 * frequency_hz[:, None, None] * self.delay_ms
        drive: Complexes = self.sign * 10 ** (self.gain_db / 20) * np.exp(turn)
        return drive

    def rows(self, chosen: "Wholes | list[int] | slice") -> "Trials":
        """Some of the trials."""
        return Trials(gain_db=self.gain_db[chosen], delay_ms=self.delay_ms[chosen], sign=self.sign[chosen])

    def copied(self) -> "Trials":
        """The same trials, to be changed in place."""
        return Trials(gain_db=self.gain_db.copy(), delay_ms=self.delay_ms.copy(), sign=self.sign.copy())

    def settings(self, row: int) -> tuple[Setting, ...]:
        """One trial as settings, one a group."""
        return tuple(
            Setting(gain_db=round(float(gain), 6) + 0.0, delay_ms=round(float(delay), 6) + 0.0, inverted=bool(sign < 0))
            for gain, delay, sign in zip(self.gain_db[row], self.delay_ms[row], self.sign[row], strict=True)
        )


def trial(settings: Sequence[Setting]) -> Trials:
    """One trial of settings, one a group."""
    return Trials(
        gain_db=np.array([[setting.gain_db for setting in settings]]),
        delay_ms=np.array([[setting.delay_ms for setting in settings]]),
        sign=np.array([[-1.0 if setting.inverted else 1.0 for setting in settings]]),
    )


def stacked(parts: Sequence[Trials]) -> Trials:
    """All trials of several, in order."""
    return Trials(
        gain_db=np.concatenate([part.gain_db for part in parts]),
        delay_ms=np.concatenate([part.delay_ms for part in parts]),
        sign=np.concatenate([part.sign for part in parts]),
    )
