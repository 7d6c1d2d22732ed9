"""The room as the acoustics see it: an empty rectangular box with hard walls and one decay rate."""

import math
from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, slots=True)
class Shoebox:
    """A rectangular room: inner lengths along x, y and z, and what sound does in it.

    `reverberation_time_s` is taken for every mode alike.
    """

    size_m: tuple[float, float, float]
    speed_m_per_s: float
    reverberation_time_s: float

    @property
    def volume_m3(self) -> float:
        """The room's volume."""
        return math.prod(self.size_m)

    @property
    def decay_per_s(self) -> float:
        """How fast a mode's pressure dies away: exp(-decay t), 60 dB in the reverberation time.

        Source: definition of reverberation time, 3 ln 10 / T.
        """
        return 3 * math.log(10) / self.reverberation_time_s

    @property
    def bandwidth_hz(self) -> float:
        """The half-power bandwidth of every mode: decay / π, which is 2.2 / T."""
        return self.decay_per_s / math.pi

    @property
    def schroeder_hz(self) -> float:
        """Above this frequency modes overlap so much that none can be told from the next.

        Source: Schroeder's limit as H. Kuttruff gives it, Room Acoustics, 6th ed., eq. 3.44
        (read at second hand), 2000 √(T / V), T in seconds and V in cubic metres.
        """
        return 2000 * math.sqrt(self.reverberation_time_s / self.volume_m3)
