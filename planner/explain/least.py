"""The least price of one brief under bounds on the measures, asked again and again.

Answers are remembered: bounds that a known answer meets are answered without a search where
looser bounds have the same answer, and a known design is one to beat. Each design is
assembled and verified afresh before it counts, once. Limits of R11 to R15 enter the search where
a design that it finds breaks them.
"""

from collections import Counter
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import TypeVar

from planner.allocation.bounds import Bounds, limits_of
from planner.allocation.solve import MOST_SCORE, Outcome, Verdict
from planner.allocation.trade_off import Found
from planner.allocation.whole import Gear, WholeModel
from planner.brief.records import Brief, Drive, PhysicalLimit
from planner.catalogue.records import Catalogue
from planner.checks import Verifier
from planner.costing import PriceList
from planner.demand.build import Demand, build_demand
from planner.demand.counts import Counts
from planner.demand.flows import Mode
from planner.demand.shelf import Shelf
from planner.design import Design, Measures
from planner.errors import PlannerBug
from planner.explain.clock import Clock
from planner.finds import Finds
from planner.house import House
from planner.limits_met import LimitsBroken, LimitWatch, holding, likely
from planner.options import Option, Quote
from planner.proof import proven_design

Came = TypeVar("Came")


class Settled(StrEnum):
    """FOUND: this is the least price. NONE: no valid design. OPEN: time ran out before it was known."""

    FOUND = "found"
    NONE = "none"
    OPEN = "open"


@dataclass(frozen=True, kw_only=True, slots=True)
class Priced:
    """One verified design with what it offers and costs. `drives` as in `Option`."""

    design: Design
    measures: Measures
    quote: Quote
    drives: Mapping[str, int]

    @classmethod
    def of(cls, option: Option) -> "Priced":
        """An option as it was answered."""
        return cls(design=option.design, measures=option.measures, quote=option.quote, drives=option.drives)

    @property
    def price_minor(self) -> int:
        """The price with tax."""
        return self.quote.total_minor


@dataclass(frozen=True, slots=True)
class Answer:
    """What one question came to: a design where it is FOUND; `best`: the cheapest seen where it is OPEN, if any."""

    settled: Settled
    priced: Priced | None = None
    best: Priced | None = None

    @property
    def price_minor(self) -> int | None:
        """The least price with tax, None where there is none or it is not known."""
        return None if self.priced is None else self.priced.price_minor

    @property
    def at_most_minor(self) -> int | None:
        """What it costs at most, with tax, where the least is not known but a design is."""
        return None if self.best is None else self.best.price_minor


NO_DESIGN, NOT_KNOWN = Answer(Settled.NONE), Answer(Settled.OPEN)


@dataclass(frozen=True, slots=True)
class _Asked:
    """One question: bounds, gear of which some is to be used (empty: no matter), and gear that is not."""

    bounds: Bounds
    some_of: frozenset[str]
    none_of: frozenset[str]

    @property
    def gear(self) -> Gear:
        """The gear as a model is asked for it, in a fixed order."""
        return Gear(some_of=tuple(sorted(self.some_of)), none_of=tuple(sorted(self.none_of)))

    def within(self, other: "_Asked") -> bool:
        """Whether all that answers this question answers the other."""
        return (
            self.bounds.within(other.bounds)
            and self.none_of >= other.none_of
            and (not other.some_of or (bool(self.some_of) and self.some_of <= other.some_of))
        )


@dataclass(frozen=True, slots=True)
class _Known:
    """A proven answer: what was asked, the bounds that its design reaches, the gear in it, and its score."""

    asked: _Asked
    reaches: Bounds
    uses: frozenset[str]
    counts: Counts
    score: int

    def answers(self, asked: _Asked) -> bool:
        """Whether the design is one of those asked for; it need not be the cheapest."""
        return (
            self.reaches.within(asked.bounds)
            and not self.uses & asked.none_of
            and (not asked.some_of or bool(self.uses & asked.some_of))
        )


class LeastPrices:
    """Least prices of one brief. Gear that is `kept` can be asked for even where other gear does the same for less.

    The search is held to the limits `held` of R11 to R15 at first (None: the likely ones), and to each other
    from the first design on that breaks it, as `planner.limits_met` argues.

    Not for several threads at once: what is known settles which of equal designs is the answer.
    """

    def __init__(
        self, brief: Brief, catalogue: Catalogue, house: House, clock: Clock, kept: Collection[str] = frozenset(),
        *, held: frozenset[PhysicalLimit] | None = None,
    ) -> None:  # fmt: skip
        self.brief, self._catalogue, self._house, self._clock = brief, catalogue, house, clock
        self._kept = kept
        self._held = likely(brief) if held is None else held
        self._verifier = Verifier(brief, catalogue, house)
        self._searched: _Searched | None = None
        self._empty: list[_Asked] = []
        self.solves = 0

    @property
    def demand(self) -> Demand:
        """All that may be chosen; it leaves out no gear that is kept."""
        return self._search().demand

    @property
    def shelf(self) -> Shelf:
        """What can be bought, and at which prices; it is there before anything is searched."""
        return Shelf(self.brief, self._catalogue, PriceList(self.brief, self._catalogue, self._house), self._kept)

    def least(
        self,
        bounds: Bounds | None = None,
        *,
        some_of: Collection[str] = (),
        none_of: Collection[str] = (),
        guess_minor: int | None = None,
    ) -> Answer:
        """The least price within the bounds, else the brief's own limits; with some of one gear, without the other.

        Where a price with tax that it hardly exceeds is guessed, it is sought up to there first: a
        guess that is right makes the proof short, and no answer hangs on it.
        """
        asked = _Asked(bounds or limits_of(self.brief), frozenset(some_of), frozenset(none_of))
        return self._met(lambda search: self._least(search, asked, guess_minor), NOT_KNOWN)

    def exists(self) -> bool | None:
        """Whether there is any valid design; None where time ran out first."""
        return self._met(self._exists, None)

    def entering(self, bounds: Bounds, sku: str, discount_minor: int, most_minor: int) -> Answer:
        """A design with a device that would cost no more than `most_minor` before tax, were each sold so much cheaper.

        Of those the cheapest; the answer is at full prices.
        """
        asked = _Asked(bounds, frozenset((sku,)), frozenset())
        return self._met(lambda search: self._entering(search, asked, {sku: discount_minor}, most_minor), NOT_KNOWN)

    def _met(self, ask: Callable[["_Searched"], Came], not_known: Came) -> Came:
        """What a question comes to in a search that is held to every limit which the designs found would break."""
        while not self._clock.over:
            try:
                return ask(self._search())
            except LimitsBroken as broken:
                self._held |= broken.limits
                self._searched = None
        return not_known

    def _search(self) -> "_Searched":
        if self._searched is None:
            demand = build_demand(holding(self.brief, self._held), self._catalogue, self._house, self._kept)
            model = WholeModel(demand, self._clock.recall) if demand.possible else None
            self._searched = _Searched(demand, model, LimitWatch(Finds(demand, self.brief, self._catalogue)))
        return self._searched

    def _exists(self, search: "_Searched") -> bool | None:
        if search.model is None:
            return False
        self.solves += 1
        outcome = search.model.exists(limits_of(self.brief), self._clock.share_s)
        if outcome.counts is not None:
            search.watch(outcome.counts)
        return None if outcome.verdict is Verdict.UNKNOWN else outcome.verdict is not Verdict.NONE

    def _entering(
        self, search: "_Searched", asked: _Asked, discount_minor: Mapping[str, int], most_minor: int
    ) -> Answer:
        if search.model is None:
            return NO_DESIGN
        self.solves += 1
        outcome = search.model.cheapest(
            asked.bounds, self._clock.share_s, floor=-MOST_SCORE, below=search.model.beyond(most_minor),
            gear=Gear(some_of=tuple(asked.some_of), discount_minor=discount_minor),
        )  # fmt: skip
        if outcome.verdict is Verdict.OPTIMAL and outcome.counts is not None:
            return Answer(Settled.FOUND, self._priced(search, outcome.counts, asked))
        return NO_DESIGN if outcome.verdict is Verdict.NONE else NOT_KNOWN

    def _least(self, search: "_Searched", asked: _Asked, guess_minor: int | None) -> Answer:
        """One solve, told what a looser question costs at least, and of a design to beat; two after a wrong guess."""
        if search.model is None or any(asked.within(empty) for empty in self._empty):
            return NO_DESIGN
        same = next((k for k in search.known if asked.within(k.asked) and k.answers(asked)), None)
        if same is not None:
            return Answer(Settled.FOUND, self._priced(search, same.counts, asked))
        floor = max((k.score for k in search.known if asked.within(k.asked)), default=search.model.least_score)
        best = min((k for k in search.known if k.answers(asked)), key=lambda k: k.score, default=None)
        below = MOST_SCORE if best is None else best.score
        outcome = Outcome(Verdict.NONE)
        for ceiling in (*_guessed(search, guess_minor), below):
            if outcome.verdict is not Verdict.NONE or not floor < min(ceiling, below):
                continue
            self.solves += 1
            outcome = search.model.cheapest(
                asked.bounds, self._clock.share_s, floor=floor, below=min(ceiling, below), gear=asked.gear
            )
            floor = ceiling  # where nothing costs less
        match outcome.verdict:
            case Verdict.OPTIMAL if outcome.counts is not None:
                return self._learn(search, asked, outcome.counts, outcome.score)
            case Verdict.NONE if best is not None:
                return self._learn(search, asked, best.counts, best.score)
            case Verdict.NONE:
                self._empty.append(asked)
                return NO_DESIGN
        reached = outcome.counts or (best.counts if best is not None else None)
        return NOT_KNOWN if reached is None else Answer(Settled.OPEN, best=self._priced(search, reached, asked))

    def _learn(self, search: "_Searched", asked: _Asked, counts: Counts, score: int) -> Answer:
        priced = self._priced(search, counts, asked, proven=True)
        uses = frozenset(unit.sku for unit in priced.design.units)
        search.known.append(_Known(asked, _reached(search.demand, counts), uses, counts, score))
        return Answer(Settled.FOUND, priced)

    def _priced(self, search: "_Searched", counts: Counts, asked: _Asked, *, proven: bool = False) -> Priced:
        """A design that was found, verified once. Raises LimitsBroken where it breaks a limit."""
        if counts not in search.verified:
            design, verdict, _ = proven_design(
                Found(counts, proven), search.watch.finds, self._verifier, search.watch.hold
            )
            search.verified[counts] = Priced(
                design=design, measures=verdict.measures, quote=verdict.quote, drives=verdict.drives
            )
        _hold_against(asked.bounds, search.verified[counts])
        return search.verified[counts]


class _Searched:
    """One demand with its model, and what its solves have proven."""

    def __init__(self, demand: Demand, model: WholeModel | None, watch: LimitWatch) -> None:
        self.demand, self.model, self.watch = demand, model, watch
        self.known: list[_Known] = []
        self.verified: dict[Counts, Priced] = {}


def _guessed(search: _Searched, guess_minor: int | None) -> tuple[int, ...]:
    """The score that designs up to a price with tax stay below, if one is guessed."""
    if search.model is None or guess_minor is None:
        return ()
    return (search.model.beyond(search.demand.prices.greatest_subtotal(guess_minor)),)


def _reached(demand: Demand, counts: Counts) -> Bounds:
    """The tightest bounds that a design meets; of joints, loops and margin only those that are asked for."""
    claim = counts.claim
    bass = {load.name for load in demand.sets if load.bass}
    part = demand.with_processor(demand.processors[counts.processor])
    shared = any(
        n and flow.feed.bass and (flow.unit is not None or flow.mode is not Mode.ALONE)
        for flow, n in zip(part.feed_flows, counts.feed, strict=True)
    )
    return Bounds(
        independent=claim.independent,
        groups=claim.groups,
        spare=claim.spare,
        lost=claim.lost,
        conversions=claim.conversions,
        joints=claim.joints,
        loops=claim.loops,
        margin=claim.margin,
        output_each=not shared,
        subwoofers=sum(1 for name, _, _ in counts.present if name in bass),
    )


def _hold_against(bounds: Bounds, priced: Priced) -> None:
    """Stops where the verifier does not measure what was asked for."""
    m, drives = priced.measures, Counter(priced.drives)
    missed = (
        m.independent_subs < bounds.independent
        or m.control_groups < bounds.groups
        or m.spare_outputs < bounds.spare
        or (bounds.lost is not None and m.subs_lost_worst > bounds.lost)
        or (bounds.conversions is not None and m.conversions > bounds.conversions)
        or (bounds.joints is not None and m.joints > bounds.joints)
        or (bounds.output_each and drives.total() != drives[Drive.DEDICATED.value])
        or drives.total() < bounds.subwoofers
    )
    if missed:
        raise PlannerBug(f"the verifier measures less than the search was asked for: {bounds}")
