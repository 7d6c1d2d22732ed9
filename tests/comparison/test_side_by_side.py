"""Options side by side, by hand: figures in their own words, and a bill whose differences add up."""

from dataclasses import replace
from decimal import Decimal

from planner.comparison.side_by_side import bill_differences, figure_rows
from tests.cli.example import CATALOGUE, CHEAPEST, DEARER

_FIRST, *_OTHERS = CHEAPEST.design.purchases
_FEWER_AND_MORE = replace(
    DEARER,
    design=replace(
        DEARER.design,
        purchases=(replace(_FIRST, count=_FIRST.count + 2), *_OTHERS[1:]),
        labour=tuple(replace(line, count=line.count + 1) for line in DEARER.design.labour),
    ),
)


def test_figures_stand_in_one_row_each() -> None:
    rows = figure_rows((CHEAPEST, DEARER), CATALOGUE)
    assert rows["Price with tax, EUR"] == ("8,988.00", "9,818.00")
    assert rows["Over the first, EUR"] == ("+0.00", "+830.00")
    assert rows["Subwoofers set independently"] == ("1", "5")
    assert CHEAPEST.measures.bass_spread_db is None
    assert rows["Predicted bass spread over the seats, dB"] == ("–", "–")


def test_only_what_differs_is_listed_and_adds_up_to_the_difference_before_tax() -> None:
    assert bill_differences((CHEAPEST, DEARER), CATALOGUE) == {}
    rows = bill_differences((CHEAPEST, _FEWER_AND_MORE), CATALOGUE)
    assert len(rows) == 3
    assert "Labour" in rows
    sums = [sum(Decimal(cells[at].replace(",", "") or 0) for cells in rows.values()) for at in (0, 1)]
    each, labour = _FIRST.unit_price_minor, CHEAPEST.design.labour[0].unit_price_minor
    gone = _OTHERS[0].count * _OTHERS[0].unit_price_minor
    assert (sums[1] - sums[0]) * 100 == 2 * each + labour - gone
