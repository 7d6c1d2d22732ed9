"""M1 to M6 of a design, counted afresh from its units and connections."""

from collections.abc import Mapping

from planner.brief.records import Drive
from planner.catalogue.records import Isolator, PortRole
from planner.checks.case import Case
from planner.checks.outputs import processed_outputs
from planner.checks.signal_graph import SignalGraph
from planner.checks.sockets import Level, Socket
from planner.checks.view import RENDERERS, SPEAKERS, Link
from planner.contacts import Direction
from planner.design import LeadMethod, Measures, UnitKind

_BOXES = frozenset({UnitKind.SPLITTER, UnitKind.ISOLATOR, UnitKind.DSP, UnitKind.AMPLIFIER})


def measures(case: Case, price_minor: int) -> Measures:
    """The measures of one design; those that other parts compute are left None."""
    return Measures(
        price_minor=price_minor,
        independent_subs=independent_subwoofers(case),
        control_groups=control_groups(case),
        spare_outputs=min(spare_outputs(case), case.known.brief.limits.spare_ceiling),
        joints=joints(case),
        subs_lost_worst=subwoofers_lost(case.graph),
        conversions=conversions(case),
    )


def independent_subwoofers(case: Case) -> int:
    """M2: subwoofers with a control point to themselves that offers all that is asked (R10)."""
    filters = case.known.brief.limits.filters_per_subwoofer
    return len(
        {
            subwoofer
            for point in case.points
            if point.is_independent(filters)
            for subwoofer in point.subwoofers
        }
    )  # fmt: skip


def control_groups(case: Case) -> int:
    """M2, beside it: the control points that subwoofers hang on, whatever they offer."""
    return sum(bool(point.subwoofers) for point in case.points)


def spare_outputs(case: Case) -> int:
    """M3 before the ceiling: line outputs still free for another channel, as far as they can be processed."""
    free = sum(
        _free_outputs(case, unit_id, socket)
        for kind in RENDERERS
        for unit_id, sku in ((unit.id, unit.sku) for unit in case.view.units_of[kind])
        for socket in case.known.sockets(sku).values()
        if socket.direction is Direction.OUT and socket.level is Level.LINE
    )
    processed, used = processed_outputs(case)
    return min(free, max(0, processed - used))


def _free_outputs(case: Case, unit_id: str, socket: Socket) -> int:
    used = len(_used_jacks(case, unit_id, socket))
    not_in_brief = sum(channel not in case.known.channels for channel in socket.channels)
    match socket.role:
        case PortRole.ASSIGNABLE:
            return min(socket.count - used, not_in_brief) if socket.channels else socket.count - used
        case PortRole.FIXED_SUB:
            return socket.count - used
        case PortRole.MIRRORED_SUB:
            return 0 if used else 1
        case PortRole.FIXED_MAIN:
            return not_in_brief
        case _:
            return 0


def _used_jacks(case: Case, unit_id: str, socket: Socket) -> set[int]:
    leaving = case.view.links_leaving.get(unit_id, ())
    return {link.connection.source.index for link in leaving if link.source is socket}


def joints(case: Case) -> int:
    """M4: mated contacts and boxes on the paths to subwoofers, each counted once."""
    links = case.graph.to_subwoofers
    boxes = {link.sink_unit.id for link in links if link.sink_unit.kind in _BOXES}
    return sum(_mated_pairs(link) for link in links) + len(boxes)


def _mated_pairs(link: Link) -> int:
    lead = link.connection.lead
    match lead.method:
        case LeadMethod.DIRECT:
            return 1
        case LeadMethod.ADAPTED:
            return 2 + max(0, len(lead.parts) - 1)
        case _:
            return 2


def subwoofers_lost(graph: SignalGraph) -> int:
    """M5: the most subwoofers that fall silent when one box, lead or joint fails.

    Each is taken away in turn and the signal followed anew. A failed joint silences what
    the lead or plug that it belongs to would, so that links stand for both.
    """
    boxes: dict[str, set[Link]] = {}
    for link in graph.to_subwoofers:
        for unit in (link.source_unit, link.sink_unit):
            if unit.kind in _BOXES or unit.kind is UnitKind.SUBWOOFER:
                boxes.setdefault(unit.id, set()).add(link)
    failing = [*({link} for link in graph.to_subwoofers), *boxes.values()]
    playing = graph.playing_subwoofers()
    return max((len(playing - graph.playing_subwoofers(without=gone)) for gone in failing), default=0)


def conversions(case: Case) -> int:
    """M6: line-level links from balanced to unbalanced or back, splitters and isolators that change the balance."""
    between = sum(
        link.source.balanced is not link.sink.balanced
        for link in case.view.links
        if link.source.level is Level.LINE and link.sink.level is Level.LINE
    )
    isolators = (case.view.item(unit) for unit in case.view.units_of[UnitKind.ISOLATOR])
    return between + sum(
        isinstance(item, Isolator) and item.input_balanced is not item.output_balanced for item in isolators
    )


def drives(case: Case) -> Mapping[str, int]:
    """How many subwoofers are reached by each drive, all drives named."""
    counts = dict.fromkeys((drive.value for drive in Drive), 0)
    for point in case.points:
        for link in point.feeds:
            if link.sink_unit.kind is UnitKind.SUBWOOFER:
                counts[point.drive_of(link).value] += 1
    return counts


def passes_a_signal_on(case: Case) -> set[str]:
    """The ids of the units that a signal to a feed goes through or ends in."""
    return {
        unit.id
        for link in case.graph.alive
        if any(then.sink_unit.kind in SPEAKERS for then in case.graph.reached(link))
        for unit in (link.source_unit, link.sink_unit)
    }
