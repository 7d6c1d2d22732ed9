"""Second-order filters: the two that every subwoofer plays through, and those that take off a peak.

Source: R. Bristow-Johnson, Audio EQ Cookbook (W3C Audio Working Group note): low-pass, high-pass
and peaking equaliser from the bilinear transform, w0 = 2π f0 / fs, α = sin w0 / 2Q.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planner.bass.arrays import Complexes, Reals

SAMPLE_RATE_HZ = 48_000.0
"""That of most processors; in the bass the response hardly depends on it."""

FLAT_Q = 1 / math.sqrt(2)
"""The Q of a second-order Butterworth filter: no peak, 3 dB down at its corner."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Biquad:
    """Coefficients over a0: b0, b1, b2 of the numerator, 1, a1, a2 of the denominator."""

    b: tuple[float, float, float]
    a: tuple[float, float, float]

    def response(self, frequency_hz: Reals, sample_rate_hz: float = SAMPLE_RATE_HZ) -> Complexes:
        """The complex response at each frequency."""
        response: Complexes = responses([self], frequency_hz, sample_rate_hz)[0]
        return response


def responses(filters: Sequence[Biquad], frequency_hz: Reals, sample_rate_hz: float = SAMPLE_RATE_HZ) -> Complexes:
    """The complex response of each of at least one filter, (filter, frequency)."""
    delayed: Complexes = np.exp(-2j * np.pi * frequency_hz / sample_rate_hz)
    b0, b1, b2 = np.array([one.b for one in filters]).T[..., None]
    a0, a1, a2 = np.array([one.a for one in filters]).T[..., None]
    found: Complexes = (b0 + delayed * (b1 + delayed * b2)) / (a0 + delayed * (a1 + delayed * a2))
    return found


def low_pass(corner_hz: float, q: float = FLAT_Q, sample_rate_hz: float = SAMPLE_RATE_HZ) -> Biquad:
    """12 dB an octave above the corner."""
    cos = math.cos(2 * math.pi * corner_hz / sample_rate_hz)
    return _biquad((1 - cos) / 2, 1 - cos, corner_hz, q, sample_rate_hz)


def high_pass(corner_hz: float, q: float = FLAT_Q, sample_rate_hz: float = SAMPLE_RATE_HZ) -> Biquad:
    """12 dB an octave below the corner."""
    cos = math.cos(2 * math.pi * corner_hz / sample_rate_hz)
    return _biquad((1 + cos) / 2, -(1 + cos), corner_hz, q, sample_rate_hz)


def peaking(centre_hz: float, gain_db: float, q: float, sample_rate_hz: float = SAMPLE_RATE_HZ) -> Biquad:
    """So many decibels at its centre, none far from it.

    A cut undoes a boost of as many decibels: Q is the cookbook's, of the geometric mean of both slopes.
    """
    w0 = 2 * math.pi * centre_hz / sample_rate_hz
    alpha, amplitude = math.sin(w0) / (2 * q), 10 ** (gain_db / 40)
    a0 = 1 + alpha / amplitude
    middle = -2 * math.cos(w0) / a0
    return Biquad(
        b=((1 + alpha * amplitude) / a0, middle, (1 - alpha * amplitude) / a0),
        a=(1.0, middle, (1 - alpha / amplitude) / a0),
    )


def low_corner(corner_hz: float, frequency_hz: Reals) -> Complexes:
    """A subwoofer's own roll-off: second order, 3 dB down at the corner, as a closed box has it.

    A vented one falls off twice as fast below its corner; the catalogue does not tell the two
    apart. That every subwoofer is taken for a closed one is common practice, no published source.
    """
    return high_pass(corner_hz).response(frequency_hz)


def crossover(corner_hz: float, frequency_hz: Reals) -> Complexes:
    """The low-pass side of a fourth-order Linkwitz-Riley crossover, 6 dB down at the corner.

    Source: two equal second-order Butterworth low-passes in a row (S. H. Linkwitz, Journal of
    the Audio Engineering Society 24(1), 1976, from memory).
    """
    response: Complexes = low_pass(corner_hz).response(frequency_hz) ** 2
    return response


def _biquad(b_outer: float, b_middle: float, corner_hz: float, q: float, sample_rate_hz: float) -> Biquad:
    w0 = 2 * math.pi * corner_hz / sample_rate_hz
    alpha = math.sin(w0) / (2 * q)
    a0 = 1 + alpha
    return Biquad(
        b=(b_outer / a0, b_middle / a0, b_outer / a0),
        a=(1.0, -2 * math.cos(w0) / a0, (1 - alpha) / a0),
    )
