"""A few peaking filters, the same on every output, that take off what peaks are left in the mean of the seats.

They come after the spread has been made least, and cannot change it: a filter that all subwoofers share
moves every seat alike. They only cut. A dip is left as it is, since a boost would use up headroom, and where
subwoofers cancel it would not even help.

Each filter is the one of all in the ranges below that leaves the mean level of the seats nearest to the
target, in the mean square; then each is chosen again beside the others, until none moves. The target is the
subwoofers' own slope from low corner to crossover, so high that the mean level lies above it at as many
frequencies as below: a deep dip does not pull it down.
"""

from dataclasses import dataclass
from functools import lru_cache
from itertools import product

import numpy as np

from planner.bass.arrays import Reals
from planner.bass.biquads import peaking

MOST_FILTERS = 3
"""A few broad filters; more would follow one prediction into details that no room has."""

_GAINS_DB = tuple(-0.5 * step for step in range(2, 25))
_QS = (1.0, 1.4, 2.0, 2.8, 4.0, 5.6)
_STEP_HZ = 1.0
_MOST_SWEEPS = 8
_WORTH_DB2 = 0.05
"""A filter that takes off less than this of the mean square deviation is left out."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PeakingFilter:
    """One peaking filter of the RBJ cookbook, by what is typed in."""

    centre_hz: float
    gain_db: float
    q: float

    def response_db(self, frequency_hz: Reals) -> Reals:
        """Its level at each frequency."""
        level: Reals = 20 * np.log10(np.abs(peaking(self.centre_hz, self.gain_db, self.q).response(frequency_hz)))
        return level


@dataclass(frozen=True, kw_only=True, slots=True)
class SharedFilters:
    """The filters in order of frequency, and the deviation of the mean level from its target, root mean square."""

    filters: tuple[PeakingFilter, ...]
    before_db: float
    after_db: float


def shared_filters(frequency_hz: Reals, mean_level_db: Reals, target_db: Reals, most: int) -> SharedFilters:
    """At most so many filters for a mean level, all three arrays (frequency,)."""
    bank, bank_db = _bank(tuple(frequency_hz.tolist()))
    above_db = mean_level_db - target_db
    deviation_db = above_db - np.median(above_db)
    chosen: list[int] = []
    for _ in range(min(most, MOST_FILTERS)):
        now = _refined([*chosen, _next(bank_db, deviation_db, chosen)], bank_db, deviation_db)
        if _left_db2(bank_db, deviation_db, chosen) - _left_db2(bank_db, deviation_db, now) < _WORTH_DB2:
            break
        chosen = now
    return SharedFilters(
        filters=tuple(sorted((bank[n] for n in chosen), key=lambda one: one.centre_hz)),
        before_db=float(np.sqrt(_left_db2(bank_db, deviation_db, []))),
        after_db=float(np.sqrt(_left_db2(bank_db, deviation_db, chosen))),
    )


@lru_cache(maxsize=4)
def _bank(frequencies_hz: tuple[float, ...]) -> tuple[tuple[PeakingFilter, ...], Reals]:
    """Every filter to choose from, and their levels, (filter, frequency)."""
    frequency_hz = np.array(frequencies_hz)
    centres = np.arange(np.ceil(frequencies_hz[0]), frequencies_hz[-1] + 1e-9, _STEP_HZ)
    choices = product(centres.tolist(), _QS, _GAINS_DB)
    bank = tuple(PeakingFilter(centre_hz=centre, gain_db=gain, q=q) for centre, q, gain in choices)
    levels = np.stack([one.response_db(frequency_hz) for one in bank]) if bank else np.empty((0, len(frequency_hz)))
    return bank, levels


def _next(bank_db: Reals, deviation_db: Reals, others: list[int]) -> int:
    """The filter that goes best with the others."""
    left = deviation_db + bank_db[others].sum(axis=0) + bank_db
    return int((left**2).mean(axis=1).argmin())


def _refined(chosen: list[int], bank_db: Reals, deviation_db: Reals) -> list[int]:
    """Each filter chosen anew beside the others, until none moves."""
    for _ in range(_MOST_SWEEPS if len(chosen) > 1 else 0):
        before = list(chosen)
        for n in range(len(chosen)):
            chosen[n] = _next(bank_db, deviation_db, [*chosen[:n], *chosen[n + 1 :]])
        if chosen == before:
            break
    return chosen


def _left_db2(bank_db: Reals, deviation_db: Reals, chosen: list[int]) -> float:
    """The mean square deviation that is left."""
    return float(((deviation_db + bank_db[chosen].sum(axis=0)) ** 2).mean())
