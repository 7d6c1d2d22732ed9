"""Loudspeaker cable: resistance by size and temperature, loss, damping, longest run.

Lengths are one way; the current goes there and back. Use the least impedance of the
loudspeaker where it is known, else the nominal one.
"""

import math
from collections.abc import Mapping
from types import MappingProxyType

from planner.formulas.levels import voltage_ratio, voltage_ratio_db
from planner.formulas.validity import require_not_negative, require_positive, require_within

COPPER_RESISTIVITY_OHM_MM2_PER_M = 0.017241
"""Annealed copper at 20 °C, 1/58 to five figures as tables print it (IEC 60028:1925)."""

COPPER_COEFFICIENT_PER_K = 0.00393
"""By which the resistance of annealed copper grows from its value at 20 °C (IEC 60028:1925)."""

CLASS_5_OHM_PER_KM: Mapping[float, float] = MappingProxyType(
    {0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.5: 13.3, 2.5: 7.98, 4.0: 4.95, 6.0: 3.30, 10.0: 1.91}
)
"""The greatest resistance at 20 °C of a flexible conductor of plain copper, by nominal area in mm².

Source: IEC 60228:2004, class 5 (read at second hand).
"""


def awg_diameter_mm(gauge: int) -> float:
    """The diameter of a solid round wire of an American gauge; 0, 00, 000, 0000 are 0 to -3.

    Gauge -3 to 56; raises ValueError otherwise.
    Source: ASTM B258, 0.127 mm × 92^((36 - n) / 39).

    >>> round(awg_diameter_mm(12), 4)
    2.0525
    """
    require_within(-3, 56, gauge=gauge)
    return 0.127 * math.pow(92, (36 - gauge) / 39)


def awg_area_mm2(gauge: int) -> float:
    """The copper area of an American gauge, solid or stranded.

    Gauge -3 to 56; raises ValueError otherwise.
    Source: ASTM B258, π d² / 4.

    >>> round(awg_area_mm2(12), 3)
    3.309
    """
    return math.pi * awg_diameter_mm(gauge) ** 2 / 4


def resistance_at_ohm(resistance_20c_ohm: float, temperature_c: float) -> float:
    """The resistance of copper at a temperature, from its resistance at 20 °C (per metre alike).

    Resistance 0 ohm or more, temperature -40 to 105 °C (common insulation); raises
    ValueError otherwise.
    Source: IEC 60028:1925, R [1 + 0.00393 (t - 20)]; IEC 60228:2004 Annex A rounds it to 0.004.

    >>> round(resistance_at_ohm(1.0, 40.0), 4)
    1.0786
    """
    require_not_negative(resistance_20c_ohm=resistance_20c_ohm)
    require_within(-40, 105, temperature_c=temperature_c)
    return resistance_20c_ohm * (1 + COPPER_COEFFICIENT_PER_K * (temperature_c - 20))


def copper_ohm_per_m(area_mm2: float, temperature_c: float = 20.0) -> float:
    """The resistance of one copper conductor by its true area.

    Area above 0 mm², temperature -40 to 105 °C; raises ValueError otherwise. A metric cable
    may have less copper than its nominal area: see `class_5_ohm_per_m`.
    Source: IEC 60028:1925, ρ / A with ρ = 0.017241 ohm mm²/m.

    >>> round(copper_ohm_per_m(3.309), 6)
    0.00521
    """
    require_positive(area_mm2=area_mm2)
    return resistance_at_ohm(COPPER_RESISTIVITY_OHM_MM2_PER_M / area_mm2, temperature_c)


def class_5_ohm_per_m(area_mm2: float, temperature_c: float = 20.0) -> float:
    """The most that one flexible conductor of a nominal metric area may have by the standard.

    A nominal area of `CLASS_5_OHM_PER_KM`, temperature -40 to 105 °C; raises ValueError
    otherwise. It is 10 to 16 % above what the nominal area alone would give.
    Source: IEC 60228:2004, class 5, plain copper (read at second hand).

    >>> round(class_5_ohm_per_m(2.5), 5)
    0.00798
    """
    if area_mm2 not in CLASS_5_OHM_PER_KM:
        sizes = ", ".join(f"{size:g}" for size in CLASS_5_OHM_PER_KM)
        raise ValueError(f"area_mm2 is {area_mm2}; expected a nominal area, one of {sizes}")
    return resistance_at_ohm(CLASS_5_OHM_PER_KM[area_mm2] / 1000, temperature_c)


def conductor_ohm_per_m(area_mm2: float) -> float:
    """Resistance of one conductor at 20 °C: the most that the standard allows a nominal area, else that of copper.

    Area above 0 mm²; raises ValueError otherwise. American gauges are true areas and go by their copper.
    Source: IEC 60228 class 5 for its nominal areas; the resistivity of annealed copper for others.

    >>> round(conductor_ohm_per_m(2.5), 5), round(conductor_ohm_per_m(2.08), 5)
    (0.00798, 0.00829)
    """
    return class_5_ohm_per_m(area_mm2) if area_mm2 in CLASS_5_OHM_PER_KM else copper_ohm_per_m(area_mm2)


def loop_resistance_ohm(conductor_ohm_per_m: float, length_m: float) -> float:
    """The resistance of a run of cable, there and back.

    Both 0 or more; raises ValueError otherwise.
    Source: Kirchhoff's laws, 2 r l.

    >>> round(loop_resistance_ohm(0.00521, 10.0), 4)
    0.1042
    """
    require_not_negative(conductor_ohm_per_m=conductor_ohm_per_m, length_m=length_m)
    return 2 * conductor_ohm_per_m * length_m


def cable_loss_db(load_ohm: float, loop_ohm: float) -> float:
    """The loss, at most 0 dB, of level at the loudspeaker to the cable's resistance.

    Load above 0 ohm, loop 0 ohm or more; raises ValueError otherwise.
    Source: Kirchhoff's laws, potential divider 20 log10[Z / (Z + Rc)].

    >>> round(cable_loss_db(8.0, 0.1042), 4)
    -0.1124
    """
    require_positive(load_ohm=load_ohm)
    require_not_negative(loop_ohm=loop_ohm)
    return voltage_ratio_db(load_ohm, load_ohm + loop_ohm)


def damping_factor(load_ohm: float, loop_ohm: float, amplifier_ohm: float = 0.0) -> float:
    """The damping factor at the loudspeaker: its impedance over all that is in series with it.

    Load above 0 ohm, loop and amplifier 0 ohm or more and not both 0; raises ValueError
    otherwise.
    Source: definition (IEC 60268-3, damping factor of an amplifier), the cable counted in; Z / (Zo + Rc).

    >>> damping_factor(8.0, 0.4)
    20.0
    """
    require_positive(load_ohm=load_ohm)
    require_not_negative(loop_ohm=loop_ohm, amplifier_ohm=amplifier_ohm)
    require_positive(series_ohm=loop_ohm + amplifier_ohm)
    return load_ohm / (loop_ohm + amplifier_ohm)


def greatest_loop_ohm(load_ohm: float, loss_limit_db: float) -> float:
    """The most loop resistance that keeps the loss within a limit, written as -0.5 dB is.

    Load above 0 ohm, limit -100 to 0 dB; raises ValueError otherwise.
    Source: `cable_loss_db` solved for Rc, Z (10^(-L/20) - 1).

    >>> round(greatest_loop_ohm(8.0, -0.5), 3)
    0.474
    """
    require_positive(load_ohm=load_ohm)
    require_within(-100, 0, loss_limit_db=loss_limit_db)
    return load_ohm * (voltage_ratio(-loss_limit_db) - 1)


def longest_run_m(conductor_ohm_per_m: float, loop_ohm: float) -> float:
    """The longest run, one way, whose loop resistance stays within a limit.

    Conductor above 0 ohm per metre, limit 0 ohm or more; raises ValueError otherwise.
    Source: `loop_resistance_ohm` solved for l, Rc / (2 r).

    5 % of 8 ohm, in 2.5 mm²:

    >>> round(longest_run_m(0.00798, 0.4), 1)
    25.1
    """
    require_positive(conductor_ohm_per_m=conductor_ohm_per_m)
    require_not_negative(loop_ohm=loop_ohm)
    return loop_ohm / (2 * conductor_ohm_per_m)
