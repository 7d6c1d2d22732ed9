"""Starting values of one option, output by output."""

from collections.abc import Sequence

from planner.bass.starting_values import StartingValue
from planner.tables.bass_ways import filters_line
from planner.tables.cells import NOT_KNOWN, decimals

STARTING_HEADINGS = ("Output", "Subwoofers", "Gain, dB", "Delay, ms", "Polarity", "Filters", "Crossover, Hz")
STARTING_FIGURES = ("Gain, dB", "Delay, ms", "Crossover, Hz")
STARTING_LEGEND = (
    f"{NOT_KNOWN}: the device has no such control. The delays bring the subwoofers into step with one another, latency"
    " made up for. The crossover is set once, in the processor's bass management; then bring the loudspeakers to the"
    " subwoofers by measuring at the crossover."
)


def starting_rows(values: Sequence[StartingValue]) -> list[tuple[str, ...]]:
    """One row an output, under `STARTING_HEADINGS`."""
    return [
        (
            value.output,
            ", ".join(value.subwoofers),
            decimals(value.gain_db),
            decimals(value.delay_ms),
            value.polarity,
            filters_line(value.filters) or "none",
            f"{value.crossover_hz:g}",
        )
        for value in values
    ]
