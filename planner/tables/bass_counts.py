"""One subwoofer to all of them: in the brief's order, and at the best of its positions."""

import math

from planner.bass.best_settings import Best
from planner.bass.study import BassStudy
from planner.tables.bass_ways import together
from planner.tables.cells import NOT_KNOWN
from planner.tables.layout import Column, grid, paragraph, section

COUNT_HEADINGS = ("Count", "One signal", "Own outputs", "Best, one signal", "Best, own outputs")
COUNT_FIGURES = COUNT_HEADINGS[:3]
COUNTS_LEGEND = (
    "Spread in dB, all on one signal or each on an output of its own: for the first of the positions, as the brief"
    " lists them; then for the best of all positions, by number. A dash: too many choices to compare."
)


def counts_table(study: BassStudy) -> list[str]:
    """One line for each count, with the spread on one signal and with each on its own."""
    if not study.counts:
        return []
    columns = [Column(heading, right=True, flexible=heading.startswith("Best")) for heading in COUNT_HEADINGS]
    return section("One subwoofer to all", [*grid(columns, count_rows(study)), "", *paragraph(COUNTS_LEGEND)])


def count_rows(study: BassStudy) -> list[tuple[str, ...]]:
    """The counts under `COUNT_HEADINGS`."""
    return [
        (
            str(count.subwoofers),
            _spread(count.in_order_one_signal),
            _spread(count.in_order_own),
            _placed(count.best_one_signal),
            _placed(count.best_own),
        )
        for count in study.counts
    ]


def _spread(best: Best) -> str:
    return f"{math.sqrt(best.variance_db2):.2f}"


def _placed(best: Best | None) -> str:
    if best is None:
        return NOT_KNOWN
    return f"{together(tuple(n for group in best.grouping for n in group))}: {_spread(best)}"
