"""The field of a source that hardly moves, in closed form: the sum of all modes at once.

The modal sum converges slowly: modes far above the band each add little, but there are ever more
of them, and together they make up the field near the source. Far above the band, though, a mode
follows the source as if at rest: 1/(ω_n² - ω²) is all but 1/ω_n². So the modes up to a limit are
summed as they move, and all the others as at rest, which is this field less the still part of the
modes summed already. (Structural dynamics calls the same step mode acceleration.)

At rest the pressure obeys Poisson's equation, with the mean taken away since the room is closed.
Along one axis its modes have a sum in closed form, a rigid duct below cut-off; the sum over the other two
axes then falls off as exp(-κ |x - x0|), so that a few hundred terms reach machine accuracy.
"""

import math
from itertools import product

import numpy as np

from planner.bass.arrays import Reals
from planner.bass.shoebox import Shoebox

# Terms below exp(-16), about 1e-7 of the free field, are left out.
_DEPTH = 16.0


def still_field(room: Shoebox, seats_m: Reals, sources_m: Reals) -> Reals:
    """All modes but the uniform one at rest, re each source's free field at 1 m, (seat, source).

    A seat must not stand where a source does: the field has no bound there.
    """
    field = np.empty((len(seats_m), len(sources_m)))
    for (s, seat), (n, source) in product(enumerate(seats_m), enumerate(sources_m)):
        field[s, n] = 4 * math.pi * _potential(np.array(room.size_m), seat, source)
    return field


def _potential(size_m: Reals, seat_m: Reals, source_m: Reals) -> float:
    """Σ φ(r) φ(r0) / (K k_n²) over all modes but the uniform one, 1/m."""
    along = int(np.argmax(np.abs(seat_m - source_m)))
    across = [axis for axis in range(3) if axis != along]
    near, far = sorted((float(seat_m[along]), float(source_m[along])))
    most = _DEPTH / (far - near)
    numbers = [np.arange(math.ceil(most * size_m[axis] / math.pi) + 1) for axis in across]
    cosines = [_cosines(n, size_m[axis], seat_m[axis], source_m[axis]) for n, axis in zip(numbers, across, strict=True)]
    transverse = [np.pi * n / size_m[axis] for n, axis in zip(numbers, across, strict=True)]
    kappa = np.hypot(transverse[0][:, None], transverse[1][None, :])
    return float(cosines[0] @ _duct(kappa, float(size_m[along]), near, far) @ cosines[1])


def _cosines(number: Reals, length_m: float, seat_m: float, source_m: float) -> Reals:
    """cos cos / K along one axis, for each number of half waves."""
    weight = np.where(number > 0, 2.0, 1.0) / length_m
    wavenumber = np.pi * number / length_m
    cosines: Reals = weight * np.cos(wavenumber * seat_m) * np.cos(wavenumber * source_m)
    return cosines


def _duct(kappa: Reals, length_m: float, near_m: float, far_m: float) -> Reals:
    """cosh(κ near) cosh(κ (L - far)) / (κ sinh κL), written so that nothing overflows.

    For κ = 0 the mean is left out: Σ 2 cos cos / (L k²) = L (1/3 - far/L + (near² + far²) / 2L²).
    """
    safe = np.where(kappa > 0, kappa, 1.0)
    echoes = (1 + np.exp(-2 * safe * near_m)) * (1 + np.exp(-2 * safe * (length_m - far_m)))
    below_cut_off = np.exp(-safe * (far_m - near_m)) * echoes / (2 * safe * -np.expm1(-2 * safe * length_m))
    uniform = length_m * (1 / 3 - far_m / length_m + (near_m**2 + far_m**2) / (2 * length_m**2))
    duct: Reals = np.where(kappa > 0, below_cut_off, uniform)
    return duct
