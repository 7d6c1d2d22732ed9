"""The room as the acoustics see it: an empty rectangular box with hard walls, and how fast its modes die away."""

import math
from dataclasses import dataclass

import numpy as np

from planner.bass.arrays import Reals

_STEPS = 12


@dataclass(frozen=True, kw_only=True, slots=True)
class Shoebox:
    """A rectangular room: inner lengths along x, y and z, and what sound does in it.

    `reverberation_time_s` is taken for every mode alike, unless there are `reverberation_bands`: pairs of hertz and
    seconds, lowest first. Then a mode takes the time at its own frequency, between two bands by proportion along
    the logarithm of frequency, beyond the last as there.
    """

    size_m: tuple[float, float, float]
    speed_m_per_s: float
    reverberation_time_s: float
    reverberation_bands: tuple[tuple[float, float], ...] = ()

    @property
    def volume_m3(self) -> float:
        """The room's volume."""
        return math.prod(self.size_m)

    def reverberation_times_s(self, frequency_hz: Reals) -> Reals:
        """The reverberation time at each frequency."""
        if not self.reverberation_bands:
            return np.full(frequency_hz.shape, self.reverberation_time_s)
        hertz, seconds = np.array(self.reverberation_bands).T
        within = np.clip(frequency_hz, hertz[0], hertz[-1])  # no logarithm of the uniform mode's 0 Hz
        times: Reals = np.interp(np.log(within), np.log(hertz), seconds)
        return times

    def decays_per_s(self, frequency_hz: Reals) -> Reals:
        """How fast the pressure of a mode at each frequency dies away: exp(-decay t), 60 dB in the reverberation time.

        Source: definition of reverberation time, 3 ln 10 / T.
        """
        return 3 * math.log(10) / self.reverberation_times_s(frequency_hz)

    def bandwidth_hz(self, frequency_hz: float) -> float:
        """The half-power bandwidth of a mode at this frequency: decay / π, which is 2.2 / T."""
        return float(self.decays_per_s(np.array([frequency_hz]))[0]) / math.pi

    @property
    def schroeder_hz(self) -> float:
        """Above this frequency modes overlap so much that none can be told from the next.

        The time is the one at that frequency, which is found in a few steps.

        Source: Schroeder's limit as H. Kuttruff gives it, Room Acoustics, 6th ed., eq. 3.44
        (read at second hand), 2000 √(T / V), T in seconds and V in cubic metres.
        """
        limit_hz = 2000 * math.sqrt(self.reverberation_time_s / self.volume_m3)
        for _ in range(_STEPS):
            (time_s,) = self.reverberation_times_s(np.array([limit_hz])).tolist()
            limit_hz = 2000 * math.sqrt(time_s / self.volume_m3)
        return limit_hz
