"""R3: the contacts of every lead mate, and the lead is long enough and of the right kind."""

from collections.abc import Iterator

from planner.checks.case import Case
from planner.checks.findings import broken
from planner.checks.lead_methods import faults_as_sold, faults_cut, faults_made_up, no_mate
from planner.checks.sockets import Level
from planner.checks.spare_halves import cut_for_no_tail_of_its_own
from planner.checks.view import SPEAKERS, Link
from planner.contacts import mates
from planner.design import Finding, LeadMethod, Unit, UnitKind


def leads_fit(case: Case) -> Iterator[Finding]:
    """R3 for every connection."""
    for link in case.view.links:
        for sentence in _faults(case, link):
            yield broken("R3", str(link), sentence)
    wanted = ((link, _wanted_cm(case, link)) for link in case.view.links)
    yield from cut_for_no_tail_of_its_own(case, [(link, cm) for link, cm in wanted if cm is not None])


def _faults(case: Case, link: Link) -> Iterator[str]:
    levels = {link.source.level, link.sink.level}
    if Level.DIGITAL in levels:
        yield "A digital port is used; designs use analogue ports only."
    elif len(levels) > 1:
        yield f"No lead joins a {link.source.level.value}-level output to a {link.sink.level.value}-level input."
    elif link.connection.lead.method is LeadMethod.DIRECT:
        yield from _direct(link)
    elif link.sink_unit.kind is UnitKind.SPLITTER:
        yield "A splitter plugs onto the jack itself, without a lead."
    else:
        yield from _with_lead(case, link)


def _direct(link: Link) -> Iterator[str]:
    if link.sink_unit.kind is not UnitKind.SPLITTER:
        yield "Only a splitter plugs on without a lead."
        return
    if link.connection.lead.parts:
        yield "A splitter that plugs on directly takes no lead parts."
    if not mates(link.source.contact, link.sink.contact):
        yield no_mate(link.source.contact, link.sink.contact)


def _with_lead(case: Case, link: Link) -> Iterator[str]:
    build = link.connection.lead
    least_cm = _wanted_cm(case, link)
    if least_cm is not None and not abs(build.length_m * 100 - least_cm) <= 1e-4:
        yield f"The length wanted is put at {build.length_m:.2f} m; the route takes {least_cm / 100:.2f} m."
    found = [(case.known.items.get(part.sku), part.count) for part in build.parts]
    parts = [(item, count) for item, count in found if item is not None]
    if len(parts) < len(found):
        return  # told as R0
    if any(count < 1 for _, count in parts):
        yield "A part of the lead is counted less than once."
        return
    match build.method:
        case LeadMethod.MADE_UP:
            yield from faults_made_up(link, parts, least_cm or 0)
        case LeadMethod.CUT:
            yield from faults_cut(link, parts, least_cm or 0)
        case _:
            yield from faults_as_sold(link, parts, least_cm or 0)


def _behind_isolator(case: Case, unit: Unit) -> Unit:
    """What an isolator feeds; any other unit itself."""
    leaving = case.view.links_leaving.get(unit.id, ()) if unit.kind is UnitKind.ISOLATOR else ()
    return leaving[0].sink_unit if leaving else unit


def _wanted_cm(case: Case, link: Link) -> int | None:
    """The length wanted, centimetres; None where a loudspeaker's place is not known (told as R0).

    An isolator lies beside the input that it feeds, as far from it as gear in the rack.
    """
    if link.source_unit.kind is UnitKind.ISOLATOR:
        return case.known.wanted_cm(None, None)
    positions = []
    for unit in (link.source_unit, _behind_isolator(case, link.sink_unit)):
        place = case.view.place(unit)
        if unit.kind in SPEAKERS and (place is None):
            return None
        positions.append(place.position if place is not None else None)
    return case.known.wanted_cm(*positions)
