"""What must be connected: the sets of the brief, their members, and the models that may serve."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from math import log10

from planner.brief.records import Brief, LoudspeakerSet, Point, Seat, SubwooferSet
from planner.catalogue.records import Catalogue, Loudspeaker, PortGroup, Powering, Subwoofer
from planner.contacts import DIGITAL, SPEAKER_LEVEL, Contact
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


@dataclass(frozen=True, kw_only=True, slots=True)
class Member:
    """One place in a set: its channel, and the length of a lead from the rack."""

    index: int
    channel: str
    position: Point
    from_rack_m: float


@dataclass(frozen=True, kw_only=True, slots=True)
class LoadSet:
    """Alike loudspeakers or subwoofers: from `least` to all members, all of one model."""

    name: str
    bass: bool
    least: int
    members: tuple[Member, ...]
    models: tuple[Model, ...]


def load_sets(
    brief: Brief, catalogue: Catalogue, shelf: Shelf, positions: Mapping[tuple[str, int], Point]
) -> tuple[LoadSet, ...]:
    """The sets of the brief with every model that may serve them, in the brief's order.

    A set that may stay empty is left out where no model can serve it.
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
    reaches = _reaching(entry, members, brief.seats)
    wanted = entry.candidates or tuple(s.sku for s in catalogue.loudspeakers if reaches(s))
    models = (_speaker_model(s, catalogue) for s in catalogue.loudspeakers if s.sku in wanted)
    return LoadSet(
        name=entry.name,
        bass=False,
        least=len(members),
        members=members,
        models=undominated_models([m for m in models if _serves(m, shelf)], shelf, brief.rack.units is not None),
    )


def _subwoofer_set(entry: SubwooferSet, brief: Brief, catalogue: Catalogue, shelf: Shelf) -> LoadSet:
    members = tuple(_member(brief, index, entry.channel, entry.positions[index]) for index in range(entry.most))
    wanted = entry.candidates or tuple(s.sku for s in catalogue.subwoofers)
    models = (_subwoofer_model(s, catalogue) for s in catalogue.subwoofers if s.sku in wanted)
    return LoadSet(
        name=entry.name,
        bass=True,
        least=entry.least,
        members=members,
        models=undominated_models([m for m in models if _serves(m, shelf)], shelf, brief.rack.units is not None),
    )


def _member(brief: Brief, index: int, channel: str, position: Point) -> Member:
    length = route_m(brief.rack, brief.rack.position, position)
    return Member(index=index, channel=channel, position=position, from_rack_m=length)


def _speaker_model(speaker: Loudspeaker, catalogue: Catalogue) -> Model:
    return _model(speaker.sku, speaker.powering, speaker.ways, speaker.mains.rack_units, catalogue)


def _subwoofer_model(subwoofer: Subwoofer, catalogue: Catalogue) -> Model:
    return _model(subwoofer.sku, subwoofer.powering, 1, subwoofer.mains.rack_units, catalogue)


def _model(sku: str, powering: Powering, ways: int, rack_units: int, catalogue: Catalogue) -> Model:
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
        rack_units=rack_units,
    )


def undominated_models(models: Iterable[Model], shelf: Shelf, rack_matters: bool) -> tuple[Model, ...]:
    """Models of which no unbounded other takes every signal in every such way for no more.

    Exact: put the other in the place of the whole set, plug for plug, and no price, measure or
    rule is worse off. The order of the catalogue is kept.
    """

    def covers(other: Model, model: Model) -> bool:
        return (
            shelf.simple(other.sku)
            and not shelf.must_use(model.sku)
            and shelf.unit_minor(other.sku) <= shelf.floor_minor(model.sku)
            and (other.powering, other.ways) == (model.powering, model.ways)
            and _kinds(other.line) >= _kinds(model.line)
            and _kinds(other.links) >= _kinds(model.links)
            and _same_terminals(other, model)
            and (not rack_matters or other.rack_units <= model.rack_units)
        )

    models = list(models)
    kept: list[Model] = []
    for model in sorted(models, key=lambda m: (shelf.floor_minor(m.sku), not shelf.simple(m.sku), m.sku)):
        if not any(covers(other, model) for other in kept):
            kept.append(model)
    return tuple(model for model in models if model in kept)


def _kinds(groups: tuple[PortGroup, ...]) -> frozenset[tuple[Contact, bool]]:
    return frozenset((group.contact, group.balanced) for group in groups)


def _same_terminals(other: Model, model: Model) -> bool:
    """Way for way where there are ways, else every alternative."""
    if model.powering is Powering.CROSSED:
        return [g.contact for g in other.terminals] == [g.contact for g in model.terminals]
    return {g.contact for g in other.terminals} >= {g.contact for g in model.terminals}


def _serves(model: Model, shelf: Shelf) -> bool:
    """Whether it can be had and has an input that a design can use."""
    inputs = model.line if model.powering is Powering.ACTIVE else model.terminals
    return shelf.usable(model.sku) and len(inputs) >= model.ways


def _reaching(
    entry: LoudspeakerSet, members: tuple[Member, ...], seats: tuple[Seat, ...]
) -> Callable[[Loudspeaker], bool]:
    """Whether a loudspeaker reaches the set's target at every primary seat from every place."""
    listeners = [seat for seat in seats if seat.primary] or list(seats)
    farthest = max(_distance_m(m.position, seat.position) for m in members for seat in listeners)
    target = entry.target_spl_db

    def reaches(speaker: Loudspeaker) -> bool:
        level = greatest_level_at_1m_db(speaker)
        return target is None or (level is not None and level - 20 * log10(max(farthest, 1.0)) >= target)

    return reaches


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
