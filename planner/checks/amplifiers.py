"""R6: passive feeds get speaker level from one amplifier channel each, and nothing else does."""

from collections.abc import Iterator

from planner.catalogue.records import Amplifier, Loudspeaker, Powering, Subwoofer
from planner.checks.case import Case
from planner.checks.findings import broken, counted
from planner.checks.sockets import Level
from planner.checks.view import RENDERERS, SPEAKERS, Link
from planner.contacts import Direction
from planner.design import Finding, Unit, UnitKind


def powered_rightly(case: Case) -> Iterator[Finding]:
    """R6, link by link: speaker level goes to passive feeds, line level to active ones and amplifiers."""
    for link in case.view.links:
        reason = _mismatch(case, link)
        if reason is not None:
            yield broken("R6", str(link), reason)


def _mismatch(case: Case, link: Link) -> str | None:
    amplified = link.source_unit.kind is UnitKind.AMPLIFIER or link.source.level is Level.SPEAKER
    chained = link.source_unit.kind is UnitKind.SUBWOOFER
    passive = _is_passive(case, link.sink_unit)
    if amplified and not passive and not chained:
        return f"{link.connection.source} is an amplifier channel; it drives one passive feed and nothing else."
    if passive and not amplified and not chained:
        return f"{link.sink_unit.id} is passive; it needs an amplifier channel, not a line output."
    if link.sink_unit.kind in SPEAKERS and not passive and link.sink.level is not Level.LINE:
        return f"{link.sink_unit.id} is active; it is fed at a line input."
    return None


def _is_passive(case: Case, unit: Unit) -> bool:
    item = case.view.item(unit)
    return isinstance(item, Loudspeaker | Subwoofer) and item.powering is not Powering.ACTIVE


def amplifier_channels(case: Case) -> Iterator[Finding]:
    """R6: each amplifier channel takes one signal and drives one feed, and exists."""
    for unit in case.view.units_of[UnitKind.AMPLIFIER]:
        item = case.view.item(unit)
        if isinstance(item, Amplifier):
            yield from _one_amplifier(case, unit, item)


def _one_amplifier(case: Case, unit: Unit, item: Amplifier) -> Iterator[Finding]:
    entering = [link.connection.sink.index for link in case.view.links_entering.get(unit.id, ())]
    leaving = [link.connection.source.index for link in case.view.links_leaving.get(unit.id, ())]
    for channel in sorted({*entering, *leaving}):
        name, signals, feeds = f"{unit.id}, channel {channel}", entering.count(channel), leaving.count(channel)
        if channel > item.channels:
            yield broken("R6", name, f"{unit.id} has {counted(item.channels, 'channel')}; channel {channel} is used.")
        if signals > 1:
            yield broken("R6", name, f"{name} is given {signals} signals; it takes one.")
        if feeds > 1:
            yield broken("R6", name, f"{name} is to drive {feeds} feeds; it drives one.")
        if signals and not feeds:
            yield broken("R6", name, f"{name} is given a signal, but drives nothing.")


def internal_amplifiers(case: Case) -> Iterator[Finding]:
    """R6: no more internal amplifier channels of the processor are used than it has."""
    used = {connection.source for connection in case.design.connections}
    for kind in RENDERERS:
        for unit in case.view.units_of[kind]:
            for socket in case.known.sockets(unit.sku).values():
                if socket.level is not Level.SPEAKER or socket.direction is not Direction.OUT:
                    continue
                count = sum(jack.unit == unit.id and jack.group == socket.name for jack in used)
                if count > socket.count:
                    yield broken(
                        "R6",
                        f"{unit.id} / {socket.name}",
                        f"{unit.id} has {counted(socket.count, 'internal amplifier channel')}; {count} to be used.",
                    )


def signal_kept(case: Case) -> Iterator[Finding]:
    """R6: what leaves an amplifier channel is what came in."""
    for link in case.view.links:
        if link.sink_unit.kind is UnitKind.AMPLIFIER:
            for then in case.graph.following[link]:
                if _signal(then) != _signal(link):
                    yield broken(
                        "R6", str(then), f"{then.connection.source} is said to give another signal than comes in."
                    )


def _signal(link: Link) -> tuple[str, int | None]:
    return (link.connection.channel, link.connection.way)
