"""Sound pressure level at a seat: sensitivity, distance, power, and several sources together.

Free field, far field, one source a formula: a room adds to it, most of all in the bass. Levels
are dB re 20 µPa.
"""

import math
from collections.abc import Sequence

from planner.formulas.amplifiers import power_from_voltage_w
from planner.formulas.levels import in_phase_sum_db, power_ratio, power_ratio_db, power_sum_db, voltage_ratio_db
from planner.formulas.validity import require_finite, require_positive

REFERENCE_PRESSURE_PA = 20e-6
"""0 dB SPL in air (ISO 1683)."""

REFERENCE_VOLTAGE_V = 2.83
"""At which most makers state sensitivity; close to 1 W into 8 ohm, and 2 W into 4 ohm."""


def pressure_level_db(pressure_pa: float) -> float:
    """The level of a sound pressure, rms.

    Above 0 Pa; raises ValueError otherwise.
    Source: definition (ISO 1683), 20 log10(p / 20 µPa).

    >>> round(pressure_level_db(1.0), 3)
    93.979
    """
    require_positive(pressure_pa=pressure_pa)
    return voltage_ratio_db(pressure_pa, REFERENCE_PRESSURE_PA)


def sensitivity_for_1w_db(sensitivity_2v83_db: float, impedance_ohm: float) -> float:
    """The sensitivity for 1 W at 1 m of a loudspeaker whose maker states it for 2.83 V.

    Sensitivity finite, impedance above 0 ohm; raises ValueError otherwise.
    Source: definition, S - 10 log10(2.83² / Z).

    A loudspeaker of 4 ohm takes 2 W at 2.83 V:

    >>> round(sensitivity_for_1w_db(90.0, 4.0), 3)
    86.985
    """
    require_finite(sensitivity_2v83_db=sensitivity_2v83_db)
    return sensitivity_2v83_db - power_ratio_db(power_from_voltage_w(REFERENCE_VOLTAGE_V, impedance_ohm), 1.0)


def inverse_distance_loss_db(distance_m: float) -> float:
    """The loss of level on the way to a distance, re 1 m: below 0 dB beyond 1 m.

    Above 0 m, and holding only well away from the loudspeaker; raises ValueError otherwise.
    Source: spherical spreading, 20 log10(1 m / d).

    >>> round(inverse_distance_loss_db(2.0), 4)
    -6.0206
    """
    require_positive(distance_m=distance_m)
    return voltage_ratio_db(1.0, distance_m)


def level_at_db(sensitivity_1w_db: float, power_w: float, distance_m: float) -> float:
    """The level that a loudspeaker makes at a distance from the power that it is given.

    Sensitivity finite, power above 0 W, distance above 0 m; raises ValueError otherwise.
    Source: definition of sensitivity and spherical spreading, S + 10 log10 P - 20 log10 d.

    >>> round(level_at_db(88.0, 200.0, 3.5), 3)
    100.129
    """
    require_finite(sensitivity_1w_db=sensitivity_1w_db)
    return sensitivity_1w_db + power_ratio_db(power_w, 1.0) + inverse_distance_loss_db(distance_m)


def power_needed_w(level_db: float, sensitivity_1w_db: float, distance_m: float) -> float:
    """The power that a loudspeaker must be given to reach a level at a distance.

    Levels finite, distance above 0 m; raises ValueError otherwise.
    Source: `level_at_db` solved for P.

    >>> round(power_needed_w(105.0, 90.0, 4.0), 1)
    506.0
    """
    require_finite(level_db=level_db, sensitivity_1w_db=sensitivity_1w_db)
    return power_ratio(level_db - sensitivity_1w_db - inverse_distance_loss_db(distance_m))


def sum_range_db(levels_db: Sequence[float]) -> tuple[float, float]:
    """The range in which several subwoofers that play one signal lie: incoherent, then coherent.

    At least one level, all finite; raises ValueError otherwise. In phase they reach the upper
    figure; across seats they lie between the two, or below where they cancel.
    Source: `power_sum_db` and `in_phase_sum_db`; the range is common practice, no published source.

    >>> [round(level, 2) for level in sum_range_db([100.0, 100.0])]
    [103.01, 106.02]
    """
    return power_sum_db(levels_db), in_phase_sum_db(levels_db)


def pair_sum_db(level_db: float, other_db: float, phase_deg: float) -> float:
    """The level of two tones of one frequency, one ahead of the other in phase.

    All finite; raises ValueError otherwise, and where the two cancel and leave no level.
    Source: superposition, 10 log10(a² + b² + 2 a b cos φ).

    >>> round(pair_sum_db(100.0, 100.0, 90.0), 4)
    103.0103
    """
    require_finite(level_db=level_db, other_db=other_db, phase_deg=phase_deg)
    greatest = max(level_db, other_db)
    one, other = (math.pow(10, (level - greatest) / 20) for level in (level_db, other_db))
    # In this form, from the half angle, equal levels at 180 degrees leave exactly nothing.
    power = (one - other) ** 2 + 4 * one * other * math.cos(math.radians(phase_deg % 360) / 2) ** 2
    if power < 1e-30:
        raise ValueError(f"two equal levels at phase_deg {phase_deg} cancel; expected some level to be left")
    return greatest + 10 * math.log10(power)


def full_scale_level_db(calibrated_db: float, calibrated_dbfs: float = -20.0, channel_gain_db: float = 0.0) -> float:
    """The peak level to be reached by a channel that makes a calibrated level from a test signal.

    All finite, the test signal at 0 dBFS or below; raises ValueError otherwise.
    `channel_gain_db` is the channel's gain over a main channel, +10 dB for low-frequency effects.
    Source: definition; film practice is 85 dB(C) at -20 dBFS (SMPTE RP 200, read at second hand).

    >>> full_scale_level_db(85.0), full_scale_level_db(85.0, channel_gain_db=10.0)
    (105.0, 115.0)
    """
    require_finite(calibrated_db=calibrated_db, calibrated_dbfs=calibrated_dbfs, channel_gain_db=channel_gain_db)
    if calibrated_dbfs > 0:
        raise ValueError(f"calibrated_dbfs is {calibrated_dbfs}; expected 0 or below")
    return calibrated_db - calibrated_dbfs + channel_gain_db
