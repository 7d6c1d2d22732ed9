"""The inputs that must receive a signal, grouped where nothing distinguishes them."""

from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass, replace

from planner.catalogue.records import PortGroup, Powering
from planner.demand.gear import AmplifierChoice
from planner.demand.kinds import Kinds
from planner.demand.leads import Kind
from planner.demand.links import LinkKey
from planner.demand.loads import LoadSet, Member, Model, bus_channels
from planner.demand.outlets import Outlet


@dataclass(frozen=True, slots=True)
class Inlet:
    """A way into a feed: the load's own jack, and what must stand before it.

    An active load has neither mark. A passive one has `direct`, the kind of speaker-level outlet
    that feeds it, or `amplifier_out`, the terminals of the amplifier before it; then the
    source is joined to an input of that amplifier (see `AmplifierFlow`).
    """

    kind: Kind
    direct: Kind | None = None
    amplifier_out: Kind | None = None

    @property
    def speaker(self) -> bool:
        """Whether a speaker-level outlet feeds it."""
        return self.direct is not None


@dataclass(frozen=True, kw_only=True, slots=True)
class FeedClass:
    """Feeds alike in everything that the search can see.

    `channel` is set where several feeds share one channel (a bus: subwoofers, arrays);
    elsewhere each feed has a channel of its own. `carriers` are the processor outlets that
    may carry it. `members` index the set, and `extra_minor` is what each costs more than
    the first, whatever feeds it. `length_m` is the first one's. `way` counts from 1;
    classes of one `family` are the ways of the same loudspeakers, of `ways` in all.
    """

    index: int
    family: int
    set_name: str
    sku: str
    bass: bool
    channel: str | None
    carriers: frozenset[Outlet]
    inlets: tuple[Inlet, ...]
    members: tuple[int, ...]
    extra_minor: tuple[int, ...]
    length_m: float
    way: int | None
    ways: int
    powering: Powering

    @property
    def active(self) -> bool:
        """Whether the load amplifies by itself."""
        return self.powering is Powering.ACTIVE


def by_dsp(feed: FeedClass) -> bool:
    """Whether a DSP unit may stand before it: where it divides a channel, or sets bass."""
    return feed.channel is not None or feed.way is not None


def most_units(feeds: Iterable[FeedClass], limit: int) -> int:
    """The most DSP units that could each serve a loudspeaker or subwoofer of its own."""
    return min(limit, len({(f.set_name, member) for f in feeds if by_dsp(f) for member in f.members}))


def feed_link(kind: Kind, inlet: Inlet, length_m: float, isolable: bool) -> LinkKey:
    """The link that ends at the load, from a source of this kind or from its amplifier.

    `isolable`: an isolator may stand before the load, where one would break a loop.
    """
    if inlet.amplifier_out is not None:
        return LinkKey(inlet.amplifier_out, inlet.kind, length_m, speaker=True)
    return LinkKey(kind, inlet.kind, length_m, speaker=inlet.speaker, isolable=isolable and bool(inlet.kind.earth))


def entry_link(kind: Kind, entry: Kind, internal_m: float) -> LinkKey:
    """The link from a source of this kind into an amplifier or a DSP unit."""
    return LinkKey(kind, entry, internal_m, isolable=bool(entry.earth))


@dataclass(frozen=True, slots=True)
class SpeakerSources:
    """The kinds of speaker-level outputs: those of processors, and those of amplifiers."""

    outlets: tuple[Kind, ...]
    amplifiers: tuple[Kind, ...]

    @classmethod
    def of(cls, outlets: Iterable[Outlet], amplifiers: Iterable[AmplifierChoice]) -> "SpeakerSources":
        """Each kind once, in order."""
        return cls(
            tuple(sorted({outlet.kind for outlet in outlets if outlet.speaker})),
            tuple(sorted({amplifier.terminals for amplifier in amplifiers})),
        )


Drives = Callable[[Kind, PortGroup], bool]
"""Whether a speaker-level output of a kind may drive a pair of terminals, by load and power."""


def inlets_of(
    model: Model, way: int | None, kinds: Kinds, sources: SpeakerSources, drives: Drives
) -> tuple[Inlet, ...]:
    """Every way into one feed of a model, in a fixed order; `drives` leaves out what may not drive it."""
    if model.powering is Powering.ACTIVE:
        return tuple(Inlet(kind) for kind in sorted({kinds.of(p) for p in model.line}))
    terminals = model.terminals if way is None else model.terminals[way - 1 : way]
    found: list[Inlet] = []
    for load, port in sorted({kinds.of(p): p for p in reversed(terminals)}.items(), key=lambda pair: pair[0]):
        found += [Inlet(load, direct=out) for out in sources.outlets if drives(out, port)]
        found += [Inlet(load, amplifier_out=out) for out in sources.amplifiers if drives(out, port)]
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Signature:
    """What distinguishes one member of a set from another: equal ones are one class.

    `costs` lists, for each way, each source kind and each inlet, the price of the links
    over the first that can be made (or the price itself where `extra` must be zero).
    `place` is what else tells its place from another.
    """

    bus: str | None
    carriers: frozenset[Outlet]
    costs: tuple[object, ...]
    place: Hashable = None


def feed_classes(
    sets: Iterable[LoadSet],
    carriers_of: Callable[[str], frozenset[Outlet]],
    inlets: Callable[[LoadSet, Model, int | None], tuple[Inlet, ...]],
    costs: Callable[[tuple[Inlet, ...], float], tuple[int | None, ...] | None],
    place: Callable[[LoadSet, Member], Hashable],
    linked: frozenset[tuple[str, str]],
) -> tuple[FeedClass, ...]:
    """All feed classes of all sets and models.

    `carriers_of(channel)` gives the processor outlets for a channel; `costs(inlets,
    length)` the link prices by source kind and inlet, or None where some are still a choice;
    `place(set, member)` whatever else a rule sees of where a member stands.
    Models that are `linked` (set name, sku) are merged only at equal prices, because one that
    another's link output feeds does not use these links.
    """
    sets = tuple(sets)
    buses = bus_channels(sets)
    classes: list[FeedClass] = []
    family = 0
    for load in sets:
        for model in load.models:
            ways = tuple(range(1, model.ways + 1)) if model.powering is Powering.CROSSED else (None,)
            ways_in = tuple(inlets(load, model, way) for way in ways)
            groups: dict[Signature, list[tuple[Member, int]]] = {}
            for member in load.members:
                shared = member.channel in buses and model.powering is not Powering.CROSSED
                signature, base = _signature(
                    member, model, shared, (load.name, model.sku) in linked, ways_in, carriers_of, costs
                )
                signature = replace(signature, place=place(load, member))
                groups.setdefault(signature, []).append((member, base))
            for signature, members in groups.items():
                family += 1
                for way, way_inlets in zip(ways, ways_in, strict=True):
                    classes.append(
                        FeedClass(
                            index=len(classes),
                            family=family,
                            set_name=load.name,
                            sku=model.sku,
                            bass=load.bass,
                            channel=signature.bus,
                            carriers=signature.carriers,
                            inlets=way_inlets,
                            members=tuple(m.index for m, _ in members),
                            # the first way's class bears the whole of each member's extra
                            extra_minor=tuple(b - members[0][1] if way in (None, 1) else 0 for _, b in members),
                            length_m=members[0][0].from_rack_m,
                            way=way,
                            ways=model.ways,
                            powering=model.powering,
                        )
                    )
    return tuple(classes)


def _signature(
    member: Member, model: Model, shared: bool, absolute: bool, ways_in: tuple[tuple[Inlet, ...], ...],
    carriers_of: Callable[[str], frozenset[Outlet]],
    costs: Callable[[tuple[Inlet, ...], float], tuple[int | None, ...] | None],
) -> tuple[Signature, int]:  # fmt: skip
    """A member's signature, and the base price that its `extra_minor` is counted from."""
    carriers = carriers_of(member.channel)
    bus = member.channel if shared else None
    by_way = [costs(way, member.from_rack_m) for way in ways_in]
    if any(prices is None for prices in by_way):
        return Signature(bus, carriers, ("length", member.from_rack_m)), 0
    base = 0
    relative: list[object] = []
    for prices in by_way:
        made = [p for p in prices or () if p is not None]
        first = made[0] if made and not absolute else 0
        base += first
        relative.append(tuple(None if p is None else p - first for p in prices or ()))
    return Signature(bus, carriers, tuple(relative)), base
