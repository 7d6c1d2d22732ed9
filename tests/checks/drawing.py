"""Designs put together by hand, one line a thing, and ways to spoil one thing in them."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Any

from planner.brief.records import Brief, Limits
from planner.design import (
    Connection,
    Design,
    Jack,
    Labour,
    LeadBuild,
    LeadMethod,
    LeadPart,
    Purchase,
    Route,
    Unit,
    UnitKind,
)
from planner.house import Task
from tests.checks.gear import HOUSE


def jack(text: str) -> Jack:
    """A jack from "Proc/MAIN/1"."""
    unit, group, index = text.split("/")
    return Jack(unit, group, int(index))


def stocked(sku: str, length_m: float, *, flipped: bool = False) -> LeadBuild:
    return LeadBuild(method=LeadMethod.STOCKED, parts=(LeadPart(sku=sku, count=1),), length_m=length_m, flipped=flipped)


def adapted(length_m: float, *skus: str) -> LeadBuild:
    return LeadBuild(
        method=LeadMethod.ADAPTED, parts=tuple(LeadPart(sku=sku, count=1) for sku in skus), length_m=length_m
    )


def made_up(length_m: float, *parts: tuple[str, int]) -> LeadBuild:
    return LeadBuild(
        method=LeadMethod.MADE_UP,
        parts=tuple(LeadPart(sku=sku, count=count) for sku, count in parts),
        length_m=length_m,
    )


def cut(sku: str, end: str, length_m: float) -> LeadBuild:
    return LeadBuild(method=LeadMethod.CUT, parts=(LeadPart(sku=sku, count=1),), length_m=length_m, cut_end=end)


DIRECT = LeadBuild(method=LeadMethod.DIRECT)


@dataclass
class Drawing:
    """A design as it grows."""

    units: list[Unit] = field(default_factory=list)
    connections: list[Connection] = field(default_factory=list)
    routes: list[Route] = field(default_factory=list)
    purchases: list[Purchase] = field(default_factory=list)
    labour: list[Labour] = field(default_factory=list)

    def unit(self, kind: UnitKind, unit_id: str, sku: str, *, host: str | None = None) -> None:
        self.units.append(Unit(id=unit_id, sku=sku, kind=kind, host=host))

    def loudspeaker(self, unit_id: str, sku: str, set_name: str, index: int) -> None:
        self.units.append(Unit(id=unit_id, sku=sku, kind=UnitKind.LOUDSPEAKER, member=(set_name, index)))

    def subwoofers(self, sku: str, count: int) -> None:
        for index in range(count):
            self.units.append(Unit(id=f"Sub {index + 1}", sku=sku, kind=UnitKind.SUBWOOFER, member=("Bass", index)))

    def link(self, channel: str, source: str, sink: str, lead: LeadBuild, way: int | None = None) -> None:
        self.connections.append(Connection(channel=channel, source=jack(source), sink=jack(sink), lead=lead, way=way))

    def route(self, source: str, sink: str) -> None:
        self.routes.append(Route(source=jack(source), sink=jack(sink)))

    def buy(self, sku: str, count: int, unit_price_minor: int, supplier: str = "Depot") -> None:
        self.purchases.append(Purchase(sku=sku, supplier=supplier, count=count, unit_price_minor=unit_price_minor))

    def work(self, **counts: int) -> None:
        """Labour by task name, at the prices that stand beside the minutes in `HOUSE`: 2.00 a minute."""
        for name, count in counts.items():
            task = Task[name]
            price_minor = int(HOUSE.minutes[task] * 200)
            self.labour.append(Labour(task=task, count=count, unit_price_minor=price_minor))

    def design(self) -> Design:
        return Design(
            units=tuple(self.units),
            connections=tuple(self.connections),
            routes=tuple(self.routes),
            purchases=tuple(self.purchases),
            labour=tuple(self.labour),
            currency="NZD",
        )


Spoil = Callable[[Design], Design]


def connection_to(sink: str, /, **changes: Any) -> Spoil:
    """Change the connection that ends in a jack."""

    def spoil(design: Design) -> Design:
        at = [c.sink for c in design.connections].index(jack(sink))
        changed = replace(design.connections[at], **changes)
        return replace(design, connections=(*design.connections[:at], changed, *design.connections[at + 1 :]))

    return spoil


def lead_to(sink: str, /, **changes: Any) -> Spoil:
    """Change the lead of the connection that ends in a jack."""

    def spoil(design: Design) -> Design:
        lead = next(c.lead for c in design.connections if c.sink == jack(sink))
        return connection_to(sink, lead=replace(lead, **changes))(design)

    return spoil


def without_connection_to(sink: str) -> Spoil:
    return lambda design: replace(design, connections=tuple(c for c in design.connections if c.sink != jack(sink)))


def with_connection(channel: str, source: str, sink: str, lead: LeadBuild, way: int | None = None) -> Spoil:
    extra = Connection(channel=channel, source=jack(source), sink=jack(sink), lead=lead, way=way)
    return lambda design: replace(design, connections=(*design.connections, extra))


def unit_called(unit_id: str, /, **changes: Any) -> Spoil:
    """Change one unit."""

    def change(unit: Unit) -> Unit:
        return replace(unit, **changes) if unit.id == unit_id else unit

    return lambda design: replace(design, units=tuple(change(unit) for unit in design.units))


def with_unit(kind: UnitKind, unit_id: str, sku: str, **more: Any) -> Spoil:
    extra = Unit(id=unit_id, sku=sku, kind=kind, **more)
    return lambda design: replace(design, units=(*design.units, extra))


def without_unit(unit_id: str) -> Spoil:
    return lambda design: replace(design, units=tuple(unit for unit in design.units if unit.id != unit_id))


def purchase_of(sku: str, /, **changes: Any) -> Spoil:
    """Change the purchase of one sku."""

    def change(purchase: Purchase) -> Purchase:
        return replace(purchase, **changes) if purchase.sku == sku else purchase

    return lambda design: replace(design, purchases=tuple(change(purchase) for purchase in design.purchases))


def with_purchase(sku: str, count: int, unit_price_minor: int, supplier: str = "Depot") -> Spoil:
    extra = Purchase(sku=sku, supplier=supplier, count=count, unit_price_minor=unit_price_minor)
    return lambda design: replace(design, purchases=(*design.purchases, extra))


def labour_for(task: Task, /, **changes: Any) -> Spoil:
    def change(labour: Labour) -> Labour:
        return replace(labour, **changes) if labour.task is task else labour

    return lambda design: replace(design, labour=tuple(change(labour) for labour in design.labour))


def both(*spoils: Spoil) -> Spoil:
    """One fault that takes several changes."""

    def spoil(design: Design) -> Design:
        for each in spoils:
            design = each(design)
        return design

    return spoil


def limited(brief: Brief, **changes: Any) -> Brief:
    """The brief with other limits."""
    limits: Limits = replace(brief.limits, **changes)
    return replace(brief, limits=limits)
