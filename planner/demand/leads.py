"""Every way to make one lead (rule R3): stocked, adapted, made up, or cut in half."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import IntEnum
from functools import cached_property
from itertools import product
from math import ceil

from planner.catalogue.records import Adapter, BulkCable, CableKind, Catalogue, ConnectorPart, Lead
from planner.contacts import BARE_TAIL, CLAMPS, Connector, Contact, Gender, mates
from planner.design import LeadBuild, LeadMethod, LeadPart


class Earth(IntEnum):
    """Where a shield that comes to an input goes on to: NONE of what has a protective earth, or it is not told.

    END  gear from which no further shield goes on
    HUB  a DSP unit, from which others do
    """

    NONE = 0
    END = 1
    HUB = 2


@dataclass(frozen=True, slots=True, order=True)
class Kind:
    """What a lead sees of a jack: its contact, and whether it is balanced.

    `level` numbers what the brief can tell apart of its levels or power, see
    `planner.demand.kinds`; no lead sees it. `earth`: whether an isolator before it would break
    an earth loop, see `planner.demand.isolation`.
    """

    contact: Contact
    balanced: bool
    level: int = 0
    earth: Earth = Earth.NONE


@dataclass(frozen=True, slots=True)
class End:
    """How a lead may meet a jack: the contact it must then have, and the adapter between."""

    contact: Contact
    adapter: str | None


class LeadMaker:
    """Builds leads from what of the catalogue may be used (`skus`)."""

    def __init__(self, catalogue: Catalogue, skus: frozenset[str]) -> None:
        self._leads = [lead for lead in catalogue.leads if lead.sku in skus]
        self._adapters = [a for a in catalogue.adapters if a.sku in skus]
        self._cables = [c for c in catalogue.bulk_cables if c.sku in skus]
        self._parts = [c for c in catalogue.connectors if c.sku in skus]

    def line(self, source: Kind, sink: Kind, length_m: float) -> Iterator[LeadBuild]:
        """All line-level leads from a source jack to a sink jack, at least `length_m` long."""
        balanced = source.balanced and sink.balanced
        yield from self._whole(source.contact, sink.contact, length_m, balanced)
        yield from self._cut(source.contact, sink.contact, length_m, balanced)
        kinds = (CableKind.LINE_BALANCED,) if balanced else (CableKind.LINE_BALANCED, CableKind.LINE_UNBALANCED)
        yield from self._made_up(source.contact, sink.contact, length_m, kinds)

    def longer_halves(self, source: Kind, sink: Kind, length_m: float) -> Iterator[LeadBuild]:
        """Halves of leads longer than the shortest of their kind that suffices: taken only where they are left over."""
        balanced = source.balanced and sink.balanced
        own = {build.parts for build in self._cut(source.contact, sink.contact, length_m, balanced)}
        for build in self._halves(source.contact, sink.contact, length_m, balanced, self._enough(2 * length_m)):
            if build.parts not in own:
                yield build

    def speaker(self, source: Contact, sink: Contact, length_m: float) -> Iterator[LeadBuild]:
        """All loudspeaker cables between two speaker-level jacks."""
        yield from self._made_up(source, sink, length_m, (CableKind.SPEAKER,))

    def _whole(self, source: Contact, sink: Contact, length_m: float, balanced: bool) -> Iterator[LeadBuild]:
        """Made leads, either way round, with at most one adapter at each end."""
        for head, tail in product(self._ends(source), self._ends(sink)):
            for lead, flipped in self._facing(head.contact, tail.contact):
                if lead.length_m < length_m or (balanced and not lead.balanced):
                    continue
                skus = [s for s in (head.adapter, lead.sku, tail.adapter) if s is not None]
                yield LeadBuild(
                    method=LeadMethod.STOCKED if len(skus) == 1 else LeadMethod.ADAPTED,
                    parts=tuple(LeadPart(sku=sku, count=1) for sku in skus),
                    length_m=length_m,
                    flipped=flipped,
                )

    def _ends(self, contact: Contact) -> list[End]:
        """The contact of a lead that plugs straight in, and those that adapters let in."""
        ends = [End(_opposite(contact), None)]
        for adapter in self._adapters:
            ends += [End(_opposite(far), adapter.sku) for near, far in _ways_round(adapter) if mates(near, contact)]
        return ends

    def _facing(self, head: Contact, tail: Contact) -> list[tuple[Lead, bool]]:
        """Leads with these two ends, and whether end B is at the source."""
        straight = [(lead, False) for lead in self._by_ends.get((head, tail), ())]
        if head == tail:
            return straight
        return straight + [(lead, True) for lead in self._by_ends.get((tail, head), ())]

    @cached_property
    def _by_ends(self) -> dict[tuple[Contact, Contact], list[Lead]]:
        index: dict[tuple[Contact, Contact], list[Lead]] = {}
        for lead in self._leads:
            index.setdefault((lead.end_a, lead.end_b), []).append(lead)
        return index

    def _cut(self, source: Contact, sink: Contact, length_m: float, balanced: bool) -> Iterator[LeadBuild]:
        """Half of a lead that is no longer than it must be."""
        yield from self._halves(source, sink, length_m, balanced, self._shortest(2 * length_m))

    def _halves(
        self, source: Contact, sink: Contact, length_m: float, balanced: bool, leads: Sequence[Lead]
    ) -> Iterator[LeadBuild]:
        """Half of each lead that does: its connector on the one jack, its bare tail in the other's terminals."""
        terminals = [c.connector is Connector.TERMINAL for c in (source, sink)]
        if sum(terminals) != 1:
            return
        plugged = sink if terminals[0] else source
        for lead in leads:
            if balanced and not lead.balanced:
                continue
            for end, contact in (("a", lead.end_a), ("b", lead.end_b)):
                if mates(contact, plugged) and contact != BARE_TAIL:
                    yield LeadBuild(
                        method=LeadMethod.CUT,
                        parts=(LeadPart(sku=lead.sku, count=1),),
                        length_m=length_m,
                        cut_end=end,
                    )

    def _shortest(self, length_m: float) -> list[Lead]:
        """Of every kind of lead (ends and balance) those of the shortest length that suffices."""
        least: dict[object, float] = {}
        enough = [(_lead_kind(lead), lead) for lead in self._enough(length_m)]
        for kind, lead in enough:
            least[kind] = min(least.get(kind, lead.length_m), lead.length_m)
        return [lead for kind, lead in enough if lead.length_m == least[kind]]

    def _enough(self, length_m: float) -> list[Lead]:
        return [lead for lead in self._leads if lead.length_m >= length_m]

    def _made_up(
        self, source: Contact, sink: Contact, length_m: float, kinds: Sequence[CableKind]
    ) -> Iterator[LeadBuild]:
        """Bulk cable with what each jack asks for at its end."""
        cables = [cable for cable in self._cables if cable.kind in kinds]
        for cable, head, tail in product(cables, self._fittings(source), self._fittings(sink)):
            middle = LeadPart(sku=cable.sku, count=steps_of(cable, length_m))
            parts = [LeadPart(sku=head, count=1)] if head else []
            parts += [middle] + ([LeadPart(sku=tail, count=1)] if tail else [])
            yield LeadBuild(method=LeadMethod.MADE_UP, parts=tuple(parts), length_m=length_m)

    def _fittings(self, contact: Contact) -> list[str | None]:
        """Connector skus that mate with a jack; None stands for a bare tail."""
        if contact.connector in CLAMPS:
            return [None]
        return [part.sku for part in self._mating_parts(contact)]

    def _mating_parts(self, contact: Contact) -> list[ConnectorPart]:
        return [part for part in self._parts if mates(part.contact, contact)]


def steps_of(cable: BulkCable, length_m: float) -> int:
    """Whole steps of a bulk cable that reach `length_m`, at least one; binary dust does not buy a step."""
    return max(1, ceil(round(length_m / cable.step_m, 6)))


def _lead_kind(lead: Lead) -> tuple[frozenset[Contact], bool]:
    """What makes leads of one kind: their two ends, whichever is called A, and the balance."""
    return frozenset((lead.end_a, lead.end_b)), lead.balanced


def _opposite(contact: Contact) -> Contact:
    """The contact that mates with this one; a clamp is met by a bare tail."""
    if contact.connector in CLAMPS and contact.gender is Gender.FEMALE:
        return BARE_TAIL
    gender = Gender.FEMALE if contact.gender is Gender.MALE else Gender.MALE
    return Contact(contact.connector, gender)


def _ways_round(adapter: Adapter) -> tuple[tuple[Contact, Contact], ...]:
    if adapter.end_a == adapter.end_b:
        return ((adapter.end_a, adapter.end_b),)
    return ((adapter.end_a, adapter.end_b), (adapter.end_b, adapter.end_a))
