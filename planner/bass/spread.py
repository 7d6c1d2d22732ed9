"""How evenly the bass is spread over the seats.

Levels are dB, arrays (…, frequency, seat). Weights are (seat,) and add up to 1; with equal weights
every figure is the plain one.

The mean spatial variance is that of T. Welti and A. Devantier, Low-Frequency Optimization Using
Multiple Subwoofers, Journal of the Audio Engineering Society 54(5), 2006. Whether they divide by the number
of seats S or by S - 1 could not be read at first hand: the figure used here divides by S, and the other stands
beside it.
"""

import math
from dataclasses import dataclass

import numpy as np

from planner.bass.arrays import Reals


@dataclass(frozen=True, kw_only=True, slots=True)
class Spread:
    """One figure each over a band and all seats.

    Attributes:
        mean_spatial_variance_db2: mean over frequency of the variance over seats, divisor S.
        sample_variance_db2: the same with divisor S - 1; None for a single seat.
        spread_db: the root of `mean_spatial_variance_db2`: the figure that is made least.
        mean_deviation_db: mean over frequency of the standard deviation over seats, divisor S.
        max_minus_min_db: mean over frequency of loudest less softest seat, whatever the weights.
        mean_level_db: mean output level: the mean of all levels.
    """

    mean_spatial_variance_db2: float
    sample_variance_db2: float | None
    spread_db: float
    mean_deviation_db: float
    max_minus_min_db: float
    mean_level_db: float


@dataclass(frozen=True, kw_only=True, slots=True)
class FrequencySpread:
    """The same at one frequency: mean level, standard deviation (divisor S), loudest less softest."""

    frequency_hz: float
    mean_level_db: float
    deviation_db: float
    max_minus_min_db: float


@dataclass(frozen=True, kw_only=True, slots=True)
class SeatSpread:
    """One seat over the band, against the mean of all seats at each frequency.

    `mean_difference_db`: louder or softer than the seats on the whole. `deviation_db`: the root of
    the mean square of the difference. `max_minus_min_db`: peak to dip of its own response, which is
    `level_db`, one a frequency.
    """

    seat: str
    level_db: tuple[float, ...]
    mean_level_db: float
    mean_difference_db: float
    deviation_db: float
    max_minus_min_db: float


def equal_weights(seats: int) -> Reals:
    """The weights of seats that count alike."""
    return np.full(seats, 1 / seats)


def seat_mean_db(level_db: Reals, weight: Reals) -> Reals:
    """The mean over seats at each frequency, (…, frequency)."""
    mean: Reals = level_db @ weight
    return mean


def spatial_variance_db2(level_db: Reals, weight: Reals) -> Reals:
    """The variance over seats at each frequency, divisor S, (…, frequency)."""
    difference = level_db - seat_mean_db(level_db, weight)[..., None]
    variance: Reals = difference**2 @ weight
    return variance


def spread(level_db: Reals, weight: Reals) -> Spread:
    """Every figure of levels (frequency, seat).

    With unequal weights the divisor S - 1 becomes the usual one for weighted samples, 1 - Σ w².
    """
    variance = spatial_variance_db2(level_db, weight)
    mean_variance = float(variance.mean())
    freedom = 1 - float(weight @ weight)
    return Spread(
        mean_spatial_variance_db2=mean_variance,
        sample_variance_db2=mean_variance / freedom if len(weight) > 1 else None,
        spread_db=math.sqrt(mean_variance),
        mean_deviation_db=float(np.sqrt(variance).mean()),
        max_minus_min_db=float(np.ptp(level_db, axis=1).mean()),
        mean_level_db=float(seat_mean_db(level_db, weight).mean()),
    )


def by_frequency(level_db: Reals, weight: Reals, frequency_hz: Reals) -> tuple[FrequencySpread, ...]:
    """The figures at each frequency of levels (frequency, seat)."""
    columns = (
        frequency_hz,
        seat_mean_db(level_db, weight),
        np.sqrt(spatial_variance_db2(level_db, weight)),
        np.ptp(level_db, axis=1),
    )
    return tuple(
        FrequencySpread(
            frequency_hz=float(hz), mean_level_db=float(mean), deviation_db=float(std), max_minus_min_db=float(extent)
        )
        for hz, mean, std, extent in zip(*columns, strict=True)
    )


def by_seat(level_db: Reals, weight: Reals, names: tuple[str, ...]) -> tuple[SeatSpread, ...]:
    """The figures of each seat of levels (frequency, seat)."""
    difference = level_db - seat_mean_db(level_db, weight)[:, None]
    return tuple(
        SeatSpread(
            seat=name,
            level_db=tuple(level_db[:, n].tolist()),
            mean_level_db=float(level_db[:, n].mean()),
            mean_difference_db=float(difference[:, n].mean()),
            deviation_db=float(np.sqrt((difference[:, n] ** 2).mean())),
            max_minus_min_db=float(np.ptp(level_db[:, n])),
        )
        for n, name in enumerate(names)
    )
