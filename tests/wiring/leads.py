"""One lead between two boxes, whatever the output, the input and the cable; all of it invented."""

from dataclasses import dataclass, replace
from typing import Any

import networkx as nx

from planner.catalogue.records import BulkCable, CableKind, Catalogue, ConnectorPart, OutputStage, PortGroup
from planner.contacts import Connector, Contact, Direction, Gender
from planner.design import LeadBuild, UnitKind
from planner.wiring.make_up import MakeUp, make_ups
from tests.checks.drawing import made_up
from tests.checks.gear import HOUSE
from tests.physics.small_systems import System, catalogue, port, with_ports

_PARTS = tuple(
    ConnectorPart(sku=f"{connector.value}-{gender.value}", name="Part", contact=Contact(connector, gender))
    for connector in (Connector.RCA, Connector.XLR, Connector.TRS)
    for gender in Gender
)
TWO, ONE = CableKind.LINE_BALANCED, CableKind.LINE_UNBALANCED


@dataclass(frozen=True, kw_only=True)
class Far:
    """The jack at one end of the lead."""

    connector: Connector
    balanced: bool
    pins: tuple[str, ...] = ()

    def part(self, direction: Direction) -> list[tuple[str, int]]:
        """The connector part that mates, none for a clamp."""
        if self.connector is Connector.TERMINAL:
            return []
        female = self.connector is Connector.XLR and direction is Direction.OUT
        return [(f"{self.connector.value}-{'female' if female else 'male'}", 1)]


XLR, RCA = Far(connector=Connector.XLR, balanced=True), Far(connector=Connector.RCA, balanced=False)
TRS = Far(connector=Connector.TRS, balanced=True)
BLOCK = Far(connector=Connector.TERMINAL, balanced=True, pins=("-", "shield", "+"))


def made_lead(source: Far, stage: OutputStage, sink: Far, cable: CableKind) -> MakeUp:
    """A lead made up of bulk cable from a processor's output to an active loudspeaker."""
    build = made_up(1.0, *source.part(Direction.OUT), ("cable", 1), *sink.part(Direction.IN))
    return lead(source, stage, sink, build, cable)


def lead(source: Far, stage: OutputStage, sink: Far, build: LeadBuild, cable: CableKind = TWO, **items: Any) -> MakeUp:
    """The make-up of any build between the two."""
    shop = shop_of(
        port("proc", "OUT", Direction.OUT, source.connector, **_terms(source), output_stage=stage),
        port("active", "IN", Direction.IN, sink.connector, **_terms(sink)),
        cable,
    )
    system = System(shop=replace(shop, **items))
    system.unit(UnitKind.PROCESSOR, "Proc", "proc")
    speaker = system.speaker("active", 2.0)
    system.run("Proc/OUT/1", f"{speaker}/IN/1", build, "M+030")
    (found,) = make_ups(system.design(), system.shop, HOUSE)
    return found


def shop_of(source: PortGroup, sink: PortGroup, cable: CableKind) -> Catalogue:
    shop = with_ports(catalogue(), source, sink)
    bulk = BulkCable(sku="cable", name="Cable", kind=cable, step_m=1.0)
    return replace(shop, bulk_cables=(bulk,), connectors=_PARTS)


def _terms(end: Far) -> dict[str, Any]:
    return {"balanced": end.balanced, "pin_order": end.pins}


def net_of(made: MakeUp) -> "nx.Graph[object]":
    """Pins, as ("source" or "sink", name), and cores, joined as the make-up says."""
    net: nx.Graph[object] = nx.Graph()
    for name, end in (("source", made.source), ("sink", made.sink)):
        for pin in end.pins:
            net.add_node((name, pin.pin))
            for core in pin.cores:
                net.add_edge((name, pin.pin), core)
            if pin.joined_to is not None:
                net.add_edge((name, pin.pin), (name, pin.joined_to))
    return net
