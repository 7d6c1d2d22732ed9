"""E1: the least price of the brief with a little more or less of one thing, step by step.

Each step is the least price of a brief of its own, with the brief's other limits and without
its budget. One model answers all steps of one set of loudspeaker channels, since the others are
bounds on its measures, and tighter bounds are never cheaper.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from planner.allocation.bounds import Bounds, limits_of
from planner.brief.records import Brief, Drive
from planner.catalogue.records import Catalogue
from planner.comparison.gear import BOXES, GearChange, gear_change
from planner.explain.clock import Clock
from planner.explain.least import NO_DESIGN, Answer, LeastPrices, Settled
from planner.explain.parallel import side_by_side
from planner.explain.variants import Variant, down_to, subwoofers_today, unpriced, up_to, with_channels
from planner.house import House
from planner.money import minor_digits

CHANNEL_STEPS = range(-4, 5)
SUBWOOFER_STEPS = range(-2, 5)
MOST_SPARE = 4


class Axis(StrEnum):
    """What a staircase counts."""

    CHANNELS = "loudspeaker_channels"
    SUBWOOFERS = "subwoofers"
    INDEPENDENT = "independent_subwoofers"
    SPARE = "spare_outputs"


class Drives(StrEnum):
    """ANY: as the brief allows. DEDICATED: every subwoofer on a processor output of its own."""

    ANY = "any"
    DEDICATED = "dedicated"


@dataclass(frozen=True, kw_only=True, slots=True)
class Step:
    """One step: so many in all, `change` from the brief, and the least price.

    `over_today_minor` is against the brief as it stands with any drive, `over_last_minor`
    against the step before; None where one of the two has no price. `gear` is what changes
    from the step before. `note` says what the step asks for where its count does not.
    """

    count: int
    change: int
    note: str
    answer: Answer
    over_today_minor: int | None
    over_last_minor: int | None
    over_budget: bool
    gear: GearChange | None


@dataclass(frozen=True, kw_only=True, slots=True)
class Staircase:
    """The steps of one axis, fewest first."""

    axis: Axis
    drives: Drives
    steps: tuple[Step, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Square:
    """One least price of the table of loudspeaker channels against subwoofers, by any drive."""

    channels_change: int
    subwoofers_change: int
    answer: Answer


@dataclass(frozen=True, kw_only=True, slots=True)
class PriceSteps:
    """All of E1: today's least price, a staircase an axis and drive, and the table."""

    today: Answer
    staircases: tuple[Staircase, ...]
    table: tuple[Square, ...]
    solves: int


class PriceGrid:
    """Least prices around a brief, each asked once and remembered."""

    def __init__(self, brief: Brief, catalogue: Catalogue, house: House, clock: Clock) -> None:
        self._catalogue, self._house, self.clock = catalogue, house, clock
        self.brief = _open(brief)
        self.today = subwoofers_today(brief)
        self.variants: Mapping[int, Variant] = {
            change: found for change in CHANNEL_STEPS if (found := with_channels(self.brief, change)) is not None
        }
        self._asked: dict[tuple[int, bool], LeastPrices] = {}
        self._known: dict[tuple[int, Bounds], Answer] = {}

    @property
    def solves(self) -> int:
        """How many times the solver was asked."""
        return sum(asked.solves for asked in self._asked.values())

    def least(
        self,
        channels: int,
        subwoofers: int,
        drives: Drives,
        *,
        independent: int | None = None,
        spare: int | None = None,
    ) -> Answer:
        """The least price with so many loudspeaker channels and subwoofers more, and these bounds for its own."""
        if channels not in self.variants or self.today + subwoofers < 0:
            return NO_DESIGN
        limits = limits_of(self.brief)
        bounds = replace(
            limits,
            subwoofers=self.today + subwoofers,
            output_each=drives is Drives.DEDICATED,
            independent=limits.independent if independent is None else independent,
            spare=limits.spare if spare is None else spare,
        )
        if drives is Drives.DEDICATED and Drive.DEDICATED not in self.brief.limits.drives and bounds.subwoofers:
            return NO_DESIGN
        key = (channels, bounds)
        if key not in self._known:
            self._known[key] = self._prices(channels, fewer=subwoofers < 0).least(bounds)
        return self._known[key]

    def _prices(self, channels: int, *, fewer: bool) -> LeastPrices:
        if (channels, fewer) not in self._asked:
            brief = self._ranged(self.variants[channels].brief, fewer=fewer)
            self._asked[channels, fewer] = LeastPrices(brief, self._catalogue, self._house, self.clock)
        return self._asked[channels, fewer]

    def _ranged(self, brief: Brief, *, fewer: bool) -> Brief:
        return down_to(brief, -SUBWOOFER_STEPS.start) if fewer else up_to(brief, SUBWOOFER_STEPS.stop - 1)


def price_steps(brief: Brief, catalogue: Catalogue, house: House, clock: Clock) -> PriceSteps:
    """E1 for one brief; steps that time did not allow are OPEN."""
    grid = PriceGrid(brief, catalogue, house, clock)
    budget = _budget_minor(brief)
    side_by_side(lambda channels: _settle(channels, grid), CHANNEL_STEPS)
    staircases = tuple(
        Staircase(axis=axis, drives=drives, steps=tuple(_steps(axis, drives, grid, budget)))
        for drives in Drives
        for axis in _axes(grid)
    )
    return PriceSteps(
        today=grid.least(0, 0, Drives.ANY), staircases=staircases, table=tuple(_table(grid)), solves=grid.solves
    )


def _settle(channels: int, grid: PriceGrid) -> None:
    """Asks all that is asked of one number of loudspeaker channels: no two of these share a model."""
    grid.clock.tell(f"price steps: {channels:+d} loudspeaker channels")
    for subwoofers in _subwoofer_steps(grid):
        grid.least(channels, subwoofers, Drives.ANY)
    grid.least(channels, 0, Drives.DEDICATED)
    if channels == 0:
        for axis in _axes(grid):
            for drives in Drives if axis is not Axis.CHANNELS else ():
                list(_questions(axis, drives, grid))


def _table(grid: PriceGrid) -> Iterator[Square]:
    for channels in grid.variants:
        for subwoofers in _subwoofer_steps(grid):
            answer = grid.least(channels, subwoofers, Drives.ANY)
            yield Square(channels_change=channels, subwoofers_change=subwoofers, answer=answer)


def _subwoofer_steps(grid: PriceGrid) -> tuple[int, ...]:
    """The steps that leave no fewer than none; none but the present one where the brief has no set of them."""
    return tuple(step for step in SUBWOOFER_STEPS if grid.today + step >= 0) if grid.brief.subwoofers else (0,)


def _open(brief: Brief) -> Brief:
    """The brief without budget, counting as many spare outputs as the steps ask for."""
    brief = unpriced(brief)
    ceiling = max(brief.limits.spare_ceiling, MOST_SPARE)
    return replace(brief, limits=replace(brief.limits, spare_ceiling=ceiling))


def _axes(grid: PriceGrid) -> tuple[Axis, ...]:
    """Those that the brief leaves something to count on."""
    channels = (Axis.CHANNELS,) if len(grid.variants) > 1 else ()
    bass = (Axis.SUBWOOFERS,) if grid.brief.subwoofers else ()
    return (*channels, *bass, *((Axis.INDEPENDENT,) if grid.today else ()), Axis.SPARE)


def _questions(axis: Axis, drives: Drives, grid: PriceGrid) -> Iterator[tuple[int, int, str, Answer]]:
    """(count, change, note, answer) of every step of an axis."""
    limits = grid.brief.limits
    match axis:
        case Axis.CHANNELS:
            today = len({p.channel for s in grid.brief.loudspeakers for p in s.placements})
            for change, variant in grid.variants.items():
                yield today + change, change, variant.words, grid.least(change, 0, drives)
        case Axis.SUBWOOFERS:
            for change in _subwoofer_steps(grid):
                yield grid.today + change, change, "", grid.least(0, change, drives)
        case Axis.INDEPENDENT:
            for count in range(1, grid.today + 1):
                change = count - limits.least_independent_subwoofers
                yield count, change, "", grid.least(0, 0, drives, independent=count)
        case Axis.SPARE:
            for count in range(MOST_SPARE + 1):
                yield count, count - limits.spare_outputs, "", grid.least(0, 0, drives, spare=count)


def _steps(axis: Axis, drives: Drives, grid: PriceGrid, budget: int | None) -> Iterator[Step]:
    today = grid.least(0, 0, Drives.ANY).price_minor
    last: Answer | None = None
    for count, change, note, answer in _questions(axis, drives, grid):
        price = answer.price_minor
        before = None if last is None else last.price_minor
        yield Step(
            count=count,
            change=change,
            note=note,
            answer=answer,
            over_today_minor=None if price is None or today is None else price - today,
            over_last_minor=None if price is None or before is None else price - before,
            over_budget=price is not None and budget is not None and price > budget,
            gear=None
            if last is None or last.priced is None or answer.priced is None
            else gear_change(last.priced.design, answer.priced.design, BOXES),
        )
        last = answer


def _budget_minor(brief: Brief) -> int | None:
    budget = brief.limits.budget
    return None if budget is None else int(budget.scaleb(minor_digits(brief.project.currency)))


def open_steps(steps: PriceSteps) -> int:
    """How many prices time did not allow to settle."""
    answers = [step.answer for stairs in steps.staircases for step in stairs.steps]
    answers += [square.answer for square in steps.table]
    return sum(answer.settled is Settled.OPEN for answer in answers)
