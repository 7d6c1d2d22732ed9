"""The pressure that a subwoofer makes at a seat, as the sum of the room's modes.

With time as exp(jωt), rigid walls and light damping, a point source at r0 makes at r

    H(r) = 4π c² Σ φ(r) φ(r0) / (K [ω_n² - ω² + 2j δ ω_n])

relative to its own free field at 1 m, so that 0 dB is what it would make at 1 m in the open. φ and
K are the shape and norm of a mode, δ its decay rate.

Source: H. Kuttruff, Room Acoustics, chapter 3; P. M. Morse and K. U. Ingard, Theoretical
Acoustics, chapter 9 (both from memory; the tests hold it against closed forms and other methods).
"""

import math

import numpy as np

from planner.bass.arrays import Complexes, Reals
from planner.bass.room_modes import Modes
from planner.bass.shoebox import Shoebox

# Modes summed at once: a bound on memory, no bound on modes.
_BLOCK = 4096


def modal_sum(room: Shoebox, modes: Modes, frequency_hz: Reals, seats_m: Reals, sources_m: Reals) -> Complexes:
    """The field of these modes and no others, re each source's free field at 1 m.

    Args:
        room: the room that the modes are of.
        modes: which modes to add.
        frequency_hz: (frequency,), above 0.
        seats_m: (seat, axis).
        sources_m: (source, axis).

    Returns:
        Complex pressure ratios, (frequency, seat, source).
    """
    field = np.zeros((len(frequency_hz), len(seats_m) * len(sources_m)), dtype=np.complex128)
    for block in modes.blocks(_BLOCK):
        receptance = 1 / _stiffness(room, block.frequency_hz, frequency_hz)
        coupling = _couplings(block, seats_m, sources_m)
        # Two real products cost half of a complex one.
        field += receptance.real @ coupling + 1j * (receptance.imag @ coupling)
    field *= 4 * math.pi * room.speed_m_per_s**2
    return field.reshape(len(frequency_hz), len(seats_m), len(sources_m))


def still_sum(modes: Modes, seats_m: Reals, sources_m: Reals) -> Reals:
    """What these modes make of a source that hardly moves, the uniform mode left out.

    It is `modal_sum` as the frequency goes to 0, re the free field at 1 m, (seat, source).
    """
    total = np.zeros(len(seats_m) * len(sources_m))
    for block in modes.blocks(_BLOCK):
        squared = (block.wavenumber_rad_per_m**2).sum(axis=1)
        compliance = np.divide(1.0, squared, out=np.zeros_like(squared), where=squared > 0)
        total += compliance @ _couplings(block, seats_m, sources_m)
    return 4 * math.pi * total.reshape(len(seats_m), len(sources_m))


def _stiffness(room: Shoebox, mode_hz: Reals, frequency_hz: Reals) -> Complexes:
    """ω_n² - ω² + 2j δ ω_n, (frequency, mode)."""
    mode, driven = 2 * np.pi * mode_hz[None, :], 2 * np.pi * frequency_hz[:, None]
    stiffness: Complexes = mode**2 - driven**2 + 2j * room.decays_per_s(mode_hz)[None, :] * mode
    return stiffness


def _couplings(modes: Modes, seats_m: Reals, sources_m: Reals) -> Reals:
    """φ(seat) φ(source) / K, (mode, seat × source)."""
    at_seats = modes.shapes(seats_m) / modes.norm_m3[:, None]
    couplings: Reals = (at_seats[:, :, None] * modes.shapes(sources_m)[:, None, :]).reshape(len(at_seats), -1)
    return couplings
