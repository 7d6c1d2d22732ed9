"""R7: what a DSP unit takes in, gives out, and derives from what."""

from collections import Counter
from collections.abc import Iterator

from planner.catalogue.records import DspUnit
from planner.checks.case import Case
from planner.checks.feeds import is_crossed
from planner.checks.findings import broken, counted
from planner.checks.view import RENDERERS
from planner.design import Finding, Jack, Route, Unit, UnitKind


def routes_are_inside(case: Case) -> Iterator[Finding]:
    """R7: a route joins an input and an output of one DSP unit, as its matrix allows."""
    for route in case.view.routes:
        unit = case.view.units[route.source.unit]
        item = case.view.item(unit)
        if route.source.unit != route.sink.unit:
            yield broken("R7", str(route.sink), f"{route.sink} cannot derive from {route.source}, in another unit.")
        elif not isinstance(item, DspUnit):
            yield broken("R7", str(route.sink), f"{unit.id} is no DSP unit; nothing is routed inside it.")
        elif not _matrix_allows(item, route):
            yield broken(
                "R7",
                str(route.sink),
                f"{route.sink} can derive from input {_fixed_input(item, route.sink)} only, not {route.source.index}.",
            )


def _fixed_input(item: DspUnit, output: Jack) -> int:
    """The only input that this output can derive from: ceil(k / outputs_per_input)."""
    return -(-output.index // (item.outputs_per_input or 1))


def _matrix_allows(item: DspUnit, route: Route) -> bool:
    return item.outputs_per_input is None or route.source.index == _fixed_input(item, route.sink)


def outputs_derive(case: Case) -> Iterator[Finding]:
    """R7: each DSP output in use derives from one input, and carries the channel of it."""
    for link in case.view.links:
        if link.source_unit.kind is not UnitKind.DSP:
            continue
        output = link.connection.source
        sources = sorted({route.source for route in case.view.routes_to.get(output, ())})
        if len(sources) != 1:
            yield broken(
                "R7", str(output), f"{output} derives from {counted(len(sources), 'input')}; it needs exactly one."
            )
        for source in sources:
            yield from _same_channel(case, source, output, link.connection.channel)


def _same_channel(case: Case, source: Jack, output: Jack, channel: str) -> Iterator[Finding]:
    arriving = case.view.links_to.get(source, ())
    if not arriving:
        yield broken("R7", str(output), f"{output} derives from {source}, which no signal comes into.")
    for link in arriving:
        if link.connection.channel != channel:
            yield broken(
                "R7",
                str(output),
                f"{output} is said to carry {channel}, but {source} takes {link.connection.channel}.",
            )


def signals_within_limits(case: Case) -> Iterator[Finding]:
    """R7: no more signals in and out at once than the unit deals with."""
    for unit in case.view.units_of[UnitKind.DSP]:
        item = case.view.item(unit)
        if isinstance(item, DspUnit):
            yield from _limits(case, unit, item)


def _limits(case: Case, unit: Unit, item: DspUnit) -> Iterator[Finding]:
    signals_in = {link.connection.sink for link in case.view.links_entering.get(unit.id, ())}
    signals_out = {link.connection.source for link in case.view.links_leaving.get(unit.id, ())}
    signals_out |= {route.sink for route in case.view.routes if route.sink.unit == unit.id}
    if len(signals_in) > item.inputs:
        yield broken("R7", unit.id, f"{unit.id} is given {counted(len(signals_in), 'signal')}; it takes {item.inputs}.")
    if len(signals_out) > item.outputs:
        yield broken(
            "R7", unit.id, f"{unit.id} is to give {counted(len(signals_out), 'signal')}; it gives {item.outputs}."
        )


def fed_by_the_processor(case: Case) -> Iterator[Finding]:
    """R7: each DSP input has a processor output of its own; DSP units are never cascaded."""
    for point in case.points:
        for link in point.dsp_inputs:
            if point.is_dsp:
                yield broken(
                    "R7", str(link), f"{link.sink_unit.id} is fed by {point.unit.id}; DSP units are not cascaded."
                )
            elif link not in point.links and link.source_unit.kind not in (
                UnitKind.SPLITTER,
                UnitKind.ISOLATOR,
                *RENDERERS,
            ):
                yield broken(
                    "R7", str(link), f"{link.connection.sink} needs a processor output, not {link.source_unit.id}."
                )
        if len(point.dsp_inputs) > 1:
            named = " and ".join(str(link.connection.sink) for link in point.dsp_inputs)
            yield broken("R7", str(point), f"{point} feeds {named}; each DSP input needs an output of its own.")


def divides_or_sets_bass(case: Case) -> Iterator[Finding]:
    """R7: a whole loudspeaker that is alone on its channel is never routed through a DSP unit."""
    speakers_on = Counter(place.channel for place in case.known.places.values())
    for point in case.points:
        if not point.is_dsp:
            continue
        for link in point.feeds:
            unit, channel = link.sink_unit, link.connection.channel
            if unit.kind is not UnitKind.LOUDSPEAKER or is_crossed(case.view.item(unit)):
                continue
            if speakers_on[channel] < 2:
                gain = f"{unit.id} is alone on {channel}; {point.unit.id} adds a box and a delay, and nothing else"
                yield broken("R7", str(link), f"{gain}.")
