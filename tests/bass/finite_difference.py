"""The bass in a rigid box by finite differences in time: no modes, no cosines, no closed form.

The damped wave equation (1/c²) (p_tt + 2 δ p_t) = ∇²p + S δ(x), on a grid of cubes with mirrored neighbours at the
walls, stepped by leapfrog, then one Fourier sum for each frequency. The source is a pulse and its negative one
step later, so that no static pressure stays in the closed room. Source: the textbook scheme, for example
K. S. Kunz and R. J. Luebbers, The Finite Difference Time Domain Method, 1993 (from memory).
"""

import numpy as np

from planner.bass.arrays import Complexes, Reals

Cell = tuple[int, int, int]


def finite_difference_response(
    cells: Cell, cell_m: float, speed_m_per_s: float, decay_per_s: float, frequency_hz: Reals,
    source: Cell, receivers: list[Cell], seconds: float,
) -> Complexes:  # fmt: skip
    """Pressure re the source's free field at 1 m, (frequency, receiver); places are cells of the grid."""
    step_s = 0.95 * cell_m / (speed_m_per_s * np.sqrt(3))
    damping = decay_per_s * step_s
    courant = (speed_m_per_s * step_s / cell_m) ** 2
    pulse = (speed_m_per_s * step_s) ** 2 / cell_m**3
    now, before = np.zeros(cells), np.zeros(cells)
    at = tuple(np.array(index) for index in zip(*receivers, strict=True))
    heard = np.empty((round(seconds / step_s), len(receivers)))
    for step in range(len(heard)):
        before *= -(1 - damping)
        before += 2 * now
        _add_laplacian(before, now, courant)
        if step < 2:
            before[source] += pulse if step == 0 else -pulse
        before /= 1 + damping
        before, now = now, before
        heard[step] = now[at]
    turns = np.exp(-2j * np.pi * frequency_hz[:, None] * step_s * np.arange(1, len(heard) + 1))
    emitted = 1 - np.exp(-2j * np.pi * frequency_hz * step_s)
    response: Complexes = 4 * np.pi * (turns @ heard) / emitted[:, None]
    return response


def _add_laplacian(total: Reals, pressure: Reals, factor: float) -> None:
    """Differences to the neighbours on each axis, times a factor; a wall passes nothing."""
    for axis in range(3):
        flow = np.diff(pressure, axis=axis)
        flow *= factor
        low = tuple(slice(0, -1) if n == axis else slice(None) for n in range(3))
        high = tuple(slice(1, None) if n == axis else slice(None) for n in range(3))
        total[low] += flow
        total[high] -= flow
