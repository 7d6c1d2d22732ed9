"""Small random instances: invented gear in every mixture that the rules speak of.

`tiny` is for brute force: at most three loudspeakers, three subwoofers, two processors. All
names, figures and prices are made up by the generator; nothing stands for a real product.
"""

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from random import Random

from planner.brief.records import (
    DEFAULT_MEASURES,
    Brief,
    Drive,
    Limits,
    LoudspeakerSet,
    Measure,
    Owned,
    Placement,
    Point,
    Project,
    Rack,
    Room,
    Seat,
    SubwooferSet,
)
from planner.catalogue.records import Catalogue
from planner.house import House, Rate, Rounding, Task
from tests.oracle.gear import Workshop
from tests.oracle.instance import Instance

DAY = date(2026, 1, 15)
MAIN_CHANNELS = ("M+030", "M-030", "M+000", "M+110", "M-110", "U+030")
ROOM = Room(length_m=6.0, width_m=4.5, height_m=2.6)


def tiny(rng: Random, name: str = "tiny") -> Instance:
    """An instance that brute force can write out."""
    speakers = rng.randint(0, 2)
    return _instance(rng, name, speakers, rng.randint(1, 3 if speakers < 2 else 2), most_connectors=2)


def small(rng: Random, name: str = "small") -> Instance:
    """An instance of a few more feeds, too many to write out."""
    return _instance(rng, name, rng.randint(2, 5), rng.randint(2, 4), most_connectors=3)


def seeded(make: Callable[[Random, str], Instance], seed: int) -> Instance:
    """The instance of one seed."""
    return make(Random(seed), f"{make.__name__} {seed}")


def _instance(rng: Random, name: str, speakers: int, subs: int, most_connectors: int) -> Instance:
    channels = _channels(rng, speakers)
    catalogue = Workshop(rng, channels, most_connectors).catalogue()
    brief = Brief(
        project=Project(
            name="trial", client="nobody", reference=name, dated=DAY, currency=rng.choice(("EUR", "EUR", "GBP")),
            tax_percent=rng.choice((None, Decimal("19"), Decimal("7.7"))),
        ),
        room=ROOM,
        seats=(Seat(name="one", position=Point(4.0, 2.2, 1.1), primary=True),),
        rack=Rack(
            position=_position(rng), units=rng.choice((None, None, 9, 6)), slack_m=rng.choice((0.0, 0.5)),
            route_allowance_percent=rng.choice((0.0, 10.0, 12.5)), internal_m=rng.choice((0.75, 1.0)),
        ),
        layout="none",
        loudspeakers=_loudspeaker_sets(rng, channels, catalogue),
        subwoofers=_subwoofer_sets(rng, subs, catalogue),
        limits=_limits(rng, subs),
        measures=_measures(rng),
        owned=_owned(rng, catalogue),
        excluded=tuple(item.sku for item in catalogue.items() if rng.random() < 0.02),
    )  # fmt: skip
    return Instance(name=name, brief=brief, catalogue=catalogue, house=_house(rng))


def _channels(rng: Random, speakers: int) -> tuple[str, ...]:
    """Mostly a channel a loudspeaker; now and then two loudspeakers share one."""
    channels = list(MAIN_CHANNELS[:speakers])
    if speakers > 1 and rng.random() < 0.25:
        channels[1] = channels[0]
    return tuple(channels)


def _position(rng: Random) -> Point:
    return Point(rng.randint(0, 60) / 10, rng.randint(0, 45) / 10, rng.randint(0, 4) / 10)


def _loudspeaker_sets(rng: Random, channels: tuple[str, ...], catalogue: Catalogue) -> tuple[LoudspeakerSet, ...]:
    if not channels:
        return ()
    cut = rng.randint(1, len(channels)) if rng.random() < 0.3 else len(channels)
    skus = [speaker.sku for speaker in catalogue.loudspeakers]
    return tuple(
        LoudspeakerSet(
            name=name,
            placements=tuple(Placement(channel=channel, position=_position(rng)) for channel in part),
            candidates=tuple(sorted(rng.sample(skus, rng.randint(1, len(skus))))),
        )
        for name, part in (("Main", channels[:cut]), ("Other", channels[cut:]))
        if part
    )


def _subwoofer_sets(rng: Random, subs: int, catalogue: Catalogue) -> tuple[SubwooferSet, ...]:
    skus = [sub.sku for sub in catalogue.subwoofers]
    cut = rng.randint(1, subs) if rng.random() < 0.25 else subs
    sets = []
    for name, most in (("Sub", cut), ("Rear sub", subs - cut)):
        if most:
            sets.append(
                SubwooferSet(
                    name=name,
                    least=rng.randint(0, most) if rng.random() < 0.25 else most,
                    most=most,
                    positions=tuple(_position(rng) for _ in range(most)),
                    candidates=tuple(sorted(rng.sample(skus, rng.randint(1, len(skus))))) if rng.random() < 0.7 else (),
                    channel="LFE1" if name == "Sub" or rng.random() < 0.6 else "LFE2",
                )
            )
    return tuple(sets)


def _limits(rng: Random, subs: int) -> Limits:
    """Mostly no limit of a kind, now and then one that bites."""
    drives = [drive for drive in Drive if rng.random() < 0.97]
    return Limits(
        drives=frozenset(drives or Drive),
        largest_split=rng.choice((2, 3, 4)),
        balanced_only=rng.random() < 0.04,
        least_independent_subwoofers=rng.choice((1, subs)) if rng.random() < 0.1 else 0,
        least_control_groups=2 if rng.random() < 0.1 else 0,
        spare_outputs=1 if rng.random() < 0.1 else 0,
        spare_ceiling=rng.choice((4, 2, 3)),
        most_subwoofers_lost=rng.choice((1, 2)) if rng.random() < 0.15 else None,
        filters_per_subwoofer=rng.choice((0, 5)),
        most_dsp_units=rng.choice((1, 2)),
        budget=Decimal(rng.randint(2000, 6000)) if rng.random() < 0.1 else None,
        physical=frozenset(),  # R11 to R15 have an oracle of their own, see tests.optimum.test_physical_limits
    )


_COUNTED = [m for m in Measure if m not in (Measure.PRICE, Measure.EARTH_LOOPS, Measure.LEAST_MARGIN)]
"""M2 to M6: what the oracles count. M7 and M8 have tests of their own."""


def _measures(rng: Random) -> tuple[Measure, ...]:
    """Mostly the usual ones, else price and some of the others."""
    if rng.random() < 0.75:
        return DEFAULT_MEASURES
    return (Measure.PRICE, *(measure for measure in _COUNTED if rng.random() < 0.5))


def _owned(rng: Random, catalogue: Catalogue) -> tuple[Owned, ...]:
    """Some gear that the client has; devices may have to be used, small parts not."""
    devices = {
        item.sku
        for kind in (
            catalogue.processors,
            catalogue.dsp_units,
            catalogue.amplifiers,
            catalogue.loudspeakers,
            catalogue.subwoofers,
        )
        for item in kind
    }
    return tuple(
        Owned(sku=item.sku, count=rng.randint(1, 2), must_use=item.sku in devices and rng.random() < 0.25)
        for item in catalogue.items()
        if rng.random() < 0.08
    )


def _house(rng: Random) -> House:
    """Terms with awkward numbers: a margin or a mark-up, odd minutes, rates of four digits."""
    margin = rng.random() < 0.5
    currency = rng.choice(("EUR", "USD"))
    rates = {
        code: Rate(per_house_unit=Decimal(rng.randint(7000, 15000)) / 10000, dated=DAY)
        for code in ("EUR", "GBP", "USD")
        if code != currency
    }
    return House(
        name="Trial house",
        currency=currency,
        rates=rates,
        margin_percent=Decimal(rng.choice(("0", "30", "33.3"))) if margin else None,
        markup_percent=None if margin else Decimal(rng.choice(("0", "25", "12.5"))),
        labour_rate=Decimal(rng.choice(("0", "61.50"))),
        minutes={task: Decimal(rng.choice(("0", "7", "20"))) for task in Task},
        tax_percent=Decimal("20"),
        rounding=rng.choice(tuple(Rounding)),
    )
