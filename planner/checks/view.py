"""A design with its references resolved: which jack is which, and what hangs on it.

Only what can be resolved is kept. What cannot is told by `planner.checks.existence`, so
that every other rule can rely on units, sockets and links that exist.
"""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

from planner.catalogue.records import Item
from planner.checks.known import KIND_OF_RECORD, Known
from planner.checks.places import MemberKey, Place
from planner.checks.sockets import Socket
from planner.contacts import Direction
from planner.design import Connection, Design, Jack, Route, Unit, UnitKind

SPEAKERS = frozenset({UnitKind.LOUDSPEAKER, UnitKind.SUBWOOFER})
RENDERERS = frozenset({UnitKind.PROCESSOR, UnitKind.CARD})


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Link:
    """One connection whose two jacks exist, with the units and sockets at both ends."""

    connection: Connection
    source: Socket
    sink: Socket
    source_unit: Unit
    sink_unit: Unit

    def __str__(self) -> str:
        return f"{self.connection.source} to {self.connection.sink}"


class View:
    """The units, links and routes of a design that exist, each found by what refers to it."""

    def __init__(self, design: Design, known: Known) -> None:
        self.design = design
        self.known = known
        self.units = _resolved_units(design, known)
        self.units_of = _grouped_by_kind(self.units)
        self.links: tuple[Link, ...] = tuple(
            link for connection in design.connections if (link := self._link(connection)) is not None
        )
        self.links_from: Mapping[Jack, list[Link]] = defaultdict(list)
        self.links_to: Mapping[Jack, list[Link]] = defaultdict(list)
        self.links_leaving: Mapping[str, list[Link]] = defaultdict(list)
        self.links_entering: Mapping[str, list[Link]] = defaultdict(list)
        for link in self.links:
            self.links_from[link.connection.source].append(link)
            self.links_to[link.connection.sink].append(link)
            self.links_leaving[link.source_unit.id].append(link)
            self.links_entering[link.sink_unit.id].append(link)
        self.routes = tuple(route for route in design.routes if self.is_route(route))
        self.routes_from: Mapping[Jack, list[Route]] = defaultdict(list)
        self.routes_to: Mapping[Jack, list[Route]] = defaultdict(list)
        for route in self.routes:
            self.routes_from[route.source].append(route)
            self.routes_to[route.sink].append(route)

    def item(self, unit: Unit) -> Item:
        """The catalogue record of a resolved unit."""
        return self.known.items[unit.sku]

    def socket(self, jack: Jack, direction: Direction) -> Socket | None:
        """The socket that a jack belongs to, or None if there is no such jack."""
        unit = self.units.get(jack.unit)
        socket = self.known.sockets(unit.sku).get(jack.group) if unit is not None else None
        if socket is None or socket.direction is not direction or not socket.has(jack.index):
            return None
        return socket

    def is_route(self, route: Route) -> bool:
        """Whether both jacks of a route exist: it comes in at an input and leaves at an output."""
        return (
            self.socket(route.source, Direction.IN) is not None
            and self.socket(route.sink, Direction.OUT) is not None
        )  # fmt: skip

    def place(self, unit: Unit) -> Place | None:
        """The place in the brief of a loudspeaker or subwoofer; None for other gear, or if there is none."""
        key = member_key(unit)
        return self.known.places.get(key) if key is not None else None

    def processor_of(self, unit: Unit) -> Unit | None:
        """The processor that a renderer belongs to: itself, or a card's host."""
        if unit.kind is UnitKind.PROCESSOR:
            return unit
        host = self.units.get(unit.host or "")
        return host if host is not None and host.kind is UnitKind.PROCESSOR else None

    def _link(self, connection: Connection) -> Link | None:
        source = self.socket(connection.source, Direction.OUT)
        sink = self.socket(connection.sink, Direction.IN)
        if source is None or sink is None:
            return None
        return Link(
            connection=connection,
            source=source,
            sink=sink,
            source_unit=self.units[connection.source.unit],
            sink_unit=self.units[connection.sink.unit],
        )


def member_key(unit: Unit) -> MemberKey | None:
    """The place that a loudspeaker or subwoofer claims; None for other gear, or if it claims none."""
    if unit.kind not in SPEAKERS or unit.member is None:
        return None
    return (unit.kind, *unit.member)


def _resolved_units(design: Design, known: Known) -> Mapping[str, Unit]:
    """Units by id whose sku is of their kind; of units with one id, the first."""
    resolved: dict[str, Unit] = {}
    for unit in design.units:
        item = known.items.get(unit.sku)
        if item is not None and KIND_OF_RECORD.get(type(item)) is unit.kind:
            resolved.setdefault(unit.id, unit)
    return resolved


def _grouped_by_kind(units: Mapping[str, Unit]) -> Mapping[UnitKind, list[Unit]]:
    grouped: dict[UnitKind, list[Unit]] = {kind: [] for kind in UnitKind}
    for unit in units.values():
        grouped[unit.kind].append(unit)
    return grouped
