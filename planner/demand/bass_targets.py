"""The level asked of all subwoofers of a channel together (R13): what each adds at each primary seat.

In phase the pressures add, so the sum is linear in which subwoofers are there. What one adds is
rounded down to the whole unit below, so that what is admitted does reach the target.
"""

import math
from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass

from planner.brief.records import Brief, PhysicalLimit
from planner.catalogue.records import Powering, Subwoofer
from planner.demand.loads import LoadSet, Member, Model

UNITS = 1_000_000
"""The pressure that reaches the target, in the units of `BassTarget.adds`."""

Place = tuple[str, str, int]  # set name, model sku, index in the set


@dataclass(frozen=True, slots=True)
class BassTarget:
    """One seat of one channel: pressures of all that may play there must add up to `UNITS`.

    `unknown` are the models that the catalogue gives no level for; a design with one of them is
    not held to the target.
    """

    channel: str
    adds: tuple[tuple[Place, int], ...]
    unknown: tuple[tuple[str, str], ...]

    def without(self, models: Collection[tuple[str, str]]) -> "BassTarget":
        """The same where these models (set name, sku) are not to be had."""
        adds = tuple((place, share) for place, share in self.adds if place[:2] not in models)
        return BassTarget(self.channel, adds, tuple(key for key in self.unknown if key not in models))


LevelOf = Callable[[LoadSet, Model, Member], float | None]
"""The greatest level of a subwoofer at 1 m as far as it is sure, dB; None: not known."""


def active_level_1m_db(subwoofer: Subwoofer) -> float | None:
    """What an active subwoofer states; None for a passive one."""
    return subwoofer.max_spl_db if subwoofer.powering is Powering.ACTIVE else None


def bass_targets(brief: Brief, sets: Iterable[LoadSet], level_of: LevelOf) -> tuple[BassTarget, ...]:
    """Every target of a bass channel at every primary seat; of several for a channel, the greatest."""
    if PhysicalLimit.TARGET not in brief.limits.physical:
        return ()
    bass = [load for load in sets if load.bass]
    wanted: dict[str, float] = {}
    for load in bass:
        if load.target_spl_db is not None:
            channel = load.members[0].channel
            wanted[channel] = max(wanted.get(channel, -math.inf), load.target_spl_db)
    return tuple(
        target
        for channel, target_db in wanted.items()
        for target in _at_seats(brief, channel, target_db, bass, level_of)
    )


def _at_seats(
    brief: Brief, channel: str, target_db: float, bass: list[LoadSet], level_of: LevelOf
) -> Iterator[BassTarget]:
    places = [
        (load, model, member)
        for load in bass
        for model in load.models
        for member in load.members
        if member.channel == channel
    ]
    levels = [(place, level_of(*place)) for place in places]
    unknown = tuple(dict.fromkeys((load.name, model.sku) for (load, model, _), level in levels if level is None))
    for seat in [seat for seat in brief.seats if seat.primary] or brief.seats:
        head = seat.position
        adds = []
        for (load, model, member), level_db in levels:
            spot = member.position
            metres = max(math.dist((spot.x_m, spot.y_m, spot.z_m), (head.x_m, head.y_m, head.z_m)), 1.0)
            if level_db is not None:
                share = 10 ** ((level_db - 20 * math.log10(metres) - target_db) / 20)
                adds.append(((load.name, model.sku, member.index), min(math.floor(share * UNITS), UNITS)))
        yield BassTarget(channel, tuple(adds), unknown)
