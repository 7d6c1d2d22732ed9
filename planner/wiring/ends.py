"""The two ends of a lead, pin by pin: what it plugs into, what is fitted, which core goes where."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from planner.catalogue.records import Adapter, BulkCable, CableKind, Catalogue, ConnectorPart, Lead, OutputStage
from planner.checks.sockets import Level, Socket
from planner.contacts import BARE_TAIL, CLAMPS, Connector, Contact, PinRole, mates
from planner.design import Connection, Design, Jack, LeadMethod
from planner.errors import PlannerBug
from planner.physics.gear import Gear
from planner.wiring.cores import SPEAKER_WIRING, STRAIGHT_WIRING, Core, EndWiring, line_wiring
from planner.wiring.jacks import Jacks
from planner.wiring.pins import Pin, block_pins, pins_of
from planner.wiring.sources import Drivers

_THREE_PINS = frozenset({Connector.XLR, Connector.TRS})


@dataclass(frozen=True, kw_only=True, slots=True)
class PinJoin:
    """One pin and the cores joined to it, none where it stays open.

    `joined_to` names another pin of the same end to which it is joined instead.
    """

    pin: str
    role: PinRole
    cores: tuple[Core, ...]
    joined_to: str | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class LeadEnd:
    """One end of a lead.

    `device` is the catalogue's name of the device, `shows` what its jack is, `plug` what meets
    it there: a connector or a bare tail. `fitted` is the sku of the connector soldered on or of
    the adapter put on, if any. `to_make`: this end is soldered or clamped on the job; else it
    comes as made. `open_cores` are cut back and insulated at this end. `order_known`: the pins
    stand in the order of the connector, or of the print on the device.
    """

    jack: Jack
    device: str
    shows: Contact
    plug: Contact
    fitted: str | None
    to_make: bool
    pins: tuple[PinJoin, ...]
    open_cores: tuple[Core, ...]
    order_known: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Joint:
    """What decides the wiring of a lead. `stage` is the build of the output that drives it."""

    speaker: bool
    stage: OutputStage
    balanced_source: bool
    balanced_sink: bool
    two_cores: bool


class _Fitting(NamedTuple):
    """What meets a jack, by which part, and whether it is made on the job."""

    plug: Contact
    sku: str | None
    to_make: bool


class LeadEnds:
    """The ends of every lead of a valid design."""

    def __init__(self, design: Design, catalogue: Catalogue, gear: Gear) -> None:
        self._gear = gear
        self._jacks = Jacks(design, catalogue)
        self._drivers = Drivers(design, gear)

    def cable(self, connection: Connection) -> Lead | BulkCable:
        """The made lead or the bulk cable of a connection. Raises PlannerBug where there is none."""
        for part in connection.lead.parts:
            item = self._gear.items.get(part.sku)
            if isinstance(item, Lead | BulkCable):
                return item
        raise PlannerBug(f"{connection.source} to {connection.sink} has a lead without cable")

    def joint(self, connection: Connection) -> Joint:
        """What decides how the lead of a connection is wired."""
        source, sink = self._jacks.ends(connection)
        cable = self.cable(connection)
        return Joint(
            speaker=source.level is Level.SPEAKER,
            stage=self._drivers.stage(connection.source),
            balanced_source=source.balanced,
            balanced_sink=sink.balanced,
            two_cores=cable.balanced if isinstance(cable, Lead) else cable.kind is CableKind.LINE_BALANCED,
        )

    def of(self, connection: Connection) -> tuple[LeadEnd, LeadEnd]:
        """The end at the source and the end at the sink."""
        source, sink = self._jacks.ends(connection)
        joint = self.joint(connection)
        near, far = self._fittings(connection, source.contact, sink.contact)
        wirings = self._wirings(connection, joint, near.plug, far.plug)
        cores = cores_of(self.cable(connection), speaker=joint.speaker)
        return (
            self._end(connection.source, source, near, wirings[0], cores),
            self._end(connection.sink, sink, far, wirings[1], cores),
        )

    def _wirings(
        self, connection: Connection, joint: Joint, near: Contact, far: Contact
    ) -> tuple[EndWiring, EndWiring]:
        if joint.speaker:
            return SPEAKER_WIRING, SPEAKER_WIRING
        cable = self.cable(connection)
        if connection.lead.method in (LeadMethod.STOCKED, LeadMethod.ADAPTED) and isinstance(cable, Lead):
            ends = {near.connector, far.connector, cable.end_a.connector, cable.end_b.connector}
            if ends <= _THREE_PINS and cable.balanced:
                return STRAIGHT_WIRING
        return line_wiring(
            joint.stage,
            balanced_source=joint.balanced_source,
            balanced_sink=joint.balanced_sink,
            two_cores=joint.two_cores,
        )

    def _fittings(self, connection: Connection, source: Contact, sink: Contact) -> tuple[_Fitting, _Fitting]:
        """What meets the jack at the source, and at the sink."""
        build = connection.lead
        items = [self._gear.items.get(part.sku) for part in build.parts]
        if build.method is LeadMethod.MADE_UP:
            at = next(n for n, item in enumerate(items) if isinstance(item, BulkCable))
            return _soldered(items[:at]), _soldered(items[at + 1 :])
        cable = self.cable(connection)
        if not isinstance(cable, Lead):
            raise PlannerBug(f"{build.method.value} lead of bulk cable {cable.sku}")
        if build.method is LeadMethod.CUT:
            kept = _Fitting(cable.end_a if build.cut_end == "a" else cable.end_b, None, False)
            tail = _Fitting(BARE_TAIL, None, True)
            return (tail, kept) if source.connector is Connector.TERMINAL else (kept, tail)
        at = items.index(cable)
        near, far = (cable.end_b, cable.end_a) if build.flipped else (cable.end_a, cable.end_b)
        return _as_sold(source, near, items[:at]), _as_sold(sink, far, items[at + 1 :])

    def _end(
        self, jack: Jack, socket: Socket, fitting: _Fitting, wiring: EndWiring, cores: tuple[Core, ...]
    ) -> LeadEnd:
        pins, known = self._pins(jack, socket, fitting.plug)
        shield = next((pin.name for pin in pins if pin.role is PinRole.SHIELD), None)
        joins = tuple(_join(pin, wiring, shield) for pin in pins)
        placed = {core for join in joins for core in join.cores}
        return LeadEnd(
            jack=jack,
            device=self._jacks.item(jack.unit).name,
            shows=socket.contact,
            plug=fitting.plug,
            fitted=fitting.sku,
            to_make=fitting.to_make,
            pins=joins,
            open_cores=tuple(core for core in cores if core not in placed),
            order_known=known,
        )

    def _pins(self, jack: Jack, socket: Socket, plug: Contact) -> tuple[tuple[Pin, ...], bool]:
        """The pins at an end, and whether their order is known; a bare tail has those of its clamp."""
        if plug != BARE_TAIL:
            return pins_of(plug.connector), True
        port = self._gear.port(jack, socket.direction)
        if socket.contact.connector is Connector.TERMINAL and port is not None:
            return block_pins(port), bool(port.pin_order)
        return pins_of(socket.contact.connector), socket.contact.connector in CLAMPS


def cores_of(cable: Lead | BulkCable, *, speaker: bool) -> tuple[Core, ...]:
    """The conductors of a cable."""
    if speaker:
        return Core.PLUS, Core.MINUS
    two = cable.balanced if isinstance(cable, Lead) else cable.kind is CableKind.LINE_BALANCED
    return (Core.HOT, Core.COLD, Core.SHIELD) if two else (Core.HOT, Core.SHIELD)


def _join(pin: Pin, wiring: EndWiring, shield: str | None) -> PinJoin:
    bridged = pin.role is PinRole.COLD and wiring.cold_to_shield
    return PinJoin(
        pin=pin.name,
        role=pin.role,
        cores=wiring.cores.get(pin.role, ()),
        joined_to=shield if bridged else None,
    )


def _soldered(parts: Sequence[object]) -> _Fitting:
    connector = next((part for part in parts if isinstance(part, ConnectorPart)), None)
    return _Fitting(connector.contact if connector else BARE_TAIL, connector.sku if connector else None, True)


def _as_sold(jack: Contact, end: Contact, adapters: Sequence[object]) -> _Fitting:
    """The end of a made lead, or the side of its adapter that faces the jack."""
    adapter = next((part for part in adapters if isinstance(part, Adapter)), None)
    if adapter is None:
        return _Fitting(end, None, False)
    outward = adapter.end_b
    if not (mates(jack, adapter.end_b) and mates(adapter.end_a, end)):
        outward = adapter.end_a
    return _Fitting(outward, adapter.sku, False)
