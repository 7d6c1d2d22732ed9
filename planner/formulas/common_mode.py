"""What a balanced link leaves of the hum between two earths: its common-mode rejection."""

from planner.formulas.levels import voltage_ratio_db
from planner.formulas.validity import require_not_negative, require_positive


def imbalance_rejection_db(source_ohm: float, imbalance_ohm: float, common_mode_ohm: float) -> float:
    """The rejection that unequal legs of a source leave, into a receiver perfect in itself.

    `source_ohm` is one leg, the other has `imbalance_ohm` more; `common_mode_ohm` is each input
    leg to earth. An unbalanced source joined by two cores has one leg of 0 ohm, and its whole
    impedance as imbalance. Source 0 ohm or more, the others above 0; raises ValueError
    otherwise.
    Source: Kirchhoff's laws, -20 log10[Zc/(Zc + Rs) - Zc/(Zc + Rs + ΔR)]; B. Whitlock,
    Balanced Lines in Audio Systems, J. Audio Eng. Soc. 43 (6), 1995 (read at second hand).

    >>> round(imbalance_rejection_db(50.0, 10.0, 10_000.0), 2)
    60.1
    """
    require_not_negative(source_ohm=source_ohm)
    require_positive(imbalance_ohm=imbalance_ohm, common_mode_ohm=common_mode_ohm)
    lesser_ohm = common_mode_ohm + source_ohm
    # The difference of the two dividers over one denominator: nothing is lost to cancellation.
    return voltage_ratio_db(lesser_ohm * (lesser_ohm + imbalance_ohm), common_mode_ohm * imbalance_ohm)


def resistor_rejection_db(tolerance: float, gain: float = 1.0) -> float:
    """The worst rejection of a difference input of one amplifier and four resistors.

    `tolerance` of each resistor as a fraction (0.01 for 1 %), `gain` of the stage as a ratio.
    Both above 0, tolerance below 0.1; raises ValueError otherwise.
    Source: first-order worst case, 20 log10[(1 + G) / (4 t)]; common practice, no published source.

    >>> round(resistor_rejection_db(0.01), 2)
    33.98
    """
    require_positive(tolerance=tolerance, gain=gain)
    if tolerance >= 0.1:
        raise ValueError(f"tolerance is {tolerance}; expected below 0.1, a fraction")
    return voltage_ratio_db(1 + gain, 4 * tolerance)
