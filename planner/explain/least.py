"""The least price of one brief under bounds on the measures, asked again and again.

Answers are remembered: bounds that a known answer meets are answered without a search where
looser bounds have the same answer, and a known design is one to beat. Each answer is
assembled and verified afresh before it counts.
"""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from planner.allocation.bounds import Bounds, limits_of
from planner.allocation.solve import MOST_SCORE, Verdict
from planner.allocation.trade_off import Found
from planner.allocation.whole import WholeModel
from planner.brief.records import Brief, Drive
from planner.catalogue.records import Catalogue
from planner.checks import Verifier
from planner.checks import Verdict as Checked
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
class _Known:
    """A proven answer: the bounds asked, those that its design reaches, and its score."""

    asked: Bounds
    reaches: Bounds
    counts: Counts
    score: int


class LeastPrices:
    """Least prices of one brief."""

    def __init__(self, brief: Brief, catalogue: Catalogue, house: House, clock: Clock) -> None:
        self.brief, self._catalogue, self._clock = brief, catalogue, clock
        self.demand: Demand = build_demand(brief, catalogue, house)
        self._verifier = Verifier(brief, catalogue, house)
        self._model = WholeModel(self.demand) if self.demand.possible else None
        self._known: list[_Known] = []
        self._empty: list[Bounds] = []
        self._verified: dict[int, Priced] = {}
        self.solves = 0

    def least(self, bounds: Bounds | None = None) -> Answer:
        """The least price within the bounds; without any, within the brief's own limits."""
        bounds = bounds or limits_of(self.brief)
        if self._model is None or any(bounds.within(empty) for empty in self._empty):
            return NO_DESIGN
        same = next((k for k in self._known if bounds.within(k.asked) and k.reaches.within(bounds)), None)
        return self._search(self._model, bounds) if same is None else self._answer(same.counts, bounds)

    def _search(self, model: WholeModel, bounds: Bounds) -> Answer:
        """One solve, told what looser bounds cost at least, and of a design to beat."""
        floor = max((k.score for k in self._known if bounds.within(k.asked)), default=model.least_score)
        best = min((k for k in self._known if k.reaches.within(bounds)), key=lambda k: k.score, default=None)
        below = MOST_SCORE if best is None else best.score
        if best is not None and floor == below:
            return self._learn(bounds, best.counts, best.score)
        self.solves += 1
        outcome = model.cheapest(bounds, self._clock.left_s, floor=floor, below=below)
        match outcome.verdict:
            case Verdict.OPTIMAL if outcome.counts is not None:
                return self._learn(bounds, outcome.counts, outcome.score)
            case Verdict.NONE if best is not None:
                return self._learn(bounds, best.counts, best.score)
            case Verdict.NONE:
                self._empty.append(bounds)
                return NO_DESIGN
        return NOT_KNOWN

    def _learn(self, bounds: Bounds, counts: Counts, score: int) -> Answer:
        self._known.append(_Known(bounds, _reached(self.demand, counts), counts, score))
        return self._answer(counts, bounds)

    def _answer(self, counts: Counts, bounds: Bounds) -> Answer:
        if id(counts) not in self._verified:
            design, verdict = proven_design(Found(counts, True), self.demand, self._verifier, self._catalogue)
            self._verified[id(counts)] = Priced(
                design=design, measures=verdict.measures, quote=verdict.quote, drives=verdict.drives
            )
            _hold_against(bounds, verdict)
        return Answer(Settled.FOUND, self._verified[id(counts)])


def _reached(demand: Demand, counts: Counts) -> Bounds:
    """The tightest bounds that a design meets; joints only where they are weighed."""
    claim = counts.claim
    bass = {load.name for load in demand.sets if load.bass}
    shared = any(
        n and flow.feed.bass and (flow.unit is not None or flow.mode is not Mode.ALONE)
        for flow, n in zip(demand.with_processor(demand.processors[counts.processor]).feed_flows, counts.feed, strict=True)
    )
    return Bounds(
        independent=claim.independent,
        groups=claim.groups,
        spare=claim.spare,
        lost=claim.lost,
        conversions=claim.conversions,
        joints=claim.joints,
        output_each=not shared,
        subwoofers=sum(1 for name, _, _ in counts.present if name in bass),
    )


def _hold_against(bounds: Bounds, verdict: Checked) -> None:
    """Stops where the verifier does not measure what was asked for."""
    m, drives = verdict.measures, Counter(verdict.drives)
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
