"""E6: now and later. Two or three stages in one exact model, and what not planning ahead would cost.

A later stage has the layout and the subwoofers that the brief names for it, and the brief's other
limits but its budget; gear that the client has need not be used then. It may use all that was
bought before, at no price. What it costs is its purchases and the labour of the whole system, as the
house's terms have it for gear already there. Prices are today's; what is paid later counts for
less by the discount rate, its factor taken to four places.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from planner.allocation.bounds import Bounds, limits_of
from planner.allocation.joint import WEIGHT_ONE, Part, cheapest_stages
from planner.allocation.solve import Verdict
from planner.allocation.trade_off import Found
from planner.brief.records import Brief, LaterStage, Owned, PhysicalLimit
from planner.catalogue.records import Catalogue
from planner.checks import Verifier
from planner.comparison.gear import GearLine, gear
from planner.costing import PriceList
from planner.demand.build import Demand, build_demand
from planner.demand.counts import Counts
from planner.demand.shelf import Shelf
from planner.design import UnitKind
from planner.explain.clock import Clock
from planner.explain.least import Answer, LeastPrices, Priced, Settled
from planner.explain.variants import at_layout, down_to, subwoofers_today, unpriced, up_to
from planner.finds import Finds
from planner.house import House
from planner.limits_met import LimitWatch, holding, likely, met
from planner.proof import proven_design

MOST_STAGES = 3
USUAL_DISCOUNT_PERCENT = Decimal(3)


@dataclass(frozen=True, kw_only=True, slots=True)
class Stage:
    """One stage of a plan: a valid design, what it costs when its time comes, and its share of the gear."""

    name: str
    years: float
    factor: Fraction
    priced: Priced

    @property
    def price_minor(self) -> int:
        """What is paid at this stage, with tax."""
        return self.priced.price_minor


@dataclass(frozen=True, kw_only=True, slots=True)
class Twice:
    """Gear bought at one stage that the last one has no use for, and what was paid for it, before tax."""

    line: GearLine
    paid_minor: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Plan:
    """Stages first to last; `present_minor` is what all are worth today."""

    stages: tuple[Stage, ...]
    twice: tuple[Twice, ...]

    @property
    def present_minor(self) -> int:
        """The prices of all stages, each by its factor, rounded once."""
        return round(sum((stage.factor * stage.price_minor for stage in self.stages), Fraction(0)))


@dataclass(frozen=True, kw_only=True, slots=True)
class NowAndLater:
    """E6. `ahead`: the least for all stages together. `by_turns`: each stage at its least when it comes.

    `all_now`: the last stage built today. None where there is no such plan, or time ran out
    (`settled` false).
    """

    discount_percent: Decimal
    ahead: Plan | None
    by_turns: Plan | None
    all_now: Answer
    settled: bool

    @property
    def more_today_minor(self) -> int | None:
        """What planning ahead costs more today."""
        if self.ahead is None or self.by_turns is None:
            return None
        return self.ahead.stages[0].price_minor - self.by_turns.stages[0].price_minor

    @property
    def saved_minor(self) -> int | None:
        """What planning ahead saves in all, in today's worth."""
        if self.ahead is None or self.by_turns is None:
            return None
        return self.by_turns.present_minor - self.ahead.present_minor


@dataclass(frozen=True, slots=True)
class _Wanted:
    """One stage to come: its brief, bounds, and when."""

    name: str
    years: float
    factor: Fraction
    brief: Brief
    bounds: Bounds


def now_and_later(
    brief: Brief, catalogue: Catalogue, house: House, clock: Clock, discount_percent: Decimal = USUAL_DISCOUNT_PERCENT,
    held: frozenset[PhysicalLimit] | None = None,
) -> NowAndLater | None:  # fmt: skip
    """E6 of a brief that names stages to come, at most two of them; None where it names none.

    `held` as in `LeastPrices`.
    """
    if not brief.later:
        return None
    wanted, held = _wanted(brief, discount_percent), likely(brief) if held is None else held
    by_turns, turns_known = _by_turns(wanted, catalogue, house, clock, held)
    last = replace(wanted[-1].brief, owned=brief.owned)
    all_now = LeastPrices(last, catalogue, house, clock, held=held).least(wanted[-1].bounds)
    ahead, ahead_known = met(held, lambda limits: _planned_ahead(wanted, catalogue, house, clock, limits))
    settled = ahead_known and turns_known and all_now.settled is not Settled.OPEN
    return NowAndLater(
        discount_percent=discount_percent, ahead=ahead, by_turns=by_turns, all_now=all_now, settled=settled
    )


def _wanted(brief: Brief, discount_percent: Decimal) -> list[_Wanted]:
    stages = [_Wanted("now", 0.0, Fraction(1), brief, limits_of(brief))]
    for later in sorted(brief.later, key=lambda stage: stage.years)[: MOST_STAGES - 1]:
        factor = _factor(discount_percent, later.years)
        stages.append(_Wanted(later.name, later.years, factor, *_later_brief(brief, later)))
    return stages


def _factor(percent: Decimal, years: float) -> Fraction:
    """What a payment in so many years is worth today, to four places."""
    return Fraction(round(WEIGHT_ONE / (1 + float(percent) / 100) ** years), WEIGHT_ONE)


def _later_brief(brief: Brief, later: LaterStage) -> tuple[Brief, Bounds]:
    """The brief as it will be, and the bounds on its measures."""
    grown = unpriced(at_layout(brief, later.layout).brief)
    grown = replace(grown, owned=tuple(replace(entry, must_use=False) for entry in brief.owned), later=())
    change = later.subwoofers - subwoofers_today(brief)
    grown = up_to(grown, change) if change >= 0 else down_to(grown, -change)
    return grown, replace(limits_of(grown), subwoofers=later.subwoofers)


def _planned_ahead(
    wanted: Sequence[_Wanted], catalogue: Catalogue, house: House, clock: Clock, held: frozenset[PhysicalLimit]
) -> tuple[Plan | None, bool]:
    """The least for all stages in one model, each stage verified; and whether that is settled.

    Raises LimitsBroken where a stage breaks a limit that the model does not hold it to.
    """
    if clock.over:
        return None, False
    everything = frozenset(item.sku for item in catalogue.items())
    demands = [build_demand(holding(stage.brief, held), catalogue, house, everything, shared=True) for stage in wanted]
    if not all(demand.possible for demand in demands):
        return None, True
    parts = [
        Part(demand, stage.bounds, round(stage.factor * WEIGHT_ONE))
        for demand, stage in zip(demands, wanted, strict=True)
    ]
    outcome = cheapest_stages(parts, clock.left_s, clock.recall)
    if outcome.verdict is not Verdict.OPTIMAL:
        return None, outcome.verdict is Verdict.NONE
    stages: list[Stage] = []
    for stage, demand, counts in zip(wanted, demands, outcome.counts, strict=True):
        brief = with_owned(stage.brief, bought_pieces(stages))
        stages.append(_stage(stage, verified(counts, demand, brief, catalogue, house)))
    return Plan(stages=tuple(stages), twice=_twice(stages)), True


def verified(counts: Counts, demand: Demand, brief: Brief, catalogue: Catalogue, house: House) -> Priced:
    """A design of a joint model, as a design of its own brief with what is then there.

    Raises LimitsBroken where it breaks a limit that the model did not hold it to.
    """
    prices = PriceList(brief, catalogue, house)
    own = replace(demand, brief=brief, shelf=Shelf(brief, catalogue, prices, shared=True))
    hold = LimitWatch(Finds(demand, brief, catalogue)).hold
    design, verdict, _ = proven_design(
        Found(counts, False), Finds(own, brief, catalogue), Verifier(brief, catalogue, house), hold
    )
    return Priced(design=design, measures=verdict.measures, quote=verdict.quote, drives=verdict.drives)


def _by_turns(
    wanted: Sequence[_Wanted], catalogue: Catalogue, house: House, clock: Clock, held: frozenset[PhysicalLimit]
) -> tuple[Plan | None, bool]:
    """Each stage at its least when it comes, with what those before have left."""
    stages: list[Stage] = []
    for stage in wanted:
        brief = with_owned(stage.brief, bought_pieces(stages))
        answer = LeastPrices(brief, catalogue, house, clock, held=held).least(stage.bounds)
        if answer.priced is None:
            return None, answer.settled is Settled.NONE
        stages.append(_stage(stage, answer.priced))
    return Plan(stages=tuple(stages), twice=_twice(stages)), True


def _stage(wanted: _Wanted, priced: Priced) -> Stage:
    return Stage(name=wanted.name, years=wanted.years, factor=wanted.factor, priced=priced)


def bought_pieces(stages: Sequence[Stage]) -> Counter[str]:
    """All pieces bought so far."""
    bought: Counter[str] = Counter()
    for stage in stages:
        for line in stage.priced.design.purchases:
            if line.supplier != "owned":
                bought[line.sku] += line.count
    return bought


def with_owned(brief: Brief, pieces: Counter[str]) -> Brief:
    """The brief of a client who has these pieces as well."""
    had = {entry.sku for entry in brief.owned}
    more = tuple(replace(entry, count=entry.count + pieces[entry.sku]) for entry in brief.owned)
    new = tuple(Owned(sku=sku, count=count) for sku, count in sorted(pieces.items()) if count and sku not in had)
    return replace(brief, owned=(*more, *new))


def _twice(stages: Sequence[Stage]) -> tuple[Twice, ...]:
    """Devices bought before the last stage of which the last one uses fewer than have been bought."""
    last = {line.sku: line.count for line in gear(stages[-1].priced.design)}
    found = []
    for stage in stages[:-1]:
        for line in gear(stage.priced.design):
            paid = [p for p in stage.priced.design.purchases if p.sku == line.sku and p.supplier != "owned"]
            count = min(sum(p.count for p in paid), max(line.count - last.get(line.sku, 0), 0))
            if count and line.kind not in (UnitKind.SPLITTER, UnitKind.ISOLATOR):
                dearest = max(p.unit_price_minor for p in paid)
                found.append(Twice(line=replace(line, count=count), paid_minor=count * dearest))
    return tuple(found)
