"""E1: the least price of the brief with a little more or less of one thing, step by step.

Each step is the least price of a brief of its own, with the brief's other limits and without
its budget. One model answers all steps of one set of loudspeaker channels, since the others are
bounds on its measures, and tighter bounds are never cheaper.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Future
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import partial

from planner.allocation.bounds import Bounds, limits_of
from planner.brief.records import Brief, Drive, PhysicalLimit
from planner.catalogue.records import Catalogue
from planner.comparison.gear import BOXES, GearChange, gear_change
from planner.explain.clock import Clock
from planner.explain.least import NO_DESIGN, Answer, LeastPrices, Priced, Settled
from planner.explain.parallel import Work
from planner.explain.variants import Variant, down_to, subwoofers_today, unpriced, up_to, with_channels
from planner.house import House
from planner.money import minor_digits
from planner.options import Option

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
    """Least prices around a brief, each asked once and remembered.

    `held` as in `LeastPrices`. `options` are designs that the brief is known to have: their prices are where
    the search looks first, as are the steps of the brief itself for other numbers of loudspeaker channels.
    `nearest`: no steps but to one more of each thing.
    """

    def __init__(
        self, brief: Brief, catalogue: Catalogue, house: House, clock: Clock,
        held: frozenset[PhysicalLimit] | None = None, options: Sequence[Option] = (), *, nearest: bool = False,
    ) -> None:  # fmt: skip
        self._catalogue, self._house, self._clock = catalogue, house, clock
        self._held, self._options, self.nearest = held, options, nearest
        self.brief = _open(brief)
        self.budget_minor = _budget_minor(brief)
        self.today = subwoofers_today(brief)
        self.variants: Mapping[int, Variant] = {
            change: found
            for change in self.near(CHANNEL_STEPS)
            if (found := with_channels(self.brief, change)) is not None
        }
        self._asked: dict[tuple[int, int], LeastPrices] = {}
        self._known: dict[_Place, Answer] = {}

    def near(self, changes: Iterable[int]) -> list[int]:
        """The changes that are asked about."""
        return [change for change in changes if not self.nearest or change in (0, 1)]

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
        place = _Place(channels, subwoofers, bounds)
        if place not in self._known:
            self._known[place] = self._found(place)
        return self._known[place]

    def _found(self, place: "_Place") -> Answer:
        """The answer to a question not asked before; the cheapest option, once proven, is that to the brief itself."""
        meeting = [option for option in self._options if _offers(option, place)]
        best = min(meeting, key=lambda option: option.quote.total_minor, default=None)
        if best is not None and best.proven and place == self._place_of(0, 0):
            return Answer(Settled.FOUND, Priced.of(best))
        guess = self._step_on(place) if best is None else best.quote.total_minor
        answer = self._prices(place.channels, place.subwoofers).least(place.bounds, guess_minor=guess)
        if best is not None and answer.settled is Settled.OPEN and answer.best is None:
            return replace(answer, best=Priced.of(best))
        return answer

    def _prices(self, channels: int, subwoofers: int) -> LeastPrices:
        """The prices of a range of subwoofers around the brief's, in which so many more are."""
        reach = self._reach(subwoofers)
        if (channels, reach) not in self._asked:
            variant = self.variants[channels].brief
            ranged = down_to(variant, -reach) if reach < 0 else up_to(variant, reach)
            self._asked[channels, reach] = LeastPrices(
                ranged, self._catalogue, self._house, self._clock, held=self._held
            )
        return self._asked[channels, reach]

    def _reach(self, subwoofers: int) -> int:
        """How many more the sets are given room for. Where many may be daisy-chained each is dear to leave room for."""
        steps = self.near(SUBWOOFER_STEPS)
        if subwoofers < 0:
            return steps[0]
        return subwoofers if self.today > _FEW and subwoofers <= 1 else steps[-1]

    def _step_on(self, place: "_Place") -> int | None:
        """A price that the least hardly exceeds, a step on from what is known; None where too little is."""
        inner = place.subwoofers - 1 if place.subwoofers > 0 else place.subwoofers + 1
        inner_price = self._price(place.channels, inner)
        if place.bounds.output_each or not place.subwoofers or inner_price is None:
            return None
        if place.channels:
            here, there = self._price(0, place.subwoofers), self._price(0, inner)
        else:
            here, there = inner_price, self._price(0, inner - 1 if inner > 0 else inner + 1)
        if here is None or there is None:
            return None
        return inner_price + here - there + round(abs(here - there) * _LEEWAY)

    def _price(self, channels: int, subwoofers: int) -> int | None:
        """What is known of a place in the table."""
        answer = self._known.get(self._place_of(channels, subwoofers))
        return None if answer is None else answer.price_minor

    def _place_of(self, channels: int, subwoofers: int) -> "_Place":
        bounds = replace(limits_of(self.brief), subwoofers=self.today + subwoofers)
        return _Place(channels, subwoofers, bounds)


@dataclass(frozen=True, slots=True)
class _Place:
    """Loudspeaker channels and subwoofers more, and the bounds that go with them."""

    channels: int
    subwoofers: int
    bounds: Bounds


_FEW = 4
"""Up to so many subwoofers one model serves all steps from the brief's number on. A matter of speed only: a step
asks for so many at least, and more are not cheaper."""

_LEEWAY = 0.05
"""A step is seldom dearer by more than this part of a like step; a matter of speed only."""


def _offers(option: Option, place: _Place) -> bool:
    """Whether an option of the brief as it stands is a design of this place."""
    drives, measures = Counter(option.drives), option.measures
    return (
        not place.channels
        and place.subwoofers >= 0
        and drives.total() >= place.bounds.subwoofers
        and measures.independent_subs >= place.bounds.independent
        and measures.spare_outputs >= place.bounds.spare
        and (not place.bounds.output_each or drives.total() == drives[Drive.DEDICATED.value])
    )


def price_steps(
    brief: Brief, catalogue: Catalogue, house: House, clock: Clock,
    held: frozenset[PhysicalLimit] | None = None, options: Sequence[Option] = (), *, nearest: bool = False,
) -> PriceSteps:  # fmt: skip
    """E1 for one brief, `held`, `options` and `nearest` as in `PriceGrid`; steps that time did not allow are OPEN."""
    grid = PriceGrid(brief, catalogue, house, clock, held, options, nearest=nearest)
    with Work(clock) as work:
        ask_table(grid, work, ask_stairs(grid, work))
    return found_steps(grid)


def ask_stairs(grid: PriceGrid, work: Work) -> Mapping[int, Future[None]]:
    """Has every staircase asked for, by number of channels: the brief's own first, then the nearest."""
    own = work.put("price steps", lambda: _ask_own(grid))
    asked: dict[int, Future[None]] = {0: own}
    for channels in sorted(grid.variants, key=lambda change: (abs(change), -change)):
        if channels:
            what = f"price steps: {channels:+d} loudspeaker {'channel' if abs(channels) == 1 else 'channels'}"
            asked[channels] = work.put(what, partial(_ask_channels, grid, channels))
    return asked


def ask_table(grid: PriceGrid, work: Work, stairs: Mapping[int, Future[None]]) -> None:
    """Has the rest of the table asked for, each row after its step of a staircase and after the brief's own."""
    for channels, step in stairs.items():
        if channels:
            work.put("price steps: the table", partial(_ask_row, grid, channels), after=(stairs[0], step))


def found_steps(grid: PriceGrid) -> PriceSteps:
    """All that was asked for, once it is answered."""
    staircases = tuple(
        Staircase(axis=axis, drives=drives, steps=tuple(_steps(axis, drives, grid)))
        for drives in Drives
        for axis in _axes(grid)
    )
    return PriceSteps(
        today=grid.least(0, 0, Drives.ANY), staircases=staircases, table=tuple(_table(grid)), solves=grid.solves
    )


def _ask_own(grid: PriceGrid) -> None:
    """The brief as it stands, and all steps that keep its loudspeaker channels, the smallest first."""
    grid.least(0, 0, Drives.ANY)
    axes = [axis for axis in _axes(grid) if axis is not Axis.CHANNELS]
    for drives in Drives:
        steps = [(change, ask) for axis in axes for _, change, _, ask in _questions(axis, drives, grid)]
        for _, ask in sorted(steps, key=lambda step: (abs(step[0]), step[0] < 0)):
            ask()


def _ask_channels(grid: PriceGrid, channels: int) -> None:
    for drives in Drives:
        grid.least(channels, 0, drives)


def _ask_row(grid: PriceGrid, channels: int) -> None:
    for subwoofers in sorted(_subwoofer_steps(grid), key=lambda change: (abs(change), -change)):
        grid.least(channels, subwoofers, Drives.ANY)


def _table(grid: PriceGrid) -> Iterator[Square]:
    for channels in grid.variants:
        for subwoofers in _subwoofer_steps(grid):
            answer = grid.least(channels, subwoofers, Drives.ANY)
            yield Square(channels_change=channels, subwoofers_change=subwoofers, answer=answer)


def _subwoofer_steps(grid: PriceGrid) -> tuple[int, ...]:
    """The steps that leave no fewer than none; none but the present one where the brief has no set of them."""
    steps = grid.near(SUBWOOFER_STEPS) if grid.brief.subwoofers else [0]
    return tuple(step for step in steps if grid.today + step >= 0)


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


def _questions(axis: Axis, drives: Drives, grid: PriceGrid) -> Iterator[tuple[int, int, str, Callable[[], Answer]]]:
    """(count, change, note, how to ask for the answer) of every step of an axis."""
    limits, ask = grid.brief.limits, partial(partial, grid.least)
    match axis:
        case Axis.CHANNELS:
            today = len({p.channel for s in grid.brief.loudspeakers for p in s.placements})
            for change, variant in grid.variants.items():
                yield today + change, change, variant.words, ask(change, 0, drives)
        case Axis.SUBWOOFERS:
            for change in _subwoofer_steps(grid):
                yield grid.today + change, change, "", ask(0, change, drives)
        case Axis.INDEPENDENT:
            least = limits.least_independent_subwoofers
            for change in grid.near(range(1 - least, grid.today + 1 - least)):
                yield least + change, change, "", ask(0, 0, drives, independent=least + change)
        case Axis.SPARE:
            least = limits.spare_outputs
            for change in grid.near(range(-least, MOST_SPARE + 1 - least)):
                yield least + change, change, "", ask(0, 0, drives, spare=least + change)


def _steps(axis: Axis, drives: Drives, grid: PriceGrid) -> Iterator[Step]:
    today = grid.least(0, 0, Drives.ANY).price_minor
    last: Answer | None = None
    for count, change, note, ask in _questions(axis, drives, grid):
        answer = ask()
        price = answer.price_minor
        before = None if last is None else last.price_minor
        yield Step(
            count=count,
            change=change,
            note=note,
            answer=answer,
            over_today_minor=None if price is None or today is None else price - today,
            over_last_minor=None if price is None or before is None else price - before,
            over_budget=price is not None and grid.budget_minor is not None and price > grid.budget_minor,
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
