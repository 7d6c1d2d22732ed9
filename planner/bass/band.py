"""The frequencies that the bass is judged over."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, slots=True)
class Band:
    """The frequencies that the spread is judged over, both ends included."""

    low_hz: float = 20.0
    high_hz: float = 80.0


USUAL_BAND = Band()
"""From the lowest that subwoofers are asked for to the usual crossover. Common practice, no published source."""
