"""Rule R3 read straight: every way in which one line can be made from the catalogue."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from itertools import pairwise, product
from math import ceil

from planner.brief.records import Point
from planner.catalogue.records import Adapter, BulkCable, CableKind, Lead, PortGroup
from planner.contacts import BARE_TAIL, CLAMPS, SPEAKER_LEVEL, Connector, Contact, mates
from tests.oracle.instance import Instance, available


@dataclass(frozen=True, slots=True)
class Plug:
    """One jack or splitter leg, as a lead sees it."""

    contact: Contact
    balanced: bool


@dataclass(frozen=True, slots=True)
class Line:
    """One connection by a lead. `to_sub`: it lies on a path from the processor to a subwoofer.

    `isolated`: by two leads, with an isolator between them.
    """

    source: Plug
    sink: Plug
    length_m: Fraction
    to_sub: bool
    isolated: bool = False

    @property
    def speaker_level(self) -> bool:
        return self.sink.contact.connector in SPEAKER_LEVEL

    @property
    def converts(self) -> bool:
        """Whether the line counts in M6."""
        return not self.speaker_level and self.source.balanced is not self.sink.balanced


@dataclass(frozen=True, slots=True)
class Make:
    """One way to make a line.

    `parts` are skus with counts; `tail` is the sku and the end ("a" or "b") of a lead that is
    cut; `adapters` and `ends_made_up` count for M4 and for labour, `runs` for labour. `spare`: the
    tail is of a longer lead than the shortest of its kind that would do.
    """

    parts: tuple[tuple[str, int], ...]
    tail: tuple[str, str] | None = None
    adapters: int = 0
    ends_made_up: int = 0
    runs: int = 1
    spare: bool = False


def plug(group: PortGroup) -> Plug:
    """A jack of a port group, as a lead sees it."""
    return Plug(group.contact, group.balanced)


class Leads:
    """Lengths wanted and every way to make each line of one instance, what cannot be had left out."""

    def __init__(self, instance: Instance) -> None:
        shelf = instance.catalogue
        self._balanced_only = instance.brief.limits.balanced_only
        self._leads = [lead for lead in shelf.leads if available(instance, lead.sku) != 0]
        self._adapters = [adapter for adapter in shelf.adapters if available(instance, adapter.sku) != 0]
        self._cables = [cable for cable in shelf.bulk_cables if available(instance, cable.sku) != 0]
        self._connectors = [part for part in shelf.connectors if available(instance, part.sku) != 0]
        self._isolators = [box for box in shelf.isolators if available(instance, box.sku) != 0]
        self._rack = instance.brief.rack
        self.makes = cache(self._makes)
        self.route_m = cache(self._route_m)

    @property
    def internal_m(self) -> Fraction:
        """The length wanted from rack to rack."""
        return exact(self._rack.internal_m)

    def _route_m(self, one: Point, other: Point) -> Fraction:
        """The length wanted between two positions, rounded up to the centimetre, exactly."""
        axes = zip(_axes(one), _axes(other), strict=True)
        way = sum((abs(exact(a) - exact(b)) for a, b in axes), Fraction(0))
        wanted = way * (1 + exact(self._rack.route_allowance_percent) / 100) + exact(self._rack.slack_m)
        return Fraction(ceil(wanted * 100), 100)

    def _makes(self, line: Line) -> tuple[Make, ...]:
        """Every way to make the line; none where R3 or the balanced-only limit forbids it."""
        if line.isolated:
            return tuple(dict.fromkeys(self._by_isolator(line)))
        if line.speaker_level:
            return tuple(self._made_up(line, {CableKind.SPEAKER}))
        both_balanced = line.source.balanced and line.sink.balanced
        if self._balanced_only and not both_balanced:
            return ()
        kinds = {CableKind.LINE_BALANCED} if both_balanced else {CableKind.LINE_BALANCED, CableKind.LINE_UNBALANCED}
        found = list(self._made_up(line, kinds))
        for lead in self._leads:
            if lead.balanced or not both_balanced:
                found += self._from_lead(line, lead)
        return tuple(dict.fromkeys(found))

    def _by_isolator(self, line: Line) -> Iterator[Make]:
        """A whole lead to an isolator that converts nothing of its own accord, and another one on."""
        for isolator in self._isolators:
            entry = _isolator_plug(isolator.input, isolator.balanced)
            leaving = _isolator_plug(isolator.output, isolator.balanced)
            way = (line.source.balanced, entry.balanced, leaving.balanced, line.sink.balanced)
            if sum(one is not other for one, other in pairwise(way)) > line.converts:
                continue
            befores = self.makes(Line(line.source, entry, line.length_m, line.to_sub))
            behinds = self.makes(Line(leaving, line.sink, self.internal_m, line.to_sub))
            for one, other in product(befores, behinds):
                if not one.tail and not other.tail:
                    yield Make(
                        (*one.parts, (isolator.sku, 1), *other.parts),
                        adapters=one.adapters + other.adapters,
                        ends_made_up=one.ends_made_up + other.ends_made_up,
                        runs=2,
                    )

    def _from_lead(self, line: Line, lead: Lead) -> Iterator[Make]:
        """Stocked, adapted or cut from this made lead."""
        length_m = exact(lead.length_m)
        if length_m >= line.length_m:
            for at_source, at_sink in ((lead.end_a, lead.end_b), (lead.end_b, lead.end_a)):
                for one, other in product(
                    self._joints(line.source.contact, at_source), self._joints(line.sink.contact, at_sink)
                ):
                    parts = ((lead.sku, 1), *((sku, 1) for sku in (*one, *other)))
                    yield Make(parts, adapters=len(one) + len(other))
        ends = (line.source.contact, line.sink.contact)
        blocks = [end for end in ends if end.connector is Connector.TERMINAL]
        if len(blocks) == 1 and length_m / 2 >= line.length_m:
            spare = lead not in self._shortest_to_cut(lead, line.length_m)
            kept = ends[0] if ends[1] is blocks[0] else ends[1]
            for name, contact in (("a", lead.end_a), ("b", lead.end_b)):
                if mates(contact, kept):
                    yield Make((), tail=(lead.sku, name), ends_made_up=1, spare=spare)

    def _shortest_to_cut(self, like: Lead, tail_m: Fraction) -> list[Lead]:
        """Of the leads with these ends and balance, those to cut: half suffices, and none is shorter."""
        kind = ({like.end_a, like.end_b}, like.balanced)
        alike = [lead for lead in self._leads if ({lead.end_a, lead.end_b}, lead.balanced) == kind]
        enough = [lead for lead in alike if exact(lead.length_m) / 2 >= tail_m]
        shortest = min((lead.length_m for lead in enough), default=None)
        return [lead for lead in enough if lead.length_m == shortest]

    def _joints(self, jack: Contact, lead_end: Contact) -> Iterator[tuple[str, ...]]:
        """The adapters, none or one, by which a lead's end joins a jack."""
        if mates(jack, lead_end):
            yield ()
        for adapter in self._adapters:
            if _adapts(adapter, jack, lead_end):
                yield (adapter.sku,)

    def _made_up(self, line: Line, kinds: set[CableKind]) -> Iterator[Make]:
        """Made up from bulk cable of one of these kinds."""
        for cable in self._cables:
            if cable.kind in kinds:
                steps = (cable.sku, _steps(cable, line.length_m))
                for one, other in product(self._ends(line.source.contact), self._ends(line.sink.contact)):
                    yield Make((steps, *((sku, 1) for sku in (*one, *other))), ends_made_up=2)

    def _ends(self, jack: Contact) -> Iterator[tuple[str, ...]]:
        """What is fitted to a cable's end to join a jack: a connector, or nothing at a clamp."""
        if jack.connector in CLAMPS and mates(BARE_TAIL, jack):
            yield ()
        for part in self._connectors:
            if mates(part.contact, jack):
                yield (part.sku,)


def _isolator_plug(contact: Contact, balanced: bool) -> Plug:
    """A jack of an isolator; one of two contacts is never balanced."""
    return Plug(contact, balanced and contact.connector is not Connector.RCA)


def _adapts(adapter: Adapter, jack: Contact, lead_end: Contact) -> bool:
    one, other = adapter.end_a, adapter.end_b
    return (mates(one, jack) and mates(other, lead_end)) or (mates(other, jack) and mates(one, lead_end))


def _steps(cable: BulkCable, length_m: Fraction) -> int:
    return ceil(length_m / exact(cable.step_m))


def _axes(point: Point) -> tuple[float, float, float]:
    return (point.x_m, point.y_m, point.z_m)


def exact(number: float) -> Fraction:
    """The decimal number that was written, not the binary one that stands for it."""
    return Fraction(str(number))
