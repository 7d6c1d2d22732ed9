"""R17: the graph of protective earths and shields that a finished design makes.

Nodes are the safety earth, each chassis, each splitter, whose shell joins its legs, and the two
sides of each isolator, which nothing joins. A card is part of its host's chassis. Edges:

- a protective earth for each device that has a mains cord (idle or rated power above 0) and is
  not class II; a card has no cord of its own;
- a shield for each line-level connection, splitters plugged on included. Shields are taken as
  joined at both ends, as AES48 wants of equipment and as an unbalanced lead cannot do without;
  only a balanced terminal block whose printed order has no shield leaves one open. Loudspeaker
  cable has no shield, and its return is no chassis.

A shield carries the signal's return, and with it whatever current flows in a loop, unless the
signal has both its cores to itself: from balanced to balanced; from unbalanced to balanced by a
two-core lead, whose cold core is joined to the shell at the source; and from a floating
balanced output (servo, transformer) to unbalanced by a two-core lead, whose cold core is joined
to the shell at the far end. These are called balanced here, all others unbalanced.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from planner.catalogue.records import BulkCable, CableKind, Lead, OutputStage, PortGroup
from planner.checks.case import Case
from planner.checks.sockets import ISOLATOR_INPUT, ISOLATOR_OUTPUT, Level, Socket
from planner.checks.view import Link
from planner.contacts import PinRole, printed_role
from planner.design import Connection, Jack, LeadMethod, Unit, UnitKind
from planner.physics.amplifier_channels import Ports
from planner.physics.mains import has_protective_earth

SAFETY_EARTH = "safety earth"

_FLOATING = frozenset({OutputStage.SERVO, OutputStage.TRANSFORMER})


class Join(StrEnum):
    """What an edge of the graph is."""

    PROTECTIVE_EARTH = "protective earth"
    BALANCED = "balanced shield"
    UNBALANCED = "unbalanced shield"


@dataclass(frozen=True, kw_only=True, slots=True)
class EarthEdge:
    """One galvanic join. `ends` are the jacks that a shield runs between, `lead` names them; none for an earth.

    `shield_ohm` is the resistance of the shield along the lead; None where the catalogue
    does not give it.
    """

    one: str
    other: str
    join: Join
    lead: str = ""
    ends: tuple[Jack, ...] = ()
    shield_ohm: float | None = None


def earth_edges(case: Case, ports: Ports) -> tuple[EarthEdge, ...]:
    """Every edge: protective earths first, then shields in the order of the connections."""
    earths = (
        EarthEdge(one=SAFETY_EARTH, other=unit.id, join=Join.PROTECTIVE_EARTH)
        for unit in case.view.units.values()
        if has_protective_earth(unit, case.view.item(unit))
    )
    return (*earths, *_shields(case, ports))


def _shields(case: Case, ports: Ports) -> Iterator[EarthEdge]:
    for link in case.view.links:
        if not link.source.level is link.sink.level is Level.LINE:
            continue
        ends = ((link.source_unit, link.source), (link.sink_unit, link.sink))
        groups = [_port(ports, unit, socket) for unit, socket in ends]
        if any(group is not None and _open_shield(group) for group in groups):
            continue
        yield EarthEdge(
            one=_chassis(case, link.source_unit, ISOLATOR_OUTPUT),
            other=_chassis(case, link.sink_unit, ISOLATOR_INPUT),
            join=Join.BALANCED if _keeps_its_cores(case, link, groups[0]) else Join.UNBALANCED,
            lead=str(link),
            ends=(link.connection.source, link.connection.sink),
            shield_ohm=_shield_ohm(case, link.connection),
        )


def _port(ports: Ports, unit: Unit, socket: Socket) -> PortGroup | None:
    return next((port for port in ports.get(unit.sku, ()) if port.name == socket.name), None)


def _chassis(case: Case, unit: Unit, side: str) -> str:
    if unit.kind is UnitKind.ISOLATOR:
        return f"{unit.id} / {side}"
    processor = case.view.processor_of(unit) if unit.kind is UnitKind.CARD else None
    return processor.id if processor is not None else unit.id


def _open_shield(port: PortGroup) -> bool:
    """Whether a balanced terminal block has no place for a shield: none of the ways printed on it is one."""
    return port.balanced and bool(port.pin_order) and PinRole.SHIELD not in map(printed_role, port.pin_order)


def _keeps_its_cores(case: Case, link: Link, source: PortGroup | None) -> bool:
    """Whether the signal leaves the shield alone: see the top of this file."""
    if not _two_cores(case, link):
        return False
    if link.sink.balanced:
        return True
    return link.source.balanced and source is not None and source.output_stage in _FLOATING


def _two_cores(case: Case, link: Link) -> bool:
    if link.connection.lead.method is LeadMethod.DIRECT:
        return link.source.balanced and link.sink.balanced
    cable = _cable(case, link.connection)
    if isinstance(cable, Lead):
        return cable.balanced
    return cable is not None and cable.kind is CableKind.LINE_BALANCED


def _shield_ohm(case: Case, connection: Connection) -> float | None:
    """Of a made lead all that was sold hangs there, of a cut one half; of bulk cable the length wanted."""
    if connection.lead.method is LeadMethod.DIRECT:
        return 0.0
    cable = _cable(case, connection)
    if cable is None or cable.shield_mohm_per_m is None:
        return None
    length_m = connection.lead.length_m
    if isinstance(cable, Lead):
        length_m = cable.length_m / (2 if connection.lead.method is LeadMethod.CUT else 1)
    return cable.shield_mohm_per_m / 1000 * length_m


def _cable(case: Case, connection: Connection) -> Lead | BulkCable | None:
    parts = (case.known.items.get(part.sku) for part in connection.lead.parts)
    return next((part for part in parts if isinstance(part, Lead | BulkCable)), None)
