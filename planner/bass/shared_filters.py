"""A few peaking filters, the same on every output, that take off what peaks are left in the mean of the seats.

They come after the spread has been made least, and cannot change it: a filter that all subwoofers share
moves every seat alike. They only cut. A dip is left as it is, since a boost would use up headroom, and where
subwoofers cancel it would not even help.

Each filter is the one of all in the ranges below that leaves the mean level of the seats nearest to the
target, in the mean square; then each is chosen again beside the others, until none moves. The target is the
subwoofers' own slope from low corner to crossover, at the height where the mean level mostly lies: so neither
a peak nor a deep dip pulls it to itself.
"""

from dataclasses import dataclass
from functools import lru_cache
from itertools import product
from math import sqrt

import numpy as np

from planner.bass.arrays import Reals
from planner.bass.biquads import peaking, responses

MOST_FILTERS = 3
"""A few broad filters; more would follow one prediction into details that no room has."""

_GAINS_DB = tuple(-0.5 * step for step in range(2, 25))
_QS = (1.0, 1.4, 2.0, 2.8, 4.0, 5.6)
_STEP_HZ = 1.0
_MOST_SWEEPS = 8
_WORTH_DB2 = 0.1
"""A filter that takes no more than this off the mean square is left out."""


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
    """The filters in order of frequency, and the root mean square of the mean level's deviation from its target."""

    filters: tuple[PeakingFilter, ...]
    before_db: float
    after_db: float


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class _Bank:
    """Every filter to choose from, by centre, gain and Q; their levels, (filter, frequency), and mean squares."""

    choices: tuple[tuple[float, float, float], ...]
    level_db: Reals
    square_db2: Reals


def shared_filters(frequency_hz: Reals, mean_level_db: Reals, target_db: Reals, most: int) -> SharedFilters:
    """At most so many filters for a mean level, all three arrays (frequency,)."""
    bank = _bank(tuple(frequency_hz.tolist()))
    above_db = mean_level_db - target_db
    deviation_db = above_db - shorth(above_db)
    chosen: list[int] = []
    left_db2 = [float(_left_db2(deviation_db))]
    for _ in range(min(most, MOST_FILTERS)):
        now = _refined([*chosen, _next(bank, deviation_db, chosen)], bank, deviation_db)
        after_db2 = float(_left_db2(deviation_db + bank.level_db[now].sum(axis=0)))
        if left_db2[-1] - after_db2 < _WORTH_DB2:
            break
        chosen = now
        left_db2.append(after_db2)
    return SharedFilters(
        filters=tuple(
            PeakingFilter(centre_hz=centre, gain_db=gain, q=q)
            for centre, gain, q in sorted((bank.choices[n] for n in chosen), key=lambda choice: choice[0])
        ),
        before_db=sqrt(left_db2[0]),
        after_db=sqrt(left_db2[-1]),
    )


@lru_cache(maxsize=4)
def _bank(frequencies_hz: tuple[float, ...]) -> _Bank:
    frequency_hz = np.array(frequencies_hz)
    centres = np.arange(np.ceil(frequencies_hz[0]), frequencies_hz[-1] + 1e-9, _STEP_HZ)
    choices = tuple((centre, gain, q) for centre, q, gain in product(centres.tolist(), _QS, _GAINS_DB))
    if choices:
        level_db = 20 * np.log10(np.abs(responses([peaking(*choice) for choice in choices], frequency_hz)))
    else:
        level_db = np.empty((0, len(frequency_hz)))
    return _Bank(choices=choices, level_db=level_db, square_db2=_left_db2(level_db))


def _next(bank: _Bank, deviation_db: Reals, others: list[int]) -> int:
    """The filter that goes best with the others: the square of a sum, without what is the same for each."""
    rest_db = deviation_db + bank.level_db[others].sum(axis=0)
    return int((2 * (bank.level_db @ rest_db) / len(rest_db) + bank.square_db2).argmin())


def _refined(chosen: list[int], bank: _Bank, deviation_db: Reals) -> list[int]:
    """Each filter chosen anew beside the others, until none moves."""
    for _ in range(_MOST_SWEEPS if len(chosen) > 1 else 0):
        before = list(chosen)
        for n in range(len(chosen)):
            chosen[n] = _next(bank, deviation_db, [*chosen[:n], *chosen[n + 1 :]])
        if chosen == before:
            break
    return chosen


def _left_db2(deviation_db: Reals) -> Reals:
    """The mean square of each row, (…,)."""
    left: Reals = (deviation_db**2).mean(axis=-1)
    return left


def shorth(values: Reals) -> float:
    """Where most values lie: the mean of the half of them that lie closest together.

    Source: D. F. Andrews et al., Robust Estimates of Location, 1972 (from memory).

    >>> round(shorth(np.array([0.0, 0.2, 0.1, 9.0, -30.0])), 6)
    0.1
    """
    ordered = np.sort(values)
    half = len(values) // 2 + 1
    first = int((ordered[half - 1 :] - ordered[: len(values) - half + 1]).argmin())
    return float(ordered[first : first + half].mean())
