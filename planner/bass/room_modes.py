"""The modes of a rectangular room: which there are, at what frequency, and how each looks.

Source: Rayleigh's formula, f = (c/2) √((nx/Lx)² + (ny/Ly)² + (nz/Lz)²), and the cosine shapes of
rigid walls; H. Kuttruff, Room Acoustics, chapter 3.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from planner.bass.arrays import Reals, Wholes
from planner.bass.shoebox import Shoebox

# A mode that lies on the limit counts as below it, whatever the last bit of its frequency.
_HAIR = 1e-9


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Modes:
    """Modes in order of frequency, the uniform one (0, 0, 0) first.

    Attributes:
        index: how many half waves along each axis, (mode, axis).
        wavenumber_rad_per_m: along each axis, (mode, axis).
        frequency_hz: of each, (mode,).
        norm_m3: integral of the squared shape over the room, (mode,): the volume, halved for
            each axis with a wave along it.
    """

    index: Wholes
    wavenumber_rad_per_m: Reals
    frequency_hz: Reals
    norm_m3: Reals

    def shapes(self, points_m: Reals) -> Reals:
        """The shape of every mode at points (point, axis), as (mode, point), within -1 and 1."""
        shapes: Reals = np.cos(self.wavenumber_rad_per_m[:, None, :] * points_m[None]).prod(axis=-1)
        return shapes

    def blocks(self, size: int) -> "Iterator[Modes]":
        """The same modes in blocks of at most `size`, for sums that would not fit in memory."""
        for first in range(0, len(self.frequency_hz), size):
            block = slice(first, first + size)
            yield Modes(
                index=self.index[block],
                wavenumber_rad_per_m=self.wavenumber_rad_per_m[block],
                frequency_hz=self.frequency_hz[block],
                norm_m3=self.norm_m3[block],
            )


def modes_up_to(room: Shoebox, limit_hz: float) -> Modes:
    """Every mode of the room at or below a frequency."""
    most = [math.floor(2 * length * limit_hz / room.speed_m_per_s + _HAIR) for length in room.size_m]
    index = np.stack(np.meshgrid(*(np.arange(n + 1) for n in most), indexing="ij"), axis=-1).reshape(-1, 3)
    wavenumber = np.pi * index / np.array(room.size_m)
    frequency_hz = np.sqrt((wavenumber**2).sum(axis=1)) * room.speed_m_per_s / (2 * np.pi)
    order = np.argsort(frequency_hz, kind="stable")
    order = order[frequency_hz[order] <= limit_hz * (1 + _HAIR)]
    return Modes(
        index=index[order],
        wavenumber_rad_per_m=wavenumber[order],
        frequency_hz=frequency_hz[order],
        norm_m3=room.volume_m3 / 2.0 ** (index[order] > 0).sum(axis=1),
    )
