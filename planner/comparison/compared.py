"""E2: two to four options side by side: what differs, what it costs, what it buys."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.comparison.gear import GearChange, gear_change
from planner.comparison.moves import Move, moves
from planner.comparison.price_split import Cause, Part, cause_of, price_split
from planner.costing import PriceList
from planner.design import Design
from planner.errors import WrongUsage
from planner.house import House
from planner.options import Option

FEWEST, MOST = 2, 4


class Figure(StrEnum):
    """A figure of an option that people compare."""

    SUBWOOFERS = "subwoofers"
    INDEPENDENT = "independent_subs"
    GROUPS = "control_groups"
    SPARE = "spare_outputs"
    LOST = "subs_lost_worst"
    CONVERSIONS = "conversions"
    JOINTS = "joints"
    EARTH_LOOPS = "earth_loops"
    MARGIN = "least_margin_db"
    SPREAD = "bass_spread_db"


WITH_PLACES = (Figure.MARGIN, Figure.SPREAD)
"""In decibels, told to a tenth; the others are whole numbers."""

MORE_IS_BETTER = (Figure.SUBWOOFERS, Figure.INDEPENDENT, Figure.GROUPS, Figure.SPARE, Figure.MARGIN)


@dataclass(frozen=True, kw_only=True, slots=True)
class Difference:
    """One figure before and after; `gain` is positive where after is better."""

    figure: Figure
    before: float
    after: float

    @property
    def gain(self) -> float:
        """How much better, in the figure's own unit."""
        return self.after - self.before if self.figure in MORE_IS_BETTER else self.before - self.after


@dataclass(frozen=True, kw_only=True, slots=True)
class LeadChange:
    """So many more (or, negative, fewer) bought or used of one lead, cable, adapter or connector."""

    sku: str
    more: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Comparison:
    """What changes from the first option to another. `parts` add up to `over_minor` exactly."""

    before: Option
    after: Option
    over_minor: int
    parts: tuple[Part, ...]
    gear: GearChange
    leads: tuple[LeadChange, ...]
    moves: tuple[Move, ...]
    differences: tuple[Difference, ...]


def comparisons(
    ids: Sequence[str], options: Sequence[Option], brief: Brief, catalogue: Catalogue, house: House
) -> tuple[Comparison, ...]:
    """The first of the options named against each of the others. Raises WrongUsage where they cannot be compared."""
    if not FEWEST <= len(ids) <= MOST or len(set(ids)) < len(ids):
        raise WrongUsage(f"name {FEWEST} to {MOST} different options to compare, not {', '.join(ids) or 'none'}.")
    option_by_id = {option.id: option for option in options}
    unknown = [option_id for option_id in ids if option_id not in option_by_id]
    if unknown:
        raise WrongUsage(f"no option {', '.join(unknown)}. The options are {', '.join(option_by_id)}.")
    prices = PriceList(brief, catalogue, house)
    first = option_by_id[ids[0]]
    return tuple(compared(first, option_by_id[option_id], catalogue, prices) for option_id in ids[1:])


def compared(before: Option, after: Option, catalogue: Catalogue, prices: PriceList) -> Comparison:
    """What changes from one option to another."""
    return Comparison(
        before=before,
        after=after,
        over_minor=after.quote.total_minor - before.quote.total_minor,
        parts=price_split(before.design, after.design, catalogue, prices),
        gear=gear_change(before.design, after.design),
        leads=_leads(before.design, after.design, catalogue),
        moves=moves(before.design, after.design),
        differences=tuple(_differences(figures(before), figures(after))),
    )


def figures(option: Option) -> Mapping[Figure, float | None]:
    """The figures of an option; None where one is not known."""
    measures = option.measures
    found: dict[Figure, float | None] = {Figure.SUBWOOFERS: sum(option.drives.values())}
    for figure in Figure:
        if figure is not Figure.SUBWOOFERS:
            found[figure] = getattr(measures, figure.value)
    return found


def _differences(before: Mapping[Figure, float | None], after: Mapping[Figure, float | None]) -> Iterator[Difference]:
    for figure in Figure:
        old, new = before[figure], after[figure]
        if old is not None and new is not None and round(old, 2) != round(new, 2):
            yield Difference(figure=figure, before=old, after=new)


def _leads(before: Design, after: Design, catalogue: Catalogue) -> tuple[LeadChange, ...]:
    """What is bought, or taken from what is owned, more or less of leads and what they are made of."""
    wanted = {item.sku for item in catalogue.items() if cause_of(item) is Cause.LEADS}
    count = Counter({line.sku: 0 for line in (*before.purchases, *after.purchases) if line.sku in wanted})
    for line in after.purchases:
        count[line.sku] += line.count if line.sku in wanted else 0
    for line in before.purchases:
        count[line.sku] -= line.count if line.sku in wanted else 0
    return tuple(LeadChange(sku=sku, more=count[sku]) for sku in sorted(count) if count[sku])
