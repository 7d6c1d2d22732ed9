"""Amplifiers: power and voltage, sensitivity and gain, real loads and bridged ones.

Impedances are resistive and nominal; voltages are rms.
"""

import math

from planner.formulas.levels import voltage_ratio, voltage_ratio_db
from planner.formulas.validity import require_finite, require_not_negative, require_positive


def power_from_voltage_w(voltage_v: float, impedance_ohm: float) -> float:
    """The power of a voltage across an impedance.

    Voltage 0 V or more, impedance above 0 ohm; raises ValueError otherwise.
    Source: Ohm's and Joule's laws, V² / Z.

    >>> round(power_from_voltage_w(2.83, 4.0), 4)
    2.0022
    """
    require_not_negative(voltage_v=voltage_v)
    require_positive(impedance_ohm=impedance_ohm)
    return voltage_v**2 / impedance_ohm


def voltage_for_power_v(power_w: float, impedance_ohm: float) -> float:
    """The voltage across an impedance that takes a power.

    Power 0 W or more, impedance above 0 ohm; raises ValueError otherwise.
    Source: Ohm's and Joule's laws, √(P Z).

    >>> voltage_for_power_v(200.0, 8.0)
    40.0
    """
    require_not_negative(power_w=power_w)
    require_positive(impedance_ohm=impedance_ohm)
    return math.sqrt(power_w * impedance_ohm)


def input_for_full_output_v(power_w: float, impedance_ohm: float, gain_db: float) -> float:
    """The input voltage for full output, the sensitivity: what drives an amplifier fully.

    Power and impedance above 0, gain finite; raises ValueError otherwise.
    Source: definition, √(P Z) / 10^(G/20).

    >>> round(input_for_full_output_v(200.0, 8.0, 26.0), 3)
    2.005
    """
    require_positive(power_w=power_w)
    require_finite(gain_db=gain_db)
    return voltage_for_power_v(power_w, impedance_ohm) / voltage_ratio(gain_db)


def gain_from_sensitivity_db(sensitivity_v: float, power_w: float, impedance_ohm: float) -> float:
    """The voltage gain of an amplifier that gives its power for its sensitivity.

    All above 0; raises ValueError otherwise.
    Source: definition, 20 log10[√(P Z) / V].

    >>> round(gain_from_sensitivity_db(1.0, 100.0, 8.0), 3)
    29.031
    """
    require_positive(sensitivity_v=sensitivity_v, power_w=power_w)
    return voltage_ratio_db(voltage_for_power_v(power_w, impedance_ohm), sensitivity_v)


def power_into_load_w(impedance_ohm: float, power_8ohm_w: float, power_4ohm_w: float | None = None) -> float:
    """The power of an amplifier into a real load, from its ratings at 8 and 4 ohm.

    Above 8 ohm the rated voltage limits it. From 8 to 4 ohm it is interpolated along 1/Z,
    exact for an amplifier of constant voltage. Below 4 ohm, or below 8 ohm where no rating
    at 4 ohm is given, no more power is claimed than the last rating. All above 0; raises
    ValueError otherwise. Whether the amplifier may drive the load at all is another question.
    Source: V² / Z above 8 ohm; below it common practice, no published source.

    >>> round(power_into_load_w(6.0, 100.0, 160.0), 1)
    120.0
    """
    require_positive(impedance_ohm=impedance_ohm, power_8ohm_w=power_8ohm_w)
    if impedance_ohm >= 8:
        return power_8ohm_w * 8 / impedance_ohm
    if power_4ohm_w is None:
        return power_8ohm_w
    require_positive(power_4ohm_w=power_4ohm_w)
    share_of_4ohm = min(8 / impedance_ohm - 1, 1.0)
    return power_8ohm_w + (power_4ohm_w - power_8ohm_w) * share_of_4ohm


def bridged_load_per_channel_ohm(load_ohm: float) -> float:
    """The load that each channel of a bridged pair sees: the two share one load.

    Above 0 ohm; raises ValueError otherwise.
    Source: symmetry of two equal and opposite voltages across one load, Z / 2.

    >>> bridged_load_per_channel_ohm(8.0)
    4.0
    """
    require_positive(load_ohm=load_ohm)
    return load_ohm / 2
