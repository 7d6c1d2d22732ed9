"""One subwoofer to all of them: in the brief's order, and at the best of its positions."""

import math

from planner.bass.best_settings import Best
from planner.bass.study import BassStudy
from planner.tables.bass_ways import together
from planner.tables.layout import Column, grid, paragraph, section


def counts_table(study: BassStudy) -> list[str]:
    """One line for each count, with the spread on one signal and with each on its own."""
    if not study.counts:
        return []
    columns = (
        Column("Count", right=True),
        Column("One signal", right=True),
        Column("Own outputs", right=True),
        Column("Best, one signal", right=True, flexible=True),
        Column("Best, own outputs", right=True, flexible=True),
    )
    rows = [
        (
            str(count.subwoofers),
            _spread(count.in_order_one_signal),
            _spread(count.in_order_own),
            _placed(count.best_one_signal),
            _placed(count.best_own),
        )
        for count in study.counts
    ]
    legend = (
        "Spread in dB, all on one signal or each on an output of its own: for the first of the positions, as the brief"
        " lists them; then for the best of all positions, by number. A dash: too many choices to compare."
    )
    return section("One subwoofer to all", [*grid(columns, rows), "", *paragraph(legend)])


def _spread(best: Best) -> str:
    return f"{math.sqrt(best.variance_db2):.2f}"


def _placed(best: Best | None) -> str:
    if best is None:
        return "-"
    return f"{together(tuple(n for group in best.grouping for n in group))}: {_spread(best)}"
