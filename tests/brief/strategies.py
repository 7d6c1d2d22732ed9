"""Any valid brief, for property tests: every field takes every kind of value that it may have."""

from decimal import Decimal

from hypothesis import strategies as st

from planner.brief.bounds import (
    BUDGET,
    CABLE_LOSS,
    COUNT,
    HEADROOM,
    INTERNAL_LEAD,
    LARGEST_SPLIT,
    LEVEL_TOLERANCE,
    MARGIN,
    NOISE,
    OWNED,
    PERCENT,
    RACK_UNITS,
    REVERBERATION,
    REVERBERATION_BAND,
    ROOM,
    ROUTE_ALLOWANCE,
    SLACK,
    SUBWOOFERS,
    TARGET_SPL,
    TEMPERATURE,
    YEARS,
    Bounds,
)
from planner.brief.records import (
    Brief,
    Drive,
    LaterStage,
    Limits,
    LoudspeakerSet,
    Measure,
    Owned,
    PhysicalLimit,
    Placement,
    Point,
    Project,
    Rack,
    Reverberation,
    Room,
    Seat,
    SubwooferSet,
)
from planner.channels import CHANNELS, is_bass
from planner.layouts import LAYOUTS, layout

_LETTERS = st.characters(exclude_categories=("Cc", "Cs", "Zl", "Zp"))
LINES = st.text(_LETTERS, max_size=12).map(str.strip)
NAMES = LINES.filter(bool)
LAYOUT_NAMES = st.sampled_from([name for found in LAYOUTS for name in (found.name, *found.other_names)])
ALL_LABELS = [channel.label for channel in CHANNELS if not is_bass(channel.label)]


def numbers(bounds: Bounds) -> st.SearchStrategy[float]:
    return st.floats(bounds.low, bounds.high)


def wholes(bounds: Bounds) -> st.SearchStrategy[int]:
    return st.integers(int(bounds.low), int(bounds.high))


def amounts(bounds: Bounds) -> st.SearchStrategy[Decimal]:
    low, high = Decimal(bounds.low), Decimal(bounds.high)
    return st.integers(0, 4).flatmap(lambda places: st.decimals(low, high, places=places))


def points(room: Room) -> st.SearchStrategy[Point]:
    return st.builds(Point, st.floats(0, room.length_m), st.floats(0, room.width_m), st.floats(0, room.height_m))


def unique_names(count: int) -> st.SearchStrategy[list[str]]:
    return st.lists(NAMES, min_size=count, max_size=count, unique_by=str.casefold)


PROJECTS = st.builds(
    Project,
    name=NAMES,
    client=LINES,
    reference=LINES,
    dated=st.dates(),
    currency=st.text("ABCDEFGHIJKLMNOPQRSTUVWXYZ", min_size=3, max_size=3),
    tax_percent=st.none() | amounts(PERCENT),
)
ROOMS = st.builds(
    Room,
    length_m=numbers(ROOM),
    width_m=numbers(ROOM),
    height_m=numbers(ROOM),
    reverberation_time_s=numbers(REVERBERATION),
    temperature_c=numbers(TEMPERATURE),
    reverberation_bands=st.dictionaries(numbers(REVERBERATION_BAND), numbers(REVERBERATION), max_size=3).map(
        lambda bands: tuple(Reverberation(hz, bands[hz]) for hz in sorted(bands))
    ),
)
LIMITS = st.integers(0, 999).flatmap(
    lambda ceiling: st.builds(
        Limits,
        drives=st.frozensets(st.sampled_from(Drive), min_size=1),
        largest_split=wholes(LARGEST_SPLIT),
        balanced_only=st.booleans(),
        least_independent_subwoofers=wholes(COUNT),
        least_control_groups=wholes(COUNT),
        spare_outputs=st.integers(0, ceiling),
        spare_ceiling=st.just(ceiling),
        most_subwoofers_lost=st.none() | wholes(COUNT),
        filters_per_subwoofer=wholes(COUNT),
        most_dsp_units=wholes(COUNT),
        budget=st.none() | amounts(BUDGET),
        physical=st.frozensets(st.sampled_from(PhysicalLimit)),
        level_tolerance_db=numbers(LEVEL_TOLERANCE),
        target_headroom_db=numbers(HEADROOM),
        most_cable_loss_db=numbers(CABLE_LOSS),
        most_noise_db=numbers(NOISE),
        least_margin_db=st.none() | numbers(MARGIN),
        most_earth_loops=st.none() | wholes(COUNT),
    )
)
MEASURES = st.permutations(list(Measure)).flatmap(
    lambda order: st.sets(st.sampled_from(Measure)).map(
        lambda chosen: tuple(measure for measure in order if measure in chosen | {Measure.PRICE})
    )
)


def skus(least: int = 0) -> st.SearchStrategy[tuple[str, ...]]:
    return st.lists(NAMES, min_size=least, max_size=3, unique=True).map(tuple)


@st.composite
def placements(draw: st.DrawFn, room: Room, labels: tuple[str, ...]) -> list[Placement]:
    """Channels of the layout once each without a position, any channel any number of times with one."""
    by_layout = draw(st.lists(st.sampled_from([label for label in labels if not is_bass(label)]), unique=True))
    positioned = st.builds(Placement, channel=st.sampled_from(ALL_LABELS), position=points(room))
    mixed = [*(Placement(channel=label) for label in by_layout), *draw(st.lists(positioned, max_size=4))]
    return draw(st.permutations(mixed))


@st.composite
def loudspeaker_sets(draw: st.DrawFn, names: list[str], room: Room, labels: tuple[str, ...]) -> list[LoudspeakerSet]:
    """The placements shared out, in order, among as many sets as there are names, none empty."""
    everyone = draw(placements(room, labels))
    spare = st.builds(Placement, channel=st.sampled_from(ALL_LABELS), position=points(room))
    shares = [[draw(spare)] for _ in names]
    for index, placement in enumerate(everyone if names else ()):
        shares[index % len(names)].append(placement)
    found = []
    for name, share in zip(names, shares, strict=True):
        target = draw(st.none() | numbers(TARGET_SPL))
        candidates = draw(skus(least=1 if target is None else 0))
        found.append(LoudspeakerSet(name=name, placements=tuple(share), candidates=candidates, target_spl_db=target))
    return found


@st.composite
def subwoofer_sets(draw: st.DrawFn, name: str, room: Room) -> SubwooferSet:
    least = draw(st.integers(int(SUBWOOFERS.low), 4))
    most = draw(st.integers(least, 6))
    return SubwooferSet(
        name=name,
        least=least,
        most=most,
        positions=tuple(draw(st.lists(points(room), min_size=most, max_size=most + 2))),
        candidates=draw(skus()),
        channel=draw(st.sampled_from(["LFE1", "LFE2"])),
        target_spl_db=draw(st.none() | numbers(TARGET_SPL)),
    )


@st.composite
def owned_gear(draw: st.DrawFn, excluded: tuple[str, ...]) -> tuple[Owned, ...]:
    names = draw(st.lists(NAMES, max_size=3, unique_by=str.casefold))
    return tuple(
        Owned(sku=sku, count=draw(wholes(OWNED)), must_use=sku not in excluded and draw(st.booleans())) for sku in names
    )


@st.composite
def briefs(draw: st.DrawFn) -> Brief:
    """Any brief that the reader accepts."""
    room = draw(ROOMS)
    layout_name = draw(LAYOUT_NAMES)
    set_names = draw(st.integers(1, 4).flatmap(unique_names))
    cut = draw(st.integers(0, len(set_names)))
    seat_names = draw(st.integers(1, 3).flatmap(unique_names))
    excluded = draw(skus())
    stage = st.builds(LaterStage, name=st.just(""), layout=LAYOUT_NAMES, subwoofers=wholes(COUNT), years=numbers(YEARS))
    later_names = draw(st.integers(0, 2).flatmap(unique_names))
    return Brief(
        project=draw(PROJECTS),
        room=room,
        seats=tuple(Seat(name=name, position=draw(points(room)), primary=draw(st.booleans())) for name in seat_names),
        rack=draw(
            st.builds(
                Rack,
                position=points(room),
                units=st.none() | wholes(RACK_UNITS),
                route_allowance_percent=numbers(ROUTE_ALLOWANCE),
                slack_m=numbers(SLACK),
                internal_m=numbers(INTERNAL_LEAD),
            )
        ),
        layout=layout_name,
        loudspeakers=tuple(draw(loudspeaker_sets(set_names[:cut], room, layout(layout_name).labels))),
        subwoofers=tuple(draw(subwoofer_sets(name, room)) for name in set_names[cut:]),
        limits=draw(LIMITS),
        measures=draw(MEASURES),
        owned=draw(owned_gear(excluded)),
        excluded=excluded,
        later=tuple(
            LaterStage(name=name, layout=found.layout, subwoofers=found.subwoofers, years=found.years)
            for name, found in ((name, draw(stage)) for name in later_names)
        ),
    )
