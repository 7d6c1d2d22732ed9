"""A trade-off set held against an oracle: what its options say of every combination of bounds."""

from collections.abc import Iterator, Sequence
from itertools import product

from planner.brief.records import Measure
from planner.design import Measures
from tests.oracle.instance import Bounds

MORE_IS_BETTER = (Measure.INDEPENDENT_SUBWOOFERS, Measure.SPARE_OUTPUTS)
Cell = dict[Measure, int]
"""A bound for some of the measures: the least where more is better, else the most."""


def value(measures: Measures, measure: Measure) -> int:
    """One measure of a design."""
    match measure:
        case Measure.PRICE:
            return measures.price_minor
        case Measure.INDEPENDENT_SUBWOOFERS:
            return measures.independent_subs
        case Measure.SPARE_OUTPUTS:
            return measures.spare_outputs
        case Measure.JOINTS:
            return measures.joints
        case Measure.SUBWOOFERS_LOST:
            return measures.subs_lost_worst
        case Measure.CONVERSIONS:
            return measures.conversions
        case Measure.EARTH_LOOPS:
            return measures.earth_loops or 0
        case Measure.LEAST_MARGIN:
            raise AssertionError("no whole number; see tests.oracle.instances")


def own_cell(measures: Measures, chosen: Sequence[Measure]) -> Cell:
    """The bounds that a design just meets, in the measures chosen."""
    return {measure: value(measures, measure) for measure in chosen if measure is not Measure.PRICE}


def bounds_of(cell: Cell) -> Bounds:
    """The cell as an oracle is asked for it."""
    return Bounds(
        least_independent=cell.get(Measure.INDEPENDENT_SUBWOOFERS, 0),
        least_spare=cell.get(Measure.SPARE_OUTPUTS, 0),
        most_lost=cell.get(Measure.SUBWOOFERS_LOST),
        most_conversions=cell.get(Measure.CONVERSIONS),
        most_joints=cell.get(Measure.JOINTS),
    )


def implied_price(options: Sequence[Measures], cell: Cell) -> int | None:
    """The least price of the options that meet a cell; None where none does."""
    return min((option.price_minor for option in options if _meets(option, cell)), default=None)


def loosest_corners(options: Sequence[Measures], chosen: Sequence[Measure]) -> Iterator[Cell]:
    """The cells at which the implied price rises, or ends, whichever bound is loosened.

    The least price under bounds never falls as they tighten. So where an oracle's price is the
    implied one at every one of these cells, no cell at all has a cheaper design.
    """
    measures = [measure for measure in chosen if measure is not Measure.PRICE]
    for limits in product(*(_limits(options, measure) for measure in measures)):
        cell = dict(limit for limit in limits if limit is not None)
        price = implied_price(options, cell)
        looser = (implied_price(options, looser_cell) for looser_cell in _loosened(options, cell))
        if all(other is not None and (price is None or other < price) for other in looser):
            yield cell


def dominates(one: Measures, other: Measures, chosen: Sequence[Measure]) -> bool:
    """Whether `one` is at least as good in all measures chosen and better in one."""
    at_least_as_good = (
        implied_price([one], own_cell(other, chosen)) is not None and one.price_minor <= other.price_minor
    )
    return at_least_as_good and any(value(one, measure) != value(other, measure) for measure in chosen)


def _meets(option: Measures, cell: Cell) -> bool:
    return all(
        value(option, measure) >= bound if measure in MORE_IS_BETTER else value(option, measure) <= bound
        for measure, bound in cell.items()
    )


def _limits(options: Sequence[Measures], measure: Measure) -> list[tuple[Measure, int] | None]:
    """No bound, then each that just shuts an option out, from loose to tight."""
    step = 1 if measure in MORE_IS_BETTER else -1
    values = {value(option, measure) + step for option in options}
    return [None, *((measure, bound) for bound in sorted(values, reverse=step < 0) if bound >= 0)]


def _loosened(options: Sequence[Measures], cell: Cell) -> Iterator[Cell]:
    """The cell with one of its bounds a step looser."""
    for measure in cell:
        limits = _limits(options, measure)
        next_looser = limits[limits.index((measure, cell[measure])) - 1]
        others = {other: bound for other, bound in cell.items() if other is not measure}
        yield others if next_looser is None else {**others, measure: next_looser[1]}
