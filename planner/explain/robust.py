"""E5: which option stays the cheapest while prices move, and where the answer turns.

The options compared are those that offer at least what the explained one does. An option keeps
its gear and its suppliers, so its price is linear in each rate (in its inverse) and each rise. The
least price of any design, by contrast, is found anew for each scenario. The regret of an option, what it costs
above that, is then convex along each band, so that its greatest is at a corner of the bands;
up to the rounding of unit prices.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from planner.brief.records import Brief, PhysicalLimit
from planner.catalogue.records import Catalogue
from planner.comparison.gear import GearChange, gear_change
from planner.explain.bands import TODAY, Band, BandKind, Basket, Moved, Repriced, Scenario, corners
from planner.explain.clock import Clock
from planner.explain.least import Answer, LeastPrices, Settled
from planner.explain.variants import unpriced
from planner.explain.why_gear import bounds_of
from planner.house import House
from planner.options import Option


@dataclass(frozen=True, kw_only=True, slots=True)
class Span:
    """The least and the greatest price of one option over all corners, and its greatest regret and where."""

    option_id: str
    low_minor: int
    high_minor: int
    regret_minor: int
    worst: Scenario


@dataclass(frozen=True, kw_only=True, slots=True)
class Flip:
    """Where another design becomes the cheapest, one band moving alone; `percent` None: nowhere up to the end.

    `option_id` names it where it is an option of the set. `settled`: false where time ran out.
    """

    band: Band
    end_percent: Decimal
    percent: Decimal | None
    option_id: str | None = None
    gear: GearChange | None = None
    settled: bool = True


@dataclass(frozen=True, kw_only=True, slots=True)
class Robust:
    """All of E5 for one option. `spans` by regret, the least first; empty where time ran out."""

    option_id: str
    now_minor: int
    bands: tuple[Band, ...]
    spans: tuple[Span, ...]
    flips: tuple[Flip, ...]
    settled: bool


class Market:
    """Least prices in one scenario after another, within what one option offers; `held` as in `LeastPrices`.

    Each scenario is worked out once: a corner at which only one band moves is an end of that band.
    """

    def __init__(
        self, option: Option, brief: Brief, catalogue: Catalogue, house: House, clock: Clock,
        held: frozenset[PhysicalLimit] | None,
    ) -> None:  # fmt: skip
        self.brief, self._bounds = unpriced(brief), bounds_of(option.measures, brief)
        self._catalogue, self._house, self._clock, self._held = catalogue, house, clock, held
        self._repriced: dict[Scenario, Repriced] = {}
        self._cheapest: dict[Scenario, Answer] = {}
        self.ours = self.prices(TODAY).basket(option.design)

    def prices(self, scenario: Scenario) -> Repriced:
        """What any design costs in a scenario."""
        scenario = _moving(scenario)
        if scenario not in self._repriced:
            self._repriced[scenario] = Repriced(scenario, self.brief, self._catalogue, self._house)
        return self._repriced[scenario]

    def cheapest(self, scenario: Scenario) -> Answer:
        """The least price of any design in a scenario: at most that of the option itself."""
        scenario = _moving(scenario)
        if scenario not in self._cheapest:
            then = self.prices(scenario)
            there = LeastPrices(self.brief, then.catalogue, then.house, self._clock, held=self._held)
            self._cheapest[scenario] = there.least(self._bounds, guess_minor=then.total_minor(self.ours))
        return self._cheapest[scenario]


def _moving(scenario: Scenario) -> Scenario:
    """The movements of a scenario that are any."""
    return tuple(moved for moved in scenario if moved.percent)


def robust(
    option: Option, options: Sequence[Option], bands: tuple[Band, ...], brief: Brief, catalogue: Catalogue,
    house: House, clock: Clock, held: frozenset[PhysicalLimit] | None = None,
) -> Robust:  # fmt: skip
    """Price spans, regrets and flips; the brief's budget does not bound what prices may become."""
    market = Market(option, brief, catalogue, house, clock, held)
    rivals = [one for one in options if bounds_of(one.measures, brief).within(bounds_of(option.measures, brief))]
    scenarios = corners(bands)
    flips = [_flip(option, options, band, end, market) for band in bands for end in band.ends]
    answers = [market.cheapest(scenario) for scenario in scenarios]
    settled = all(answer.settled is Settled.FOUND for answer in answers)
    spans = [_span(rival, scenarios, answers, market) for rival in rivals] if settled and bands else []
    return Robust(
        option_id=option.id,
        now_minor=option.measures.price_minor,
        bands=bands,
        spans=tuple(sorted(spans, key=lambda span: span.regret_minor)),  # stable: the cheaper first
        flips=tuple(flips),
        settled=settled and all(flip.settled for flip in flips),
    )


def _span(option: Option, scenarios: Sequence[Scenario], answers: Sequence[Answer], market: Market) -> Span:
    bought = market.prices(TODAY).basket(option.design)
    prices = [market.prices(scenario).total_minor(bought) for scenario in scenarios]
    regrets = [price - (answer.price_minor or 0) for price, answer in zip(prices, answers, strict=True)]
    worst = max(range(len(scenarios)), key=lambda n: regrets[n])
    today = option.measures.price_minor
    return Span(
        option_id=option.id,
        low_minor=min(today, *prices),
        high_minor=max(today, *prices),
        regret_minor=regrets[worst],
        worst=scenarios[worst],
    )


def _flip(option: Option, options: Sequence[Option], band: Band, end: Decimal, market: Market) -> Flip:
    """The nearest point on the way from today to the end of a band at which another design draws level.

    From the end inwards: where the cheapest design there draws level with the option is a
    point nearer to today; once nothing is cheaper at such a point, it is the nearest.
    """
    ours, point = market.ours, end
    found: Flip = Flip(band=band, end_percent=end, percent=None)
    while True:
        scenario = (Moved(band, point),)
        answer, there = market.cheapest(scenario), market.prices(scenario)
        if answer.priced is None:
            return replace(found, settled=answer.settled is Settled.NONE)
        theirs = there.basket(answer.priced.design)
        saved = there.subtotal_minor(ours) - answer.priced.quote.subtotal_minor
        if saved <= (ours.pieces + theirs.pieces) // 2 + 1:  # what the rounding of unit prices can make of nothing
            return found
        point = _level(ours, theirs, band, end, market)
        same = next((one.id for one in options if market.prices(TODAY).basket(one.design) == theirs), None)
        change = gear_change(option.design, answer.priced.design)
        found = Flip(band=band, end_percent=end, percent=point, option_id=same, gear=change)


def _level(one: Basket, other: Basket, band: Band, end: Decimal, market: Market) -> Decimal:
    """The move of the band at which two baskets cost the same.

    Prices are linear in a rise, in the rate of the currency that is quoted in, and in the inverse
    of any other rate.
    """
    now, then = market.prices(TODAY), market.prices((Moved(band, end),))
    before = now.unrounded_minor(one) - now.unrounded_minor(other)
    after = then.unrounded_minor(one) - then.unrounded_minor(other)
    way = before / (before - after)  # of the way from today to the end, in what the prices are linear in
    factor = Fraction(1 + end / 100)
    inverse = band.kind is BandKind.RATE and band.name != market.brief.project.currency
    level = 1 / (1 + way * (1 / factor - 1)) if inverse else 1 + way * (factor - 1)
    return Decimal(round((level - 1) * 10**8)) / 10**6


def winner(found: Robust) -> Span | None:
    """The option of the least worst-case regret; of equals, the cheapest."""
    return found.spans[0] if found.spans else None
