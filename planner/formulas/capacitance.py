"""The treble that a long lead takes: its capacitance and the source's impedance are a low pass.

One capacitance at the end of the lead stands for all of it, which holds for leads far shorter
than a wavelength (20 kHz: 10 km). `source_ohm` is what the cable is driven from, an input
beside it included where it matters; of several branches the capacitances add.
"""

import math

from planner.formulas.validity import require_not_negative, require_positive

_FARAD_PER_PF = 1e-12


def corner_hz(source_ohm: float, capacitance_pf: float) -> float:
    """The frequency at which a lead has taken 3 dB.

    Impedance above 0 ohm, capacitance above 0 pF (without either there is no corner); raises
    ValueError otherwise.
    Source: first-order low pass, 1 / (2 π R C).

    30 m of 100 pF/m behind 1000 ohm:

    >>> round(corner_hz(1_000.0, 100.0 * 30))
    53052
    """
    require_positive(source_ohm=source_ohm, capacitance_pf=capacitance_pf)
    return 1 / (2 * math.pi * source_ohm * capacitance_pf * _FARAD_PER_PF)


def low_pass_loss_db(frequency_hz: float, source_ohm: float, capacitance_pf: float) -> float:
    """The loss, at most 0 dB, of a lead at one frequency.

    All 0 or more; raises ValueError otherwise.
    Source: first-order low pass, -10 log10[1 + (2 π f R C)²].

    30 m of 100 pF/m behind 1000 ohm, at 20 kHz:

    >>> round(low_pass_loss_db(20_000.0, 1_000.0, 100.0 * 30), 3)
    -0.577
    """
    require_not_negative(frequency_hz=frequency_hz, source_ohm=source_ohm, capacitance_pf=capacitance_pf)
    ratio = 2 * math.pi * frequency_hz * source_ohm * capacitance_pf * _FARAD_PER_PF
    return 0.0 - 10 * math.log10(1 + ratio**2)


def greatest_capacitance_pf(load_ohm: float, frequency_hz: float = 20_000.0) -> float:
    """The capacitance at which a lead's reactance has fallen to the rated load, a cautious screen.

    Load above 0 ohm, frequency (the highest in use) above 0 Hz; raises ValueError otherwise.
    Source: IEC 61938:2018, guidance on cables, reactance above the rated load; 1 / (2 π f R).

    >>> round(greatest_capacitance_pf(10_000.0))
    796
    """
    require_positive(load_ohm=load_ohm, frequency_hz=frequency_hz)
    return 1 / (2 * math.pi * frequency_hz * load_ohm * _FARAD_PER_PF)
