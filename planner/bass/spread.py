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
class BandSpread:
    """The figures over a third of an octave, as far as the frequencies of the study reach into it.

    `nominal_hz` is what the trade calls it.
    """

    nominal_hz: float
    frequencies: int
    spread: Spread


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


NOMINAL_HZ = (5.0, 6.3, 8.0, 10.0, 12.5, 16.0, 20.0, 25.0, 31.5, 40.0, 50.0, 63.0, 80.0, 100.0, 125.0, 160.0, 200.0,
              250.0, 315.0)  # fmt: skip
_FIRST_BAND = 7


def third_octave(frequency_hz: float) -> int:
    """The band that a frequency lies in, by its number: 10 is 10 Hz, 20 is 100 Hz.

    Source: IEC 61260-1, base ten: midbands are 10^(n/10) Hz, and a band reaches from 10^-0.05 to 10^0.05 of its own.

    >>> third_octave(20.0), third_octave(44.6), third_octave(44.7)
    (13, 16, 17)
    """
    return math.floor(10 * math.log10(frequency_hz) + 0.5)


def by_band(level_db: Reals, weight: Reals, frequency_hz: Reals) -> tuple[BandSpread, ...]:
    """The figures by third of an octave of levels (frequency, seat), lowest first."""
    bands = np.array([third_octave(hertz) for hertz in frequency_hz.tolist()])
    return tuple(
        BandSpread(
            nominal_hz=NOMINAL_HZ[number - _FIRST_BAND],
            frequencies=int((bands == number).sum()),
            spread=spread(level_db[bands == number], weight),
        )
        for number in dict.fromkeys(bands.tolist())
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
