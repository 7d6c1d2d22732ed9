"""What must be connected: the sets of the brief, their members, and the models that may serve."""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from math import log10

from planner.brief.records import Brief, LoudspeakerSet, PhysicalLimit, Point, SubwooferSet
from planner.catalogue.records import Catalogue, Loudspeaker, Mains, PortGroup, Powering, Subwoofer
from planner.contacts import DIGITAL, SPEAKER_LEVEL
from planner.demand.routes import route_m
from planner.demand.shelf import Shelf


@dataclass(frozen=True, kw_only=True, slots=True)
class Model:
    """A loudspeaker or subwoofer that may serve a set.

    `line` are the alternative line inputs of an active one, `terminals` the inputs of a
    passive one by way, lowest first; `links` the link outputs.
    """

    sku: str
    powering: Powering
    ways: int
    line: tuple[PortGroup, ...]
    terminals: tuple[PortGroup, ...]
    links: tuple[PortGroup, ...]
    rack_units: int
    earthed: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Member:
    """One place in a set: its channel, and the length of a lead from the rack."""

    index: int
    channel: str
    position: Point
    from_rack_m: float


@dataclass(frozen=True, kw_only=True, slots=True)
class LoadSet:
    """Alike loudspeakers or subwoofers: from `least` to all members, all of one model.

    `target_spl_db` is what is asked at the primary seats, headroom included: of each
    loudspeaker, or of all subwoofers of the channel together.
    """

    name: str
    bass: bool
    least: int
    members: tuple[Member, ...]
    models: tuple[Model, ...]
    target_spl_db: float | None = None


def most_on_one_channel(sets: Iterable[LoadSet]) -> int:
    """The most feeds that could ever share an output."""
    counts = Counter(member.channel for load in sets for member in load.members)
    return max(counts.values(), default=0)


def bus_channels(sets: Iterable[LoadSet]) -> frozenset[str]:
    """Channels that more than one feed may receive, and every bass channel."""
    counts = Counter(m.channel for s in sets for m in s.members)
    bass = {m.channel for s in sets if s.bass for m in s.members}
    return frozenset(c for c, n in counts.items() if n > 1) | bass


def linked_models(sets: Iterable[LoadSet]) -> frozenset[tuple[str, str]]:
    """The models (set name, sku) that a link output may feed: their own, or that of another set on their channel."""
    bass = [load for load in sets if load.bass]
    sources = {
        (load.name, model.sku, member.channel)
        for load in bass
        for model in load.models
        for member in load.members
        if model.links
    }
    return frozenset(
        (load.name, model.sku)
        for load in bass
        for model in load.models
        for member in load.members
        for name, sku, channel in sources
        if channel == member.channel and (name != load.name or sku == model.sku)
    )


def load_sets(
    brief: Brief, catalogue: Catalogue, shelf: Shelf, positions: Mapping[tuple[str, int], Point]
) -> tuple[LoadSet, ...]:
    """The sets of the brief with every model that may serve them, in the brief's order.

    A set that may stay empty is left out where no model can serve it. None is dropped yet for
    being dominated, see `undominated_sets`.
    """
    speakers = (
        _speaker_set(entry, brief, catalogue, shelf, positions) for entry in brief.loudspeakers if entry.placements
    )
    subwoofers = (_subwoofer_set(entry, brief, catalogue, shelf) for entry in brief.subwoofers if entry.most)
    return (*speakers, *(load for load in subwoofers if load.models or load.least))


def _speaker_set(
    entry: LoudspeakerSet, brief: Brief, catalogue: Catalogue, shelf: Shelf,
    positions: Mapping[tuple[str, int], Point],
) -> LoadSet:  # fmt: skip
    members = tuple(
        _member(brief, index, placement.channel, positions[entry.name, index])
        for index, placement in enumerate(entry.placements)
    )
    target_db = _with_headroom(entry.target_spl_db, brief)
    wanted = [s for s in catalogue.loudspeakers if _is_wanted(s, entry, target_db, members, brief)]
    models = (_speaker_model(s, catalogue) for s in wanted)
    return LoadSet(
        name=entry.name,
        bass=False,
        least=len(members),
        members=members,
        models=tuple(m for m in models if _serves(m, shelf)),
        target_spl_db=target_db,
    )


def _with_headroom(target_spl_db: float | None, brief: Brief) -> float | None:
    return None if target_spl_db is None else target_spl_db + brief.limits.target_headroom_db


def _is_wanted(
    speaker: Loudspeaker, entry: LoudspeakerSet, target_db: float | None, members: tuple[Member, ...], brief: Brief
) -> bool:
    """Whether it is a candidate; any that reaches the target is, where the brief names none.

    One that is named must reach the target too where targets are kept, unless the catalogue
    does not say how loud it plays.
    """
    named = speaker.sku in entry.candidates
    if entry.candidates and not named:
        return False
    if target_db is None:
        return True
    level_db = greatest_level_at_1m_db(speaker)
    if named and (level_db is None or PhysicalLimit.TARGET not in brief.limits.physical):
        return True
    listeners = [seat for seat in brief.seats if seat.primary] or list(brief.seats)
    farthest_m = max(_distance_m(m.position, seat.position) for m in members for seat in listeners)
    return level_db is not None and level_db - 20 * log10(max(farthest_m, 1.0)) >= target_db


def _subwoofer_set(entry: SubwooferSet, brief: Brief, catalogue: Catalogue, shelf: Shelf) -> LoadSet:
    members = tuple(_member(brief, index, entry.channel, entry.positions[index]) for index in range(entry.most))
    wanted = entry.candidates or tuple(s.sku for s in catalogue.subwoofers)
    models = (_subwoofer_model(s, catalogue) for s in catalogue.subwoofers if s.sku in wanted)
    return LoadSet(
        name=entry.name,
        bass=True,
        least=entry.least,
        members=members,
        models=tuple(m for m in models if _serves(m, shelf)),
        target_spl_db=_with_headroom(entry.target_spl_db, brief),
    )


def _member(brief: Brief, index: int, channel: str, position: Point) -> Member:
    length = route_m(brief.rack, brief.rack.position, position)
    return Member(index=index, channel=channel, position=position, from_rack_m=length)


def _speaker_model(speaker: Loudspeaker, catalogue: Catalogue) -> Model:
    return _model(speaker.sku, speaker.powering, speaker.ways, speaker.mains, catalogue)


def _subwoofer_model(subwoofer: Subwoofer, catalogue: Catalogue) -> Model:
    return _model(subwoofer.sku, subwoofer.powering, 1, subwoofer.mains, catalogue)


def _model(sku: str, powering: Powering, ways: int, mains: Mains, catalogue: Catalogue) -> Model:
    inputs = catalogue.inputs(sku)
    line = tuple(p for p in inputs if p.connector not in SPEAKER_LEVEL | DIGITAL)
    terminals = tuple(p for p in inputs if p.connector in SPEAKER_LEVEL)
    active = powering is Powering.ACTIVE
    return Model(
        sku=sku,
        powering=powering,
        ways=ways if powering is Powering.CROSSED else 1,
        line=line if active else (),
        terminals=() if active else terminals,
        links=tuple(p for p in catalogue.links(sku) if p.connector not in DIGITAL),
        rack_units=mains.rack_units,
        earthed=active and mains.earthed,
    )


def undominated_models(
    models: Iterable[Model], shelf: Shelf, rack_matters: bool, stands_in: Callable[[Model, Model], bool]
) -> tuple[Model, ...]:
    """Models of which no unbounded other takes every signal in every such way for no more.

    `stands_in(other, model)` says whether jacks, levels, power and earth of the other do in
    every place of the set. Exact: put the other in the place of the whole set, plug for plug,
    and no price, measure or rule is worse off. The order of the catalogue is kept.
    """

    def covers(other: Model, model: Model) -> bool:
        return (
            shelf.simple(other.sku)
            and not shelf.must_use(model.sku)
            and shelf.unit_minor(other.sku) <= shelf.floor_minor(model.sku)
            and (other.powering, other.ways) == (model.powering, model.ways)
            and stands_in(other, model)
            and (not rack_matters or other.rack_units <= model.rack_units)
        )

    models = list(models)
    kept: list[Model] = []
    for model in sorted(models, key=lambda m: (shelf.floor_minor(m.sku), not shelf.simple(m.sku), m.sku)):
        if not any(covers(other, model) for other in kept):
            kept.append(model)
    return tuple(model for model in models if model in kept)


def _serves(model: Model, shelf: Shelf) -> bool:
    """Whether it can be had and has an input that a design can use."""
    inputs = model.line if model.powering is Powering.ACTIVE else model.terminals
    return shelf.usable(model.sku) and len(inputs) >= model.ways


def greatest_level_at_1m_db(speaker: Loudspeaker) -> float | None:
    """Free-field level at 1 m, dB: as stated, or sensitivity + 10 log10(handling).

    2.83 V is 1 W into 8.0089 ohm, so a sensitivity for 2.83 V is 10 log10(8.0089 / Z) higher
    than the one for 1 W. None where the record does not say enough.
    """
    if speaker.powering is Powering.ACTIVE:
        return speaker.max_spl_db
    if speaker.sensitivity_db is None or not speaker.handling_w:
        return None
    level = speaker.sensitivity_db + 10 * log10(speaker.handling_w)
    if speaker.sensitivity_at_2v83 and speaker.impedance_ohm:
        level -= 10 * log10(2.83**2 / speaker.impedance_ohm)
    return level


def _distance_m(one: Point, other: Point) -> float:
    dx, dy, dz = one.x_m - other.x_m, one.y_m - other.y_m, one.z_m - other.z_m
    return float((dx * dx + dy * dy + dz * dz) ** 0.5)
