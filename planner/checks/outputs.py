"""R4, R5 and the cards: what an output may carry, and how much a processor renders and processes."""

from collections.abc import Iterator

from planner.catalogue.records import Card, Loudspeaker, PortRole, Processor
from planner.channels import is_bass
from planner.checks.case import Case
from planner.checks.control_points import ControlPoint, control_point_by_unit
from planner.checks.feeds import is_crossed
from planner.checks.findings import broken, counted
from planner.checks.sockets import Socket
from planner.checks.view import RENDERERS, Link
from planner.design import Finding, Jack, Unit, UnitKind


def roles_allow(case: Case) -> Iterator[Finding]:
    """R4: every output of the processor and its cards carries only what its role allows."""
    for link in case.graph.roots:
        reason = _refusal(link)
        if reason is not None:
            yield broken("R4", str(link.connection.source), f"{link.connection.source} {reason}")
    for point in case.points:
        channels = sorted({link.connection.channel for link in point.links})
        if len(channels) > 1:
            yield broken("R4", str(point), f"The jacks of {point} carry one signal, not {' and '.join(channels)}.")


def _refusal(link: Link) -> str | None:
    """Why this output may not carry what the link takes from it; None where it may."""
    socket, channel, way = link.source, link.connection.channel, link.connection.way
    match socket.role:
        case PortRole.FIXED_MAIN:
            fixed = _fixed_channel(socket, link.connection.source.index)
            if channel != fixed:
                return f"is fixed to {fixed or 'no channel'} and cannot carry {channel}."
            return "gives the whole channel only, not one way of it." if way is not None else None
        case PortRole.FIXED_SUB | PortRole.MIRRORED_SUB:
            return None if is_bass(channel) else f"gives bass only and cannot carry {channel}."
        case PortRole.ASSIGNABLE:
            if socket.channels and channel not in socket.channels:
                return f"can be assigned {', '.join(socket.channels)}, but not {channel}."
    return None


def _fixed_channel(socket: Socket, index: int) -> str | None:
    return socket.channels[index - 1] if index <= len(socket.channels) else None


def crossovers_fit(case: Case) -> Iterator[Finding]:
    """R4: the ways of a crossed loudspeaker are made in one device that can make so many."""
    for link in case.view.links:
        if link.sink_unit.kind is UnitKind.DSP and link.connection.way is not None:
            yield broken("R4", str(link.connection.sink), "A DSP unit takes the whole channel, not one way of it.")
    points_by_unit = control_point_by_unit(case.points)
    for unit in case.view.units_of[UnitKind.LOUDSPEAKER]:
        item = case.view.item(unit)
        if isinstance(item, Loudspeaker) and is_crossed(item):
            points = points_by_unit.get(unit.id, [])
            yield from _enough_ways(unit, item, points)
            yield from _one_device(case, unit, points)


def _enough_ways(unit: Unit, item: Loudspeaker, points: list[ControlPoint]) -> Iterator[Finding]:
    for point in points:
        offered = point.controls.crossover_ways if point.controls is not None else 0
        if offered < item.ways:
            yield broken(
                "R4", unit.id, f"{unit.id} needs {item.ways} ways; {point} is crossed over in {offered} at most."
            )


def _one_device(case: Case, unit: Unit, points: list[ControlPoint]) -> Iterator[Finding]:
    if len({point.is_dsp for point in points}) > 1:
        yield broken(
            "R4", unit.id, f"The ways of {unit.id} come from the processor and from a DSP unit; one must make all."
        )
    inputs: set[Jack] = {
        route.source
        for point in points
        if point.is_dsp
        for route in case.view.routes_to.get(point.jack, ())
    }  # fmt: skip
    if len(inputs) > 1:
        named = " and ".join(sorted(map(str, inputs)))
        yield broken("R4", unit.id, f"The ways of {unit.id} derive from {named}; one DSP input must serve all.")
    strangers = _others_served(case, unit, inputs)
    if strangers:
        yield broken(
            "R4",
            unit.id,
            f"The DSP input of {unit.id} also serves {', '.join(strangers)}; it must serve one loudspeaker.",
        )


def _others_served(case: Case, unit: Unit, inputs: set[Jack]) -> list[str]:
    """The units that derive from the same DSP inputs as this one."""
    outputs = {route.sink for jack in inputs for route in case.view.routes_from.get(jack, ())}
    return sorted(
        {link.sink_unit.id for point in case.points if point.jack in outputs for link in point.feeds} - {unit.id}
    )  # fmt: skip


def rendered_channels(case: Case) -> tuple[int, int]:
    """R5: channels rendered by the processor and its cards, and distinct channels in the design."""
    return (
        sum(each.rendered_channels for each in _processors(case))
        + sum(each.adds_rendered_channels for each in _cards(case)),
        len({link.connection.channel for link in case.graph.roots}),
    )


def processed_outputs(case: Case) -> tuple[int, int]:
    """R5: outputs that the processor and its cards can set separately, and those in use."""
    return (
        sum(each.processed_outputs for each in _processors(case))
        + sum(each.adds_processed_outputs for each in _cards(case)),
        sum(point.unit.kind in RENDERERS for point in case.points),
    )


def capacity(case: Case) -> Iterator[Finding]:
    """R5: no more channels and outputs than the one processor, with its cards, can deal with."""
    processors = case.view.units_of[UnitKind.PROCESSOR]
    if len(processors) != 1:
        yield broken(
            "R5", "processor", f"The design has {counted(len(processors), 'processor')}; it needs exactly one."
        )
    rendered, channels = rendered_channels(case)
    if channels > rendered:
        taken = f"The design takes {counted(channels, 'channel')}"
        yield broken("R5", "rendered channels", f"{taken}; the processor renders {rendered}.")
    processed, used = processed_outputs(case)
    if used > processed:
        taken = f"The design takes {counted(used, 'output')}"
        yield broken("R5", "processed outputs", f"{taken}; the processor sets {processed} separately.")


def cards_fit(case: Case) -> Iterator[Finding]:
    """R5: every card sits in a processor that it fits, and the slots suffice."""
    slots_taken: dict[str, int] = {}
    for unit in case.view.units_of[UnitKind.CARD]:
        card, host = case.view.item(unit), case.view.processor_of(unit)
        if not isinstance(card, Card):
            continue
        if host is None:
            yield broken("R5", unit.id, f"{unit.id} sits in no processor of the design.")
            continue
        slots_taken[host.id] = slots_taken.get(host.id, 0) + card.slots
        if host.sku not in card.fits:
            yield broken(
                "R5", unit.id, f"{card.sku} does not fit {host.sku}; it fits {', '.join(card.fits) or 'nothing'}."
            )
    for unit in case.view.units_of[UnitKind.PROCESSOR]:
        processor, taken = case.view.item(unit), slots_taken.get(unit.id, 0)
        if isinstance(processor, Processor) and taken > processor.card_slots:
            yield broken(
                "R5", unit.id, f"The cards take {counted(taken, 'slot')}; {unit.id} has {processor.card_slots}."
            )


def _processors(case: Case) -> Iterator[Processor]:
    for unit in case.view.units_of[UnitKind.PROCESSOR]:
        item = case.view.item(unit)
        if isinstance(item, Processor):
            yield item


def _cards(case: Case) -> Iterator[Card]:
    for unit in case.view.units_of[UnitKind.CARD]:
        item = case.view.item(unit)
        if isinstance(item, Card):
            yield item
