"""The channel ledger: for each port group, how many there are, in use and to spare."""

from collections.abc import Iterator

from planner.checks.case import Case
from planner.checks.outputs import processed_outputs, rendered_channels
from planner.design import LedgerLine, Unit, UnitKind

_LISTED = (UnitKind.PROCESSOR, UnitKind.CARD, UnitKind.DSP, UnitKind.AMPLIFIER)


def ledger(case: Case) -> tuple[LedgerLine, ...]:
    """The lines of processor, cards, DSP units and amplifiers, inputs and outputs alike."""
    return tuple(_lines(case))


def _lines(case: Case) -> Iterator[LedgerLine]:
    for kind in _LISTED:
        for unit in case.view.units_of[kind]:
            if unit.kind is UnitKind.PROCESSOR:
                yield _line(unit, "rendered channels", *rendered_channels(case))
                yield _line(unit, "processed outputs", *processed_outputs(case))
            yield from _port_groups(case, unit)


def _port_groups(case: Case, unit: Unit) -> Iterator[LedgerLine]:
    jacks = {link.connection.source for link in case.view.links_leaving.get(unit.id, ())}
    jacks |= {link.connection.sink for link in case.view.links_entering.get(unit.id, ())}
    for socket in case.known.sockets(unit.sku).values():
        yield _line(unit, socket.name, socket.count, sum(jack.group == socket.name for jack in jacks))


def _line(unit: Unit, group: str, have: int, used: int) -> LedgerLine:
    return LedgerLine(device=unit.id, group=group, have=have, used=used, spare=max(0, have - used))
