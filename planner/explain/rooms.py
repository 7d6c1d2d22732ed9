"""Several rooms in one order: what all use of an article is bought together.

Stock, least orders and breaks for quantity (a supplier's further offer of the same article with a
least order) count once for all rooms. Gear that the briefs say is owned lies on one shelf for all.
Where every brief has a budget, the order keeps to their sum. Each room is verified as a design
of its own to which nothing need be bought; the order is checked against what the rooms use.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from planner.allocation.bounds import limits_of
from planner.allocation.joint import Part, cheapest_order
from planner.allocation.solve import Verdict
from planner.brief.records import Brief, PhysicalLimit
from planner.catalogue.records import Catalogue, Offer
from planner.demand.build import Demand, build_demand
from planner.demand.counts import Bought
from planner.errors import PlannerBug, WrongUsage
from planner.explain.clock import Clock
from planner.explain.least import Answer, LeastPrices, Priced, Settled
from planner.explain.stages import verified, with_owned
from planner.explain.variants import unpriced
from planner.house import House
from planner.limits_met import holding, likely, met
from planner.money import minor_digits


@dataclass(frozen=True, kw_only=True, slots=True)
class Room:
    """One room of the order: its design, its labour before tax, and what it would cost alone."""

    name: str
    priced: Priced
    labour_minor: int
    alone: Answer


@dataclass(frozen=True, kw_only=True, slots=True)
class SharedOrder:
    """The least price of all rooms in one order. `rooms` is empty where there is none, or time ran out."""

    settled: Settled
    rooms: tuple[Room, ...] = ()
    lines: tuple[Bought, ...] = ()
    goods_minor: int = 0
    labour_minor: int = 0
    tax_minor: int = 0

    @property
    def total_minor(self) -> int:
        """Goods, labour and tax."""
        return self.goods_minor + self.labour_minor + self.tax_minor

    @property
    def apart_minor(self) -> int | None:
        """What the rooms cost, ordered one by one; None where one of them has no price."""
        prices = [room.alone.price_minor for room in self.rooms]
        return None if None in prices else sum(price for price in prices if price is not None)


def shared_order(briefs: Sequence[Brief], catalogue: Catalogue, house: House, clock: Clock) -> SharedOrder:
    """The order of several rooms. Raises WrongUsage where they are not quoted on the same terms."""
    check_terms(briefs)
    held = frozenset(limit for brief in briefs for limit in likely(brief))
    alone = [LeastPrices(brief, catalogue, house, clock).least() for brief in briefs]
    return met(held, lambda limits: _ordered(briefs, alone, catalogue, house, clock, limits))


def check_terms(briefs: Sequence[Brief]) -> None:
    """Raises WrongUsage where rooms cannot be in one order."""
    terms = {(brief.project.currency, brief.project.tax_percent) for brief in briefs}
    if len(briefs) < 2 or len(terms) > 1:
        raise WrongUsage("rooms of one order are two or more briefs with one currency and one tax rate.")


def _ordered(
    briefs: Sequence[Brief], alone: Sequence[Answer], catalogue: Catalogue, house: House, clock: Clock,
    held: frozenset[PhysicalLimit],
) -> SharedOrder:  # fmt: skip
    """The order where the model holds the rooms to some limits. Raises LimitsBroken where one breaks another."""
    if clock.over:
        return SharedOrder(settled=Settled.OPEN)
    everything = frozenset(item.sku for item in catalogue.items())
    demands = [build_demand(holding(brief, held), catalogue, house, everything, shared=True) for brief in briefs]
    if not all(demand.possible for demand in demands):
        return SharedOrder(settled=Settled.NONE)
    parts = [Part(demand, limits_of(brief)) for demand, brief in zip(demands, briefs, strict=True)]
    shelf = shelf_of(briefs)
    outcome = cheapest_order(parts, shelf, clock.left_s, clock.recall, most_minor=_most_minor(briefs, demands[0]))
    if outcome.verdict is not Verdict.OPTIMAL:
        return SharedOrder(settled=Settled.NONE if outcome.verdict is Verdict.NONE else Settled.OPEN)
    at_hand = shelf + Counter({sku: count for sku, count in _counted(outcome.bought).items() if count})
    found = [
        verified(counts, demand, with_all_at_hand(brief, at_hand), catalogue, house)
        for counts, demand, brief in zip(outcome.counts, demands, briefs, strict=True)
    ]
    check_order(found, outcome.bought, shelf, catalogue)
    goods = sum(line.count * line.unit_minor for line in outcome.bought)
    labour = sum(priced.quote.labour_minor for priced in found)
    return SharedOrder(
        settled=Settled.FOUND,
        rooms=tuple(
            Room(
                name=brief.project.name,
                priced=priced,
                labour_minor=priced.quote.labour_minor,
                alone=answer,
            )
            for brief, priced, answer in zip(briefs, found, alone, strict=True)
        ),
        lines=outcome.bought,
        goods_minor=goods,
        labour_minor=labour,
        tax_minor=demands[0].prices.tax_minor(goods + labour),
    )


def shelf_of(briefs: Sequence[Brief]) -> Counter[str]:
    """All that the briefs say is owned, together."""
    shelf: Counter[str] = Counter()
    for brief in briefs:
        for entry in brief.owned:
            shelf[entry.sku] += entry.count
    return shelf


def _most_minor(briefs: Sequence[Brief], demand: Demand) -> int | None:
    """The sum of the budgets before tax, where each room has one."""
    budgets = [brief.limits.budget for brief in briefs if brief.limits.budget is not None]
    if len(budgets) < len(briefs):
        return None
    return demand.prices.greatest_subtotal(int(sum(budgets, Decimal(0)).scaleb(minor_digits(demand.prices.currency))))


def with_all_at_hand(brief: Brief, pieces: Counter[str]) -> Brief:
    """The brief of a room for which all that is bought lies ready."""
    idle = replace(brief, owned=())
    return with_owned(unpriced(idle), pieces)


def _counted(lines: Sequence[Bought]) -> Counter[str]:
    counted: Counter[str] = Counter()
    for line in lines:
        counted[line.sku] += line.count
    return counted


def check_order(rooms: Sequence[Priced], lines: Sequence[Bought], shelf: Counter[str], catalogue: Catalogue) -> None:
    """R18 for the whole order. Raises PlannerBug where it does not bring what the rooms use, or breaks an offer."""
    used: Counter[str] = Counter()
    for room in rooms:
        for purchase in room.design.purchases:
            used[purchase.sku] += purchase.count
    bought = _counted(lines)
    short = [sku for sku, count in sorted(used.items()) if count > shelf[sku] + bought[sku]]
    broken = [line for line in lines if not any(_holds(offer, line) for offer in catalogue.offers.get(line.sku, ()))]
    if short or broken:
        raise PlannerBug(f"the order of several rooms does not hold: short of {short}, offers broken {broken}")


def _holds(offer: Offer, line: Bought) -> bool:
    return (
        offer.supplier == line.supplier
        and line.count >= offer.least_order
        and (offer.stock is None or line.count <= offer.stock)
    )
