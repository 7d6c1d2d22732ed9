"""The ranges that a brief's numbers must lie in, for the reader and for any form that edits one.

They guard against slips of the pen (millimetres for metres, a missing point), not against
unusual work. Where the trade itself sets a limit, a rule of the design checks it.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Bounds:
    """The least and greatest value allowed, both included, and the unit in words."""

    low: float
    high: float
    unit: str = ""

    def __str__(self) -> str:
        return f"from {self.low:.15g} to {self.high:.15g} {self.unit}".rstrip()


ROOM = Bounds(1, 100, "m")
REVERBERATION = Bounds(0.05, 10, "s")
REVERBERATION_BAND = Bounds(5, 20_000, "Hz")
TEMPERATURE = Bounds(-30, 60, "°C")
COORDINATE = Bounds(-1000, 1000, "m")
RACK_UNITS = Bounds(1, 500)
PERCENT = Bounds(0, 100, "percent")
ROUTE_ALLOWANCE = Bounds(0, 300, "percent")
SLACK = Bounds(0, 50, "m")
INTERNAL_LEAD = Bounds(0.1, 50, "m")
TARGET_SPL = Bounds(50, 140, "dB")
LEVEL_TOLERANCE = Bounds(0, 20, "dB")
HEADROOM = Bounds(0, 40, "dB")
CABLE_LOSS = Bounds(0.01, 6, "dB")
NOISE = Bounds(-140, 0, "dB")
MARGIN = Bounds(-20, 60, "dB")
SUBWOOFERS = Bounds(1, 64)
LARGEST_SPLIT = Bounds(1, 64)
COUNT = Bounds(0, 999)
OWNED = Bounds(1, 9999)
BUDGET = Bounds(1, 1_000_000_000, "of the quoting currency")
YEARS = Bounds(0, 100, "years")
