"""The least price of one brief under bounds on the measures, asked again and again.

Answers are remembered: bounds that a known answer meets are answered without a search where
looser bounds have the same answer, and a known design is one to beat. Each answer is
assembled and verified afresh before it counts.
"""

from collections import Counter
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from enum import StrEnum

from planner.allocation.bounds import Bounds, limits_of
from planner.allocation.solve import MOST_SCORE, Verdict
from planner.allocation.trade_off import Found
from planner.allocation.whole import Gear, WholeModel
from planner.brief.records import Brief, Drive
from planner.catalogue.records import Catalogue
from planner.checks import Verifier
from planner.demand.build import Demand, build_demand
from planner.demand.counts import Counts
from planner.demand.flows import Mode
from planner.design import Design, Measures
from planner.errors import PlannerBug
from planner.explain.clock import Clock
from planner.house import House
from planner.options import Quote
from planner.proof import proven_design


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

    @property
    def price_minor(self) -> int:
        """The price with tax."""
        return self.quote.total_minor


@dataclass(frozen=True, slots=True)
class Answer:
    """What one question came to; a design where it is FOUND."""

    settled: Settled
    priced: Priced | None = None

    @property
    def price_minor(self) -> int | None:
        """The least price with tax, None where there is none or it is not known."""
        return None if self.priced is None else self.priced.price_minor


NO_DESIGN, NOT_KNOWN = Answer(Settled.NONE), Answer(Settled.OPEN)


@dataclass(frozen=True, slots=True)
class _Asked:
    """One question: bounds, gear of which some is to be used (empty: no matter), and gear that is not."""

    bounds: Bounds
    some_of: frozenset[str]
    none_of: frozenset[str]

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

    Not for several threads at once: what is known settles which of equal designs is the answer.
    """

    def __init__(
        self, brief: Brief, catalogue: Catalogue, house: House, clock: Clock, kept: Collection[str] = frozenset()
    ) -> None:
        self.brief, self._catalogue, self._clock = brief, catalogue, clock
        self.demand: Demand = build_demand(brief, catalogue, house, kept)
        self._verifier = Verifier(brief, catalogue, house)
        self._model = WholeModel(self.demand) if self.demand.possible else None
        self._known: list[_Known] = []
        self._empty: list[_Asked] = []
        self._verified: dict[Counts, Priced] = {}
        self.solves = 0

    def least(
        self, bounds: Bounds | None = None, *, some_of: Collection[str] = (), none_of: Collection[str] = ()
    ) -> Answer:
        """The least price within the bounds, else the brief's own limits; with some of one gear, without the other."""
        asked = _Asked(bounds or limits_of(self.brief), frozenset(some_of), frozenset(none_of))
        if self._model is None or any(asked.within(empty) for empty in self._empty):
            return NO_DESIGN
        same = next((k for k in self._known if asked.within(k.asked) and k.answers(asked)), None)
        return self._search(self._model, asked) if same is None else self._answer(same.counts, asked)

    def exists(self) -> bool | None:
        """Whether there is any valid design; None where time ran out first."""
        if self._model is None:
            return False
        self.solves += 1
        verdict = self._model.exists(limits_of(self.brief), self._clock.left_s).verdict
        return None if verdict is Verdict.UNKNOWN else verdict is not Verdict.NONE

    def gaining_most(self, bounds: Bounds, sku: str, discount_minor: int) -> Answer:
        """The cheapest design with a device, were each of it sold so much cheaper; the answer is at full prices."""
        if self._model is None:
            return NO_DESIGN
        asked = _Asked(bounds, frozenset((sku,)), frozenset())
        self.solves += 1
        outcome = self._model.cheapest(
            bounds, self._clock.left_s, floor=-MOST_SCORE, below=MOST_SCORE,
            gear=Gear(some_of=(sku,), discount_minor={sku: discount_minor}),
        )  # fmt: skip
        if outcome.verdict is Verdict.OPTIMAL and outcome.counts is not None:
            return self._answer(outcome.counts, asked)
        return NO_DESIGN if outcome.verdict is Verdict.NONE else NOT_KNOWN

    def _search(self, model: WholeModel, asked: _Asked) -> Answer:
        """One solve, told what a looser question costs at least, and of a design to beat."""
        floor = max((k.score for k in self._known if asked.within(k.asked)), default=model.least_score)
        best = min((k for k in self._known if k.answers(asked)), key=lambda k: k.score, default=None)
        below = MOST_SCORE if best is None else best.score
        if best is not None and floor == below:
            return self._learn(asked, best.counts, best.score)
        self.solves += 1
        gear = Gear(some_of=tuple(sorted(asked.some_of)), none_of=tuple(sorted(asked.none_of)))
        outcome = model.cheapest(asked.bounds, self._clock.left_s, floor=floor, below=below, gear=gear)
        match outcome.verdict:
            case Verdict.OPTIMAL if outcome.counts is not None:
                return self._learn(asked, outcome.counts, outcome.score)
            case Verdict.NONE if best is not None:
                return self._learn(asked, best.counts, best.score)
            case Verdict.NONE:
                self._empty.append(asked)
                return NO_DESIGN
        return NOT_KNOWN

    def _learn(self, asked: _Asked, counts: Counts, score: int) -> Answer:
        answer = self._answer(counts, asked)
        uses = frozenset(unit.sku for unit in answer.priced.design.units) if answer.priced else frozenset()
        self._known.append(_Known(asked, _reached(self.demand, counts), uses, counts, score))
        return answer

    def _answer(self, counts: Counts, asked: _Asked) -> Answer:
        if counts not in self._verified:
            design, verdict, _ = proven_design(Found(counts, True), self.demand, self._verifier, self._catalogue)
            self._verified[counts] = Priced(
                design=design, measures=verdict.measures, quote=verdict.quote, drives=verdict.drives
            )
        _hold_against(asked.bounds, self._verified[counts])
        return Answer(Settled.FOUND, self._verified[counts])


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
