"""R15 for people: the delay of every feed, at which device, and whether its range allows it."""

from collections.abc import Sequence

from planner.physics.delay import DelayLine
from planner.physics.delay_findings import ALIGNED_MS
from planner.tables.cells import decimals

DELAY_HEADINGS = (
    "Feed",
    "Distance, m",
    "Latency, ms",
    "Arrives, ms",
    "Set at",
    "Delay to set, ms",
    "Range, ms",
    "Outcome",
)
DELAY_FIGURES = (*DELAY_HEADINGS[1:4], *DELAY_HEADINGS[5:7])


def delay_rows(lines: Sequence[DelayLine]) -> list[tuple[str, ...]]:
    """A row a feed, control point by control point."""
    return [
        (
            line.unit,
            decimals(line.distance_m, 2),
            decimals(line.latency_ms, 2),
            decimals(line.arrival_ms, 2),
            line.control,
            decimals(line.set_ms, 2),
            decimals(line.range_ms, 2),
            outcome_words(line),
        )
        for line in lines
    ]


def outcome_words(line: DelayLine) -> str:
    """What comes of the delay set there: aligned, or part of it made before, lacking range, or shared with others."""
    parts = []
    if line.before:
        parts.append(f"{line.before_ms:.2f} ms more at {line.before}")
    if line.short_ms > ALIGNED_MS:
        parts.append(f"{line.short_ms:.2f} ms short of range")
    shared_ms = line.early_ms - line.short_ms
    if shared_ms > ALIGNED_MS:
        parts.append(f"{shared_ms:.2f} ms early, since it shares the delay of others")
    return "; ".join(parts) or "aligned"
