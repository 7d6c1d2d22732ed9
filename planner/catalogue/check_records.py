"""Contradictions within one record: what no device can be, whatever else the catalogue holds."""

from collections.abc import Callable, Iterator
from typing import Any

from planner.catalogue.records import (
    ConnectorPart,
    Isolator,
    Loudspeaker,
    OutputStage,
    PortGroup,
    PortRole,
    Powering,
    Splitter,
    Subwoofer,
)
from planner.catalogue.rows import Complaint, Entries, Flaw, placed
from planner.channels import is_bass
from planner.contacts import BARE_TAIL, Connector, Direction, PinRole, printed_role

# Stages that drive two conductors, and so need a balanced port.
_BALANCED_STAGES = frozenset({OutputStage.SYMMETRICAL, OutputStage.SERVO, OutputStage.IMPEDANCE_BALANCED})


def record_flaws(entries: Entries) -> Iterator[Flaw]:
    """Every contradiction within a record."""
    checks: tuple[tuple[type[Any], Callable[[Any], Iterator[Complaint]]], ...] = (
        (Loudspeaker, _loudspeaker),
        (Subwoofer, _subwoofer),
        (Splitter, _splitter),
        (Isolator, _isolator),
        (ConnectorPart, _connector_part),
        (PortGroup, _port),
    )
    for record, check in checks:
        for entry in entries.of(record):
            yield from placed(entry, check(entry.record))


def _loudspeaker(record: Loudspeaker) -> Iterator[Complaint]:
    if record.powering is Powering.CROSSED and record.ways < 2:
        yield Complaint(
            "ways", f"{record.ways} for a crossed loudspeaker", "two ways or more", "Correct the ways, or the powering."
        )
    yield from _level(record)


def _subwoofer(record: Subwoofer) -> Iterator[Complaint]:
    if record.powering is Powering.CROSSED:
        yield Complaint("powering", '"crossed"', "active or passive for a subwoofer", "Write one of the two.")
        return
    yield from _level(record)


def _level(record: Loudspeaker | Subwoofer) -> Iterator[Complaint]:
    """Each kind of powering needs the figures that its greatest level is worked out from."""
    if record.powering is Powering.ACTIVE:
        if record.max_spl_db is None:
            yield Complaint(
                "max_spl_db", "nothing", "the greatest level of an active device", "Fill in the level in dB at 1 m."
            )
        return
    needed = (("sensitivity_db", record.sensitivity_db), ("impedance_ohm", record.impedance_ohm))
    for column, value in needed:
        if value is None:
            yield Complaint(
                column,
                "nothing",
                f"a figure for a {record.powering.value} device",
                "Fill it in, or correct the powering.",
            )
    if record.impedance_ohm and record.least_impedance_ohm and record.least_impedance_ohm > record.impedance_ohm:
        yield Complaint(
            "least_impedance_ohm",
            f"{record.least_impedance_ohm:g}",
            f"no more than the impedance_ohm of {record.impedance_ohm:g}",
            "Correct one of the two.",
        )


def _splitter(record: Splitter) -> Iterator[Complaint]:
    if record.balanced and Connector.RCA in (record.input.connector, record.leg.connector):
        yield Complaint(
            "balanced",
            '"yes" with rca contacts',
            "no: an rca contact is unbalanced",
            "Write no, or correct the contacts.",
        )


def _isolator(record: Isolator) -> Iterator[Complaint]:
    if record.balanced and record.input.connector is record.output.connector is Connector.RCA:
        yield Complaint(
            "balanced", '"yes" with rca jacks', "no: an rca jack is unbalanced", "Write no, or correct the jacks."
        )


def _connector_part(record: ConnectorPart) -> Iterator[Complaint]:
    if record.contact == BARE_TAIL:
        yield Complaint("contact", '"bare"', "a connector", "Delete the row: a bare tail needs no part.")


def _port(port: PortGroup) -> Iterator[Complaint]:
    yield from _port_build(port)
    yield from _port_channels(port)


def _port_build(port: PortGroup) -> Iterator[Complaint]:
    if port.connector is Connector.BARE:
        yield Complaint("connector", '"bare"', "the connector of a jack", "Write terminal for a terminal block.")
    if port.balanced and port.connector is Connector.RCA:
        yield Complaint(
            "balanced",
            '"yes" with the connector rca',
            "no: an rca jack is unbalanced",
            "Write no, or correct the connector.",
        )
    yield from _pin_order(port)
    stage, shown = port.output_stage, f'"{port.output_stage.value}"'
    if stage is OutputStage.UNKNOWN:
        return
    if port.direction is Direction.IN:
        yield Complaint("output_stage", f"{shown} on an input", "nothing", "Leave the cell empty.")
    elif stage in _BALANCED_STAGES and not port.balanced:
        yield Complaint(
            "output_stage",
            f"{shown} on an unbalanced output",
            "unbalanced, transformer or unknown",
            "Correct the stage, or write yes under balanced.",
        )
    elif stage is OutputStage.UNBALANCED and port.balanced:
        yield Complaint(
            "output_stage",
            f"{shown} on a balanced output",
            "the stage of a balanced output",
            "Correct the stage, or write no under balanced.",
        )


def _pin_order(port: PortGroup) -> Iterator[Complaint]:
    """The ways of a terminal block: known legends, each conductor once, and those that the signal needs."""
    if not port.pin_order:
        return
    shown = f'"{";".join(port.pin_order)}"'
    if port.connector is not Connector.TERMINAL:
        yield Complaint(
            "pin_order",
            f"{shown} at the connector {port.connector.value}",
            "nothing: only a terminal block has an order of its own",
            "Leave the cell empty.",
        )
        return
    roles = [printed_role(legend) for legend in port.pin_order]
    needed = {PinRole.HOT, PinRole.COLD} if port.balanced else {PinRole.HOT}
    if None in roles or len(set(roles)) < len(roles) or not needed <= set(roles):
        kind, example = ("a balanced", "+;-;shield") if port.balanced else ("an unbalanced", "+;shield")
        yield Complaint(
            "pin_order",
            shown,
            f"the ways of {kind} terminal block as printed on the device, such as {example}",
            "Write +, - and shield in the order of the print, each once.",
        )


def _port_channels(port: PortGroup) -> Iterator[Complaint]:
    shown = f'"{";".join(port.channels)}"' if port.channels else "nothing"
    match port.role:
        case PortRole.FIXED_MAIN if len(port.channels) != port.count:
            yield Complaint(
                "channels",
                shown,
                f"{port.count} channels, one for each jack in order",
                "List one channel a jack, or correct the count.",
            )
        case PortRole.FIXED_SUB | PortRole.MIRRORED_SUB if not all(map(is_bass, port.channels)):
            yield Complaint(
                "channels",
                shown,
                f"only LFE1 and LFE2 at {port.role.value} outputs",
                "Leave the cell empty, or correct the role.",
            )
        case PortRole.PLAIN | PortRole.LINK if port.channels:
            yield Complaint(
                "channels", shown, f"nothing at {port.role.value} ports", "Leave the cell empty, or correct the role."
            )
