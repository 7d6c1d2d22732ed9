"""Time of flight, and the delays that bring every loudspeaker to the seat together."""

import math
from collections.abc import Sequence

from planner.formulas.validity import require_not_negative, require_positive, require_within


def speed_of_sound_m_per_s(temperature_c: float) -> float:
    """The speed of sound in air at a temperature.

    -20 to 50 °C, the range of the standard's tables; raises ValueError otherwise. Humidity
    is left out.
    Source: ISO 9613-1:1993, 343.2 m/s × √(T / 293.15 K).

    >>> round(speed_of_sound_m_per_s(25.0), 2)
    346.11
    """
    require_within(-20, 50, temperature_c=temperature_c)
    return 343.2 * math.sqrt((temperature_c + 273.15) / 293.15)


def arrival_ms(distance_m: float, speed_m_per_s: float, latency_ms: float = 0.0) -> float:
    """The time from the processor's clock to the seat: latency of the gear, then flight.

    Distance and latency 0 or more, speed above 0; raises ValueError otherwise.
    Source: definition, d / c.

    >>> round(arrival_ms(3.5, 343.2, latency_ms=1.5), 3)
    11.698
    """
    require_not_negative(distance_m=distance_m, latency_ms=latency_ms)
    require_positive(speed_m_per_s=speed_m_per_s)
    return latency_ms + 1000 * distance_m / speed_m_per_s


def alignment_delays_ms(arrivals_ms: Sequence[float]) -> tuple[float, ...]:
    """The delay to set for each arrival so that all come together with the last one.

    Each 0 ms or more; raises ValueError otherwise. No arrivals need no delays.
    Source: definition, latest arrival less each; the latest is delayed by nothing.

    >>> alignment_delays_ms([10.0, 12.5, 8.0])
    (2.5, 0.0, 4.5)
    """
    for each_ms in arrivals_ms:
        require_not_negative(arrival_ms=each_ms)
    latest_ms = max(arrivals_ms, default=0.0)
    return tuple(latest_ms - each_ms for each_ms in arrivals_ms)
