"""Line levels: volts, dBu and dBV, ratios in dB, and levels added up.

Voltages are rms. A level of 0 V has no value in decibels, so voltages are above 0.
"""

import math
from collections.abc import Sequence

from planner.formulas.validity import require_finite, require_positive, require_within

DBU_REFERENCE_V = math.sqrt(0.001 * 600)
"""0 dBu in volts: 1 mW in 600 ohm, by definition; 0.7746 V. 0 dBV is 1 V."""

_LARGEST_DB = 1000
"""Beyond any level or gain of this trade, and well within a float."""


def voltage_ratio_db(voltage_v: float, reference_v: float) -> float:
    """The ratio of one voltage to another in dB.

    Both above 0 V; raises ValueError otherwise.
    Source: definition of the decibel for a field quantity, 20 log10.

    >>> round(voltage_ratio_db(2.0, 1.0), 4)
    6.0206
    """
    require_positive(voltage_v=voltage_v, reference_v=reference_v)
    return 20 * math.log10(voltage_v / reference_v)


def voltage_ratio(gain_db: float) -> float:
    """The voltage gain, output over input, of a gain in dB.

    -1000 to 1000 dB; raises ValueError otherwise.
    Source: definition of the decibel for a field quantity, 10^(G/20).

    >>> round(voltage_ratio(26.0), 3)
    19.953
    """
    require_within(-_LARGEST_DB, _LARGEST_DB, gain_db=gain_db)
    return math.pow(10, gain_db / 20)


def power_ratio_db(power_w: float, reference_w: float) -> float:
    """The ratio of one power to another in dB.

    Both above 0 W; raises ValueError otherwise.
    Source: definition of the decibel for a power, 10 log10.

    >>> round(power_ratio_db(200.0, 1.0), 4)
    23.0103
    """
    require_positive(power_w=power_w, reference_w=reference_w)
    return 10 * math.log10(power_w / reference_w)


def power_ratio(gain_db: float) -> float:
    """The power gain, output over input, of a gain in dB.

    -1000 to 1000 dB; raises ValueError otherwise.
    Source: definition of the decibel for a power, 10^(G/10).

    >>> round(power_ratio(3.0), 4)
    1.9953
    """
    require_within(-_LARGEST_DB, _LARGEST_DB, gain_db=gain_db)
    return math.pow(10, gain_db / 10)


def dbu_from_v(voltage_v: float) -> float:
    """The level in dBu of a voltage.

    Above 0 V; raises ValueError otherwise.
    Source: definition, 20 log10(V / 0.7746 V).

    >>> round(dbu_from_v(2.0), 4)
    8.2391
    """
    return voltage_ratio_db(voltage_v, DBU_REFERENCE_V)


def v_from_dbu(level_dbu: float) -> float:
    """The voltage of a level in dBu.

    -1000 to 1000 dBu; raises ValueError otherwise.
    Source: definition, 0.7746 V × 10^(L/20).

    >>> round(v_from_dbu(4.0), 4)
    1.2277
    """
    require_within(-_LARGEST_DB, _LARGEST_DB, level_dbu=level_dbu)
    return DBU_REFERENCE_V * voltage_ratio(level_dbu)


def dbv_from_v(voltage_v: float) -> float:
    """The level in dBV of a voltage.

    Above 0 V; raises ValueError otherwise.
    Source: definition, 20 log10(V / 1 V).

    >>> round(dbv_from_v(2.0), 4)
    6.0206
    """
    return voltage_ratio_db(voltage_v, 1.0)


def v_from_dbv(level_dbv: float) -> float:
    """The voltage of a level in dBV.

    -1000 to 1000 dBV; raises ValueError otherwise.
    Source: definition, 1 V × 10^(L/20).

    >>> round(v_from_dbv(-10.0), 4)
    0.3162
    """
    require_within(-_LARGEST_DB, _LARGEST_DB, level_dbv=level_dbv)
    return voltage_ratio(level_dbv)


def dbv_from_dbu(level_dbu: float) -> float:
    """The level in dBV of a level in dBu.

    Any finite level; raises ValueError otherwise. The two scales are 2.2185 dB apart.
    Source: definition, L + 20 log10(0.7746).

    >>> round(dbv_from_dbu(4.0), 4)
    1.7815
    """
    require_finite(level_dbu=level_dbu)
    return level_dbu + dbv_from_v(DBU_REFERENCE_V)


def dbu_from_dbv(level_dbv: float) -> float:
    """The level in dBu of a level in dBV.

    Any finite level; raises ValueError otherwise. The two scales are 2.2185 dB apart.
    Source: definition, L - 20 log10(0.7746).

    >>> round(dbu_from_dbv(-10.0), 4)
    -7.7815
    """
    require_finite(level_dbv=level_dbv)
    return level_dbv + dbu_from_v(1.0)


def power_sum_db(levels_db: Sequence[float]) -> float:
    """The level of several uncorrelated signals together: their powers add.

    At least one finite level, all re one reference; raises ValueError otherwise. Right for
    noises of separate origin, and for sounds whose phases are random to one another.
    Source: sum of the variances of independent variables, 10 log10 Σ 10^(L/10).

    >>> round(power_sum_db([-96.0, -98.0]), 4)
    -93.8756
    """
    greatest = _greatest(levels_db)
    return greatest + 10 * math.log10(math.fsum(math.pow(10, (level - greatest) / 10) for level in levels_db))


def in_phase_sum_db(levels_db: Sequence[float]) -> float:
    """The level of several like signals in phase: their amplitudes add.

    At least one finite level, all re one reference; raises ValueError otherwise. No sum of
    the same signals is greater, whatever their phases.
    Source: superposition, 20 log10 Σ 10^(L/20).

    >>> round(in_phase_sum_db([100.0, 94.0]), 4)
    103.5287
    """
    greatest = _greatest(levels_db)
    return greatest + 20 * math.log10(math.fsum(math.pow(10, (level - greatest) / 20) for level in levels_db))


def _greatest(levels_db: Sequence[float]) -> float:
    """The greatest level; taking it out first keeps the powers of ten within a float."""
    if not levels_db:
        raise ValueError("levels_db is empty; expected at least one level")
    for level_db in levels_db:
        require_finite(level_db=level_db)
    return max(levels_db)
