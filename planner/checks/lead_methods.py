"""R3, method by method: what can be wrong with a made lead, a made-up lead and a cut one.

Each function takes the link, its parts with their counts from source to sink, and the
least length in centimetres, and yields a sentence for each fault.
"""

from collections.abc import Iterator, Sequence
from typing import TypeVar

from planner.catalogue.records import Adapter, BulkCable, CableKind, ConnectorPart, Lead
from planner.checks.lengths import exact, suffices
from planner.checks.sockets import Level
from planner.checks.view import Link
from planner.contacts import BARE_TAIL, SPEAKER_LEVEL, Connector, Contact, mates
from planner.design import LeadMethod

Parts = Sequence[tuple[object, int]]
Core = TypeVar("Core")
End = TypeVar("End")


def no_mate(jack: Contact, end: Contact) -> str:
    """The sentence for two contacts that do not join."""
    return f"The jack is {jack} and what plugs in is {end}: they do not mate."


def faults_as_sold(link: Link, parts: Parts, least_cm: int) -> Iterator[str]:
    """STOCKED and ADAPTED: one made lead, with an adapter at one end or at each."""
    build = link.connection.lead
    shape = _shape(Lead, Adapter, parts)
    if shape is None or shape[2] != 1:
        yield f"A {build.method.value} lead is one made lead, with one adapter at most at each end."
        return
    before, lead, _, after = shape
    adapted = bool(before or after)
    if adapted is not (build.method is LeadMethod.ADAPTED):
        yield f"The lead is called {build.method.value}, but has {len(before) + len(after)} adapters."
    yield from _made_lead_kind(link, lead, adapted=adapted)
    if not suffices(exact(lead.length_m), least_cm):
        yield f"{lead.sku} is {lead.length_m:g} m long; {least_cm / 100:.2f} m are wanted."
    near, far = (lead.end_b, lead.end_a) if build.flipped else (lead.end_a, lead.end_b)
    yield from _meets(link.source.contact, near, before)
    yield from _meets(link.sink.contact, far, after)


def faults_made_up(link: Link, parts: Parts, least_cm: int) -> Iterator[str]:
    """MADE_UP: bulk cable in whole steps, a connector or a bare tail at each end."""
    shape = _shape(BulkCable, ConnectorPart, parts)
    if shape is None:
        yield "A made-up lead is one cable, with one connector at most at each end."
        return
    before, cable, steps, after = shape
    yield from _cable_kind(link, cable)
    sold_m = exact(cable.step_m) * steps
    if not suffices(sold_m, least_cm):
        yield (
            f"{steps} × {cable.step_m:g} m of {cable.sku} make {float(sold_m):g} m; "
            f"{least_cm / 100:.2f} m are wanted."
        )  # fmt: skip
    for jack, fitted in ((link.source.contact, before), (link.sink.contact, after)):
        end = fitted[0].contact if fitted else BARE_TAIL
        if not mates(jack, end):
            yield no_mate(jack, end)


def faults_cut(link: Link, parts: Parts, least_cm: int) -> Iterator[str]:
    """CUT: half of a made lead, its kept end at one jack, its bare tail in a terminal block.

    Whether a shorter lead had to be cut is seen of all tails together, see `spare_halves`.
    """
    build = link.connection.lead
    shape = _shape(Lead, Adapter, parts)
    if shape is None or shape[2] != 1 or len(parts) != 1:
        yield "A cut lead is one half of one made lead, and nothing else."
        return
    lead = shape[1]
    if build.cut_end not in ("a", "b"):
        yield f'A cut lead keeps its end "a" or "b"; {build.cut_end!r} is named.'
        return
    jacks = (link.source.contact, link.sink.contact)
    plugged = [jack for jack in jacks if jack.connector is not Connector.TERMINAL]
    if link.source.level is Level.SPEAKER or len(plugged) != 1:
        yield "A cut lead needs a terminal block at exactly one end, for its bare tail."
        return
    kept = lead.end_a if build.cut_end == "a" else lead.end_b
    if not mates(plugged[0], kept):
        yield no_mate(plugged[0], kept)
    if _needs_balanced(link) and not lead.balanced:
        yield f"{lead.sku} is unbalanced; between two balanced jacks the lead must be balanced."
    half_m = exact(lead.length_m) / 2
    if not suffices(half_m, least_cm):
        yield f"Half of {lead.sku} is {float(half_m):g} m; {least_cm / 100:.2f} m are wanted."


def _made_lead_kind(link: Link, lead: Lead, *, adapted: bool) -> Iterator[str]:
    if link.source.level is Level.SPEAKER:
        if adapted:
            yield "Adapters are not used at speaker level."
        if not {lead.end_a.connector, lead.end_b.connector} & SPEAKER_LEVEL:
            yield f"{lead.sku} is a line lead; speaker level needs speaker cable."
    elif _needs_balanced(link) and not lead.balanced:
        yield f"{lead.sku} is unbalanced; between two balanced jacks the lead must be balanced."


def _cable_kind(link: Link, cable: BulkCable) -> Iterator[str]:
    if link.source.level is Level.SPEAKER:
        if cable.kind is not CableKind.SPEAKER:
            yield f"{cable.sku} is line cable; speaker level needs speaker cable."
    elif cable.kind is CableKind.SPEAKER:
        yield f"{cable.sku} is speaker cable; line level needs screened line cable."
    elif _needs_balanced(link) and cable.kind is not CableKind.LINE_BALANCED:
        yield f"{cable.sku} is unbalanced; between two balanced jacks the cable must be balanced."


def _needs_balanced(link: Link) -> bool:
    return link.source.balanced and link.sink.balanced


def _meets(jack: Contact, end: Contact, adapters: Sequence[Adapter]) -> Iterator[str]:
    """Whether an end of a lead reaches its jack, by an adapter turned either way where there is one."""
    if not adapters:
        if not mates(jack, end):
            yield no_mate(jack, end)
        return
    adapter = adapters[0]
    ways_round = ((adapter.end_a, adapter.end_b), (adapter.end_b, adapter.end_a))
    if not any(mates(jack, outer) and mates(inner, end) for outer, inner in ways_round):
        yield f"{adapter.sku} does not join a lead's {end} to a jack that is {jack}."


def _shape(core: type[Core], end: type[End], parts: Parts) -> tuple[list[End], Core, int, list[End]] | None:
    """The parts as [end] core [end] with the count of the core; None if they are anything else."""
    for at, (item, count) in enumerate(parts):
        if isinstance(item, core):
            before, after = _fitted(end, parts[:at]), _fitted(end, parts[at + 1 :])
            return None if before is None or after is None else (before, item, count, after)
    return None


def _fitted(end: type[End], parts: Parts) -> list[End] | None:
    """What is fitted at one end: nothing, or one of this kind counted once; None for anything else."""
    items = [item for item, count in parts if isinstance(item, end) and count == 1]
    return items if len(items) == len(parts) <= 1 else None
