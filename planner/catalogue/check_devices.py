"""A device against its ports: whether it has the jacks that its own figures promise.

The jacks that count are those the planner can use: digital ones are listed but never used.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from typing import Any

from planner.catalogue.records import (
    Amplifier,
    Card,
    DspUnit,
    Loudspeaker,
    PortGroup,
    PortRole,
    Powering,
    Processor,
    Subwoofer,
)
from planner.catalogue.rows import Complaint, Entries, Flaw, placed
from planner.contacts import DIGITAL, SPEAKER_LEVEL, Direction

DEVICES: tuple[type[Any], ...] = (Processor, Card, DspUnit, Amplifier, Loudspeaker, Subwoofer)

_PROCESSOR_ROLES = (PortRole.FIXED_MAIN, PortRole.FIXED_SUB, PortRole.MIRRORED_SUB, PortRole.ASSIGNABLE)
_ADD_PORTS = "Add its ports to the sheet of ports, or correct the device."

_Ports = Sequence[PortGroup]


def role_flaws(entries: Entries) -> Iterator[Flaw]:
    """Ports whose role makes no sense on their device."""
    kinds = _kind_by_sku(entries)
    for entry in entries.of(PortGroup):
        port, kind = entry.record, kinds.get(entry.record.device)
        if kind is not None and port.role not in _roles(port, kind):
            way = "input" if port.direction is Direction.IN else "output"
            roles = " or ".join(role.value for role in _roles(port, kind))
            remedy = "Correct the role, the direction or the device."
            yield Complaint("role", f'"{port.role.value}"', f"{roles} at an {way} of this device", remedy).at(
                entry.place
            )


def _kind_by_sku(entries: Entries) -> dict[str, type[Any]]:
    """The kind of every device, those left out whose sku stands for two."""
    found = [(entry.record.sku, kind) for kind in DEVICES for entry in entries.of(kind)]
    count = Counter(sku for sku, _ in found)
    return {sku: kind for sku, kind in found if count[sku] == 1}


def _roles(port: PortGroup, kind: type[Any]) -> tuple[PortRole, ...]:
    """The roles that a port of this direction may have on this kind of device."""
    if port.direction is Direction.IN:
        return (PortRole.PLAIN,)
    if kind in (Processor, Card):
        return (*_PROCESSOR_ROLES, PortRole.PLAIN) if port.connector in DIGITAL else _PROCESSOR_ROLES
    return (PortRole.PLAIN, PortRole.LINK) if kind is Subwoofer else (PortRole.PLAIN,)


def device_flaws(entries: Entries) -> Iterator[Flaw]:
    """Devices that lack ports, where the ports of the device could all be read."""
    if not entries.named(PortGroup):
        return
    ports: dict[str, list[PortGroup]] = {}
    for port in entries.of(PortGroup):
        ports.setdefault(port.record.device, []).append(port.record)
    unsure = entries.doubtful(PortGroup)
    cards = [entry.record for entry in entries.of(Card)]
    hosted = {sku for card in cards if card.sku in unsure or _outputs(ports.get(card.sku, [])) for sku in card.fits}
    kinds = _kind_by_sku(entries)
    checks: tuple[tuple[type[Any], Callable[[Any, _Ports], Iterator[Complaint]]], ...] = (
        (Processor, lambda record, own: _processor(record, own, record.sku in hosted)),
        (DspUnit, _dsp_unit),
        (Amplifier, _amplifier),
        (Loudspeaker, _loudspeaker),
        (Subwoofer, _subwoofer),
    )
    for kind, check in checks:
        for entry in entries.of(kind):
            if entry.record.sku in kinds and entry.record.sku not in unsure:
                yield from placed(entry, check(entry.record, ports.get(entry.record.sku, [])))


def _counted(count: int, noun: str) -> str:
    return f"{count or 'no'} {noun}" if count < 2 else f"{count} {noun}s"


def _outputs(ports: _Ports) -> list[PortGroup]:
    return [p for p in ports if p.direction is Direction.OUT]


def _inputs(ports: _Ports) -> list[PortGroup]:
    return [p for p in ports if p.direction is Direction.IN]


def _line(ports: _Ports) -> list[PortGroup]:
    return [p for p in ports if p.connector not in DIGITAL | SPEAKER_LEVEL]


def _speaker(ports: _Ports) -> list[PortGroup]:
    return [p for p in ports if p.connector in SPEAKER_LEVEL]


def _processor(record: Processor, ports: _Ports, hosts_outputs: bool) -> Iterator[Complaint]:
    """A processor has outputs of its own, or a card that brings them."""
    if not _outputs(ports) and not hosts_outputs:
        yield Complaint("sku", f'no output of "{record.sku}"', "at least one output of a processor", _ADD_PORTS)


def _dsp_unit(record: DspUnit, ports: _Ports) -> Iterator[Complaint]:
    inputs, outputs = _inputs(ports), _outputs(ports)
    yield from _enough_jacks("inputs", record.inputs, inputs)
    yield from _enough_jacks("outputs", record.outputs, outputs)
    if record.outputs_per_input is None or not inputs or not outputs:
        return
    for name, groups in (("input", inputs), ("output", outputs)):
        if len(groups) > 1:
            yield Complaint(
                "outputs_per_input",
                f'{len(groups)} {name} groups of "{record.sku}"',
                f"one {name} group where outputs belong to inputs",
                "Make it one group, or leave the cell empty.",
            )
    reached = record.outputs_per_input * sum(p.count for p in inputs)
    jacks = sum(p.count for p in outputs)
    if jacks > reached:
        yield Complaint(
            "outputs_per_input",
            f"{record.outputs_per_input}, which reaches {reached} of {jacks} output jacks",
            "an input for every output",
            "Correct it, or the counts of the ports.",
        )


def _enough_jacks(column: str, signals: int, groups: _Ports) -> Iterator[Complaint]:
    """A digital jack carries several signals, so where there is one the count says nothing."""
    if any(p.connector in DIGITAL for p in groups):
        return
    jacks = sum(p.count for p in groups)
    if jacks < signals:
        yield Complaint(
            column,
            f"{signals}, with {_counted(jacks, 'jack')} in its ports",
            f"at least {_counted(signals, 'jack')} among its {column}",
            _ADD_PORTS,
        )


def _amplifier(record: Amplifier, ports: _Ports) -> Iterator[Complaint]:
    """Jack k of an input group and of an output group belong to channel k."""
    sides = (
        ("line input", _line(_inputs(ports))),
        ("loudspeaker output", _speaker(_outputs(ports))),
    )
    for name, groups in sides:
        if not groups:
            yield Complaint("channels", f"{record.channels}, with no {name}", f"a {name} for each channel", _ADD_PORTS)
        for group in groups:
            if group.count < record.channels:
                yield Complaint(
                    "channels",
                    f'{record.channels}, with {_counted(group.count, "jack")} in its {name} group "{group.name}"',
                    f"at least {_counted(record.channels, 'jack')} in each {name} group",
                    "Correct the channels, or make one group of the jacks.",
                )


def _loudspeaker(record: Loudspeaker, ports: _Ports) -> Iterator[Complaint]:
    groups = len(_speaker(_inputs(ports)))
    if record.powering is Powering.CROSSED and groups != record.ways >= 2:
        yield Complaint(
            "ways",
            f"{record.ways}, with {_counted(groups, 'group')} of terminals in its ports",
            "one input group with a binding post or 4-pole jack for each way",
            _ADD_PORTS,
        )
    elif record.powering is not Powering.CROSSED:
        yield from _feed(record, ports)


def _subwoofer(record: Subwoofer, ports: _Ports) -> Iterator[Complaint]:
    if record.powering is not Powering.CROSSED:
        yield from _feed(record, ports)


def _feed(record: Loudspeaker | Subwoofer, ports: _Ports) -> Iterator[Complaint]:
    """An active device has a line input, a passive one terminals."""
    inputs = _inputs(ports)
    if record.powering is Powering.ACTIVE and not _line(inputs):
        yield Complaint("powering", f'"active", with no line input of "{record.sku}"', "a line input", _ADD_PORTS)
    if record.powering is Powering.PASSIVE and not _speaker(inputs):
        yield Complaint(
            "powering",
            f'"passive", with no terminals of "{record.sku}"',
            "an input with a binding post or 4-pole jack",
            _ADD_PORTS,
        )
