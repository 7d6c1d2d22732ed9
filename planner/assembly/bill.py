"""From finished connections to what is bought and done: leads, purchases, labour."""

from collections import Counter, defaultdict
from collections.abc import Iterable

from planner.demand.build import Demand
from planner.demand.counts import Counts
from planner.demand.links import LinkKey, LinkOption
from planner.design import Connection, Labour, LeadMethod, Purchase, Unit, UnitKind
from planner.errors import PlannerBug
from planner.house import Task

FITTING = {
    UnitKind.PROCESSOR: Task.PROCESSOR,
    UnitKind.CARD: Task.CARD,
    UnitKind.DSP: Task.DSP,
    UnitKind.AMPLIFIER: Task.AMPLIFIER,
    UnitKind.LOUDSPEAKER: Task.LOUDSPEAKER,
    UnitKind.SUBWOOFER: Task.SUBWOOFER,
}

ENDS_TO_MAKE = {LeadMethod.MADE_UP: 2, LeadMethod.CUT: 1}
"""How many ends of a lead are soldered or clamped on the job; of other leads none."""


class LeadDispenser:
    """Gives each link the lead that the allocation chose for it."""

    def __init__(self, demand: Demand, counts: Counts) -> None:
        self._links = demand.links
        self._chosen: dict[tuple[LinkKey, bool], list[LinkOption]] = defaultdict(list)
        for use in counts.links:
            option = demand.links.options(use.key)[use.option]
            self._chosen[use.key, use.bass] += [option] * use.count

    def take(self, key: LinkKey, bass: bool) -> LinkOption:
        """The lead for one link; `bass` counts only where the choices were kept apart."""
        if self._links.price_minor(key) is not None:
            return self._links.options(key)[0]
        for apart in (bass, False):
            if self._chosen[key, apart]:
                return self._chosen[key, apart].pop(0)
        raise PlannerBug(f"no lead was chosen for {key}")


def labour(units: Iterable[Unit], connections: Iterable[Connection], demand: Demand) -> tuple[Labour, ...]:
    """Every task with its count and price, tasks without any left out."""
    counts: Counter[Task] = Counter(FITTING[u.kind] for u in units if u.kind in FITTING)
    for connection in connections:
        method = connection.lead.method
        counts[Task.LEAD] += method is not LeadMethod.DIRECT
        counts[Task.TERMINATION] += ENDS_TO_MAKE.get(method, 0)
    return tuple(
        Labour(task=task, count=counts[task], unit_price_minor=demand.prices.labour_minor(task))
        for task in Task
        if counts[task]
    )


def purchases(
    units: Iterable[Unit], connections: Iterable[Connection], demand: Demand, counts: Counts
) -> tuple[Purchase, ...]:
    """What is bought of each offer, and which owned pieces are used, by sku."""
    units = tuple(units)
    used = parts_used(units, connections)
    chosen = defaultdict(list)
    for bought in counts.bought:
        chosen[bought.sku].append(bought)
    apart = {u.sku for u in units if u.kind in (UnitKind.PROCESSOR, UnitKind.CARD)}
    lines: list[Purchase] = []
    for sku, count in sorted(used.items()):
        owned = min(count, demand.shelf.owned(sku))
        if owned:
            lines.append(Purchase(sku=sku, supplier="owned", count=owned, unit_price_minor=0))
        if sku in chosen:
            lines += [_line(sku, b.supplier, b.count, b.unit_minor) for b in chosen[sku]]
        elif count > owned and (sku in apart or demand.shelf.simple(sku)):
            cheapest = demand.shelf.cheapest_purchase(sku, count) or ()
            lines += [_line(sku, offer.supplier, n, price) for price, offer, n in cheapest]
    return tuple(lines)


def parts_used(units: Iterable[Unit], connections: Iterable[Connection]) -> Counter[str]:
    """How many of each sku the design takes; two tails of both ends make one cut lead."""
    used = Counter(u.sku for u in units)
    tails: dict[str, Counter[str]] = defaultdict(Counter)
    for connection in connections:
        lead = connection.lead
        if lead.method is LeadMethod.CUT:
            tails[lead.parts[0].sku][lead.cut_end or ""] += 1
            continue
        for part in lead.parts:
            used[part.sku] += part.count
    for sku, ends in tails.items():
        used[sku] += max(ends.values())
    return used


def _line(sku: str, supplier: str, count: int, unit_minor: int) -> Purchase:
    return Purchase(sku=sku, supplier=supplier, count=count, unit_price_minor=unit_minor)
