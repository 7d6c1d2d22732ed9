"""The bass in a rigid box as a sum over image sources: no modes, no cosines.

The sound of every image of the source arrives after r / c, as strong as 1 / r, and has by then died away by
exp(-δ r / c). Source: J. B. Allen and D. A. Berkley, Journal of the Acoustical Society of America 65(4), 1979
(from memory), for rigid walls; the loss is put in the air instead, which is the same for every mode.
"""

import numpy as np

from planner.bass.arrays import Complexes, Reals

_RATE_HZ = 16_000.0
_DEPTH = 9.0


def image_response(
    size_m: tuple[float, float, float], speed_m_per_s: float, decay_per_s: float, frequency_hz: Reals,
    source_m: Reals, receiver_m: Reals,
) -> Complexes:  # fmt: skip
    """Pressure re the source's free field at 1 m, (frequency,); images until they have died away by exp(-9)."""
    farthest_m = _DEPTH * speed_m_per_s / decay_per_s
    squares = [_squares(length, s, r, farthest_m) for length, s, r in zip(size_m, source_m, receiver_m, strict=True)]
    arrivals = np.zeros(int(farthest_m / speed_m_per_s * _RATE_HZ) + 2)
    for along_x in squares[0]:
        distance = np.sqrt(along_x + squares[1][:, None] + squares[2][None, :]).ravel()
        distance = distance[distance < farthest_m]
        sample = distance / speed_m_per_s * _RATE_HZ
        first = sample.astype(np.int64)
        late = sample - first
        strength = np.exp(-decay_per_s * distance / speed_m_per_s) / distance
        # An arrival between two samples is shared between them.
        arrivals += np.bincount(first, strength * (1 - late), len(arrivals))
        arrivals += np.bincount(first + 1, strength * late, len(arrivals))
    times = np.arange(len(arrivals)) / _RATE_HZ
    response: Complexes = np.exp(-2j * np.pi * frequency_hz[:, None] * times) @ arrivals
    return response


def _squares(length_m: float, source_m: float, receiver_m: float, farthest_m: float) -> Reals:
    """Squared distances to the images along one axis."""
    reach = np.ceil(farthest_m / (2 * length_m)) + 1
    rooms = np.arange(-reach, reach + 1)
    places = np.concatenate([2 * rooms * length_m + source_m, 2 * rooms * length_m - source_m])
    squares: Reals = (places - receiver_m) ** 2
    return squares
