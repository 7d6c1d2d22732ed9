"""The sizes that are measured: a brief, a market and house settings each.

    S    5.1.2, 2 subwoofers, the demo catalogue and its brief
    M    7.1.4, 4 subwoofers, 180 devices
    L    9.1.6 with active fronts, 8 subwoofers, 700 devices
    XL   30 loudspeakers on 22 channels, 16 subwoofers, 700 devices
    XXL  64 loudspeakers on 22 channels, 32 subwoofers, 5 000 devices

Devices are processors, DSP units and amplifiers, two to one to four. The limits of R11 to R15 are
left out, so that the same question can be put to solvers that know nothing of levels; `--limits`
measures what they cost.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from functools import cache
from math import cos, inf, radians, sin

from planner.brief.records import (
    Brief,
    Limits,
    LoudspeakerSet,
    Placement,
    Point,
    Project,
    Rack,
    Room,
    Seat,
    SubwooferSet,
)
from planner.catalogue.records import Catalogue
from planner.channels import nominal_angles
from planner.house import House
from planner.layouts import layout
from tests.benchmarks.market import Stock, market
from tests.plan.demo import demo_brief, demo_catalogue, demo_house

SEED = 20261125
_LEAST_W = 100.0


class Size(StrEnum):
    """How large a question is."""

    S = "S"
    M = "M"
    L = "L"
    XL = "XL"
    XXL = "XXL"


@dataclass(frozen=True, kw_only=True, slots=True)
class Case:
    """What is asked, and of what market."""

    name: str
    brief: Brief
    catalogue: Catalogue
    house: House

    @property
    def devices(self) -> int:
        """Processors, DSP units and amplifiers to choose from."""
        return len(self.catalogue.processors) + len(self.catalogue.dsp_units) + len(self.catalogue.amplifiers)

    @property
    def feeds(self) -> int:
        """Loudspeakers and subwoofers, one feed each."""
        return sum(len(s.placements) for s in self.brief.loudspeakers) + sum(s.most for s in self.brief.subwoofers)


STOCKS: Mapping[Size, Stock] = {
    Size.M: Stock(processors=52, dsp_units=26, amplifiers=102),
    Size.L: Stock(processors=200, dsp_units=100, amplifiers=400),
    Size.XL: Stock(processors=200, dsp_units=100, amplifiers=400),
    Size.XXL: Stock(processors=1430, dsp_units=714, amplifiers=2856),
}


def case(size: Size, seed: int = SEED) -> Case:
    """One size."""
    if size is Size.S:
        brief = demo_brief("small-5-1-2-two-subs")
        limits = replace(brief.limits, physical=frozenset())
        return Case(
            name=size.value, brief=replace(brief, limits=limits), catalogue=demo_catalogue(), house=demo_house()
        )
    return _on_market(size.value, _BRIEFS[size], STOCKS[size], seed)


def with_devices(devices: int, seed: int = SEED) -> Case:
    """The brief of M on a market of so many devices; a larger one holds the smaller ones."""
    processors, dsp_units = round(devices * 2 / 7), round(devices / 7)
    stock = Stock(processors=processors, dsp_units=dsp_units, amplifiers=devices - processors - dsp_units)
    return _on_market(f"M with {devices} devices", _BRIEFS[Size.M], stock, seed)


def with_feeds(feeds: int, seed: int = SEED) -> Case:
    """A hall with so many feeds, one of `HALLS`, on the market of XL."""
    return _on_market(f"hall with {feeds} feeds", HALLS[feeds], STOCKS[Size.XL], seed)


def _on_market(name: str, brief: Brief, stock: Stock, seed: int) -> Case:
    catalogue = _market(stock, seed)
    return Case(name=name, brief=_with_strong(brief, catalogue), catalogue=catalogue, house=demo_house())


@cache
def _market(stock: Stock, seed: int) -> Catalogue:
    return market(stock, seed)


def _with_strong(brief: Brief, catalogue: Catalogue) -> Brief:
    """The brief without amplifiers below 100 W, as a designer writes it."""
    weak = tuple(amplifier.sku for amplifier in catalogue.amplifiers if amplifier.power_8ohm_w < _LEAST_W)
    return replace(brief, excluded=weak)


# Rooms and briefs, all invented


@dataclass(frozen=True, slots=True)
class _Hall:
    """A room, and the spot that angles are seen from."""

    room: Room
    centre: Point

    def on_wall(self, label: str, aside_m: float = 0.0) -> Point:
        """Where the direction of a channel meets wall or ceiling, moved aside along it by so much."""
        angles = nominal_angles(label)
        azimuth, elevation = radians(angles.azimuth_deg), radians(angles.elevation_deg)
        way = (-cos(azimuth) * cos(elevation), -sin(azimuth) * cos(elevation), sin(elevation))
        size = (self.room.length_m, self.room.width_m, self.room.height_m)
        start = (self.centre.x_m, self.centre.y_m, self.centre.z_m)
        reach = min(
            ((length - 0.1 if step > 0 else 0.1) - at) / step if abs(step) > 1e-9 else inf
            for step, at, length in zip(way, start, size, strict=True)
        )
        x, y, z = (at + reach * step for step, at in zip(way, start, strict=True))
        x += aside_m if x < self.centre.x_m else -aside_m
        return Point(round(x, 2), round(y, 2), round(z, 2))

    def corner_positions(self, number: int) -> tuple[Point, ...]:
        """So many places along front and rear wall in turn, from the corners inwards."""
        places = []
        for index in range(number):
            x = 0.4 if index % 2 == 0 else self.room.length_m - 0.4
            row = index // 2
            along = 0.4 + (row // 2) * 0.7
            y = along if row % 2 == 0 else self.room.width_m - along
            places.append(Point(round(x, 2), round(y, 2), 0.3))
        return tuple(places)

    def seats(self) -> tuple[Seat, ...]:
        """Three seats abreast, the middle one primary."""
        return tuple(
            Seat(
                name=name,
                position=Point(self.centre.x_m, round(self.centre.y_m + dy, 2), self.centre.z_m),
                primary=dy == 0,
            )
            for name, dy in (("Left", -0.8), ("Middle", 0.0), ("Right", 0.8))
        )


_CINEMA = _Hall(Room(length_m=6.8, width_m=4.6, height_m=2.7), Point(3.8, 2.3, 1.2))
_LARGE = _Hall(Room(length_m=8.8, width_m=6.0, height_m=3.3), Point(4.8, 3.0, 1.2))
_HALL = _Hall(Room(length_m=14.0, width_m=10.0, height_m=5.0), Point(7.5, 5.0, 1.2))


def _channels(name: str) -> tuple[str, ...]:
    return tuple(channel.label for channel in layout(name).channels if not channel.is_lfe)


def _loudspeakers(
    hall: _Hall, name: str, labels: Iterable[str], candidates: tuple[str, ...], each: int = 1
) -> LoudspeakerSet:
    """A set with so many loudspeakers on each channel, side by side."""
    placements = tuple(
        Placement(channel=label, position=hall.on_wall(label, 0.7 * number))
        for label in labels
        for number in range(each)
    )
    return LoudspeakerSet(name=name, placements=placements, candidates=candidates)


def _subwoofers(hall: _Hall, kinds: Mapping[str, tuple[int, tuple[str, ...]]]) -> tuple[SubwooferSet, ...]:
    """Sets of so many subwoofers, placed one after another."""
    places = hall.corner_positions(sum(number for number, _ in kinds.values()))
    sets, first = [], 0
    for name, (number, candidates) in kinds.items():
        positions = places[first : first + number]
        sets.append(SubwooferSet(name=name, least=number, most=number, positions=positions, candidates=candidates))
        first += number
    return tuple(sets)


def _brief(
    hall: _Hall, name: str, layout_name: str, speakers: tuple[LoudspeakerSet, ...], subs: tuple[SubwooferSet, ...],
    limits: Limits, rack_units: int | None,
) -> Brief:  # fmt: skip
    rack = Point(round(hall.room.length_m - 0.6, 2), round(hall.room.width_m - 0.3, 2), 0.9)
    return Brief(
        project=Project(
            name=name, client="Example client", reference=f"BENCH-{name}", dated=date(2026, 11, 9), currency="EUR"
        ),
        room=hall.room,
        seats=hall.seats(),
        rack=Rack(position=rack, units=rack_units),
        layout=layout_name,
        loudspeakers=speakers,
        subwoofers=subs,
        limits=replace(limits, physical=frozenset()),
    )


def _medium() -> Brief:
    hall = _CINEMA
    labels = _channels("7.1.4")
    return _brief(
        hall, "M", "7.1.4",
        (
            _loudspeakers(hall, "Screen", labels[:3], ("loudspeaker-screen-93", "loudspeaker-floor-91")),
            _loudspeakers(hall, "Surround", labels[3:7], ("loudspeaker-in-wall-90",)),
            _loudspeakers(hall, "Height", labels[7:], ("loudspeaker-in-ceiling-89",)),
        ),
        _subwoofers(
            hall,
            {
                "Front subwoofers": (2, ("subwoofer-15-xlr", "subwoofer-15-both-link")),
                "Rear subwoofers": (2, ("subwoofer-12-rca", "subwoofer-12-rca-link")),
            },
        ),
        Limits(largest_split=2, filters_per_subwoofer=6, most_dsp_units=2), 30,
    )  # fmt: skip


def _large() -> Brief:
    hall = _LARGE
    labels = _channels("9.1.6")
    fronts, others = labels[:3], [label for label in labels[3:] if label.startswith("M")]
    return _brief(
        hall, "L", "9.1.6",
        (
            _loudspeakers(
                hall, "Front", fronts, ("loudspeaker-active-screen-118", "loudspeaker-active-110-both")
            ),
            _loudspeakers(hall, "Surround", others, ("loudspeaker-in-wall-90",)),
            _loudspeakers(
                hall, "Height", [label for label in labels if label.startswith("U")], ("loudspeaker-in-ceiling-89",)
            ),
        ),
        _subwoofers(
            hall,
            {
                "Main subwoofers": (4, ("subwoofer-18-xlr", "subwoofer-18-xlr-link")),
                "Side subwoofers": (4, ("subwoofer-15-rca", "subwoofer-15-both-link")),
            },
        ),
        Limits(largest_split=4, filters_per_subwoofer=6, most_dsp_units=2), 42,
    )  # fmt: skip


def _hall_brief(name: str, each_above: int, each_around: int, each_front: int, subs: int, units: int) -> Brief:
    """A hall of 22 channels, loudspeakers in arrays, subwoofers of two kinds without link outputs."""
    hall, labels = _HALL, _channels("22.2")
    fronts = tuple(label for label in labels if label in ("M+030", "M-030", "M+000", "M+060", "M-060"))
    arrays = tuple(label for label in labels if label in ("M+090", "M-090", "M+135", "M-135"))
    above = tuple(label for label in labels if label in ("U+090", "U-090", "U+045", "U-045", "U+135", "U-135"))
    rest = tuple(label for label in labels if label not in (*fronts, *arrays, *above))
    return _brief(
        hall, name, "22.2",
        (
            _loudspeakers(
                hall, "Front", fronts, ("loudspeaker-screen-96", "loudspeaker-active-screen-118"), each_front
            ),
            _loudspeakers(hall, "Array", arrays, ("loudspeaker-on-wall-88", "loudspeaker-in-wall-90"), each_around),
            _loudspeakers(hall, "Ceiling", above, ("loudspeaker-in-ceiling-89",), each_above),
            _loudspeakers(hall, "Other", rest, ("loudspeaker-in-wall-87",), 1),
        ),
        _subwoofers(
            hall,
            {
                "Main subwoofers": (subs // 2, ("subwoofer-18-xlr", "subwoofer-15-xlr")),
                "Side subwoofers": (subs - subs // 2, ("subwoofer-15-rca", "subwoofer-12-rca")),
            },
        ),
        Limits(largest_split=4, filters_per_subwoofer=6, most_dsp_units=units), None,
    )  # fmt: skip


HALLS: Mapping[int, Brief] = {
    26: _hall_brief("26", each_above=1, each_around=1, each_front=1, subs=4, units=2),
    34: _hall_brief("34", each_above=1, each_around=2, each_front=1, subs=8, units=2),
    46: _hall_brief("46", each_above=1, each_around=3, each_front=1, subs=16, units=2),
}

_BRIEFS: Mapping[Size, Brief] = {
    Size.M: _medium(),
    Size.L: _large(),
    Size.XL: _hall_brief("XL", each_above=1, each_around=3, each_front=1, subs=16, units=2),
    Size.XXL: _hall_brief("XXL", each_above=3, each_around=6, each_front=3, subs=32, units=4),
}
