"""Noise along a chain: what resistance makes by itself, and what arrives at the sink.

Levels are rms in one bandwidth, 20 kHz unless said; weighted figures do not mix with others.
"""

import math
from collections.abc import Sequence

from planner.formulas.levels import power_sum_db
from planner.formulas.validity import require_finite, require_not_negative, require_positive, require_within

BOLTZMANN_J_PER_K = 1.380649e-23
"""Exact since the SI of 2019."""

KELVIN_AT_0_C = 273.15


def johnson_noise_v(resistance_ohm: float, bandwidth_hz: float = 20_000.0, temperature_c: float = 20.0) -> float:
    """The thermal noise voltage, rms, of a resistance.

    Resistance 0 ohm or more, bandwidth above 0 Hz, temperature -55 to 155 °C (where
    resistors work); raises ValueError otherwise.
    Source: J. B. Johnson, Physical Review 32, 1928, p. 97; H. Nyquist, ibid. p. 110; √(4 k T R B).

    >>> round(johnson_noise_v(10_000.0) * 1e6, 3)
    1.799
    """
    require_not_negative(resistance_ohm=resistance_ohm)
    require_positive(bandwidth_hz=bandwidth_hz)
    require_within(-55, 155, temperature_c=temperature_c)
    temperature_k = temperature_c + KELVIN_AT_0_C
    return math.sqrt(4 * BOLTZMANN_J_PER_K * temperature_k * resistance_ohm * bandwidth_hz)


def noise_at_sink_dbu(noises: Sequence[tuple[float, float]]) -> float:
    """The noise at the sink of a chain, every source of noise brought forward and added.

    Each noise is (its level where it arises, dBu; gain from there to the sink, dB). They are
    uncorrelated. At least one noise, all finite; raises ValueError otherwise.
    Source: sum of the variances of independent variables, gain by gain.

    A processor of -96 dBu, a DSP unit of -98 dBu, a pad of 4 dB and an input of -108 dBu:

    >>> round(noise_at_sink_dbu([(-96.0, -4.0), (-98.0, -4.0), (-108.0, 0.0)]), 3)
    -97.473
    """
    for noise_dbu, gain_after_db in noises:
        require_finite(noise_dbu=noise_dbu, gain_after_db=gain_after_db)
    return power_sum_db([noise_dbu + gain_after_db for noise_dbu, gain_after_db in noises])
