"""Which amplifier channels can drive which loudspeakers: their load (R14), their power and the cable (R13).

Channels that no loudspeaker of the brief can tell apart form one class, 0 for those that
can drive everything. None stands for what the catalogue does not say, and is never refused for that.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from planner.catalogue.records import Amplifier, Item, Processor
from planner.formulas.amplifiers import power_into_load_w
from planner.formulas.levels import power_ratio, power_ratio_db

_SLIVER = 5e-10  # half of what the examination allows, so that what is admitted here passes there


@dataclass(frozen=True, slots=True)
class Rating:
    """What one amplifier channel gives, and the least load that it may drive."""

    power_8ohm_w: float | None
    power_4ohm_w: float | None
    least_load_ohm: float | None


@dataclass(frozen=True, slots=True)
class PassiveFeed:
    """One pair of terminals in its place.

    `wanted_1m_db` is the level at 1 m that reaches the target at the worst primary seat, None
    where there is no target. `cable_loss_db` is the most that the cables considered for it
    lose; the search counts that for whichever of them is taken.
    """

    nominal_ohm: float | None
    least_ohm: float | None
    sensitivity_1w_db: float | None
    handling_w: float | None
    wanted_1m_db: float | None
    cable_loss_db: float


@dataclass(frozen=True, kw_only=True, slots=True)
class PowerLimits:
    """Which limits restrict what may drive what."""

    load: bool
    target: bool


def rating_of(item: Item | None) -> Rating:
    """What a channel of a device gives."""
    if isinstance(item, Amplifier):
        return Rating(item.power_8ohm_w, item.power_4ohm_w, item.least_load_ohm)
    if isinstance(item, Processor):
        return Rating(item.amp_power_8ohm_w, item.amp_power_4ohm_w, item.amp_least_load_ohm)
    return Rating(None, None, None)


def level_1m_db(rating: Rating, feed: PassiveFeed) -> float | None:
    """The greatest level at 1 m in free field: the rating into the load, less the cable, within the handling."""
    if rating.power_8ohm_w is None or feed.nominal_ohm is None or feed.sensitivity_1w_db is None:
        return None
    rated_w = power_into_load_w(feed.nominal_ohm, rating.power_8ohm_w, rating.power_4ohm_w)
    available_w = rated_w * power_ratio(feed.cable_loss_db)
    used_w = available_w if feed.handling_w is None else min(available_w, feed.handling_w)
    return feed.sensitivity_1w_db + power_ratio_db(used_w, 1.0)


class PowerReach:
    """Which ratings may drive which feeds, and the classes that follow."""

    def __init__(self, ratings: Iterable[Rating], feeds: Iterable[PassiveFeed], limits: PowerLimits) -> None:
        self._ratings, self._feeds = tuple(dict.fromkeys(ratings)), tuple(dict.fromkeys(feeds))
        self._limits = limits

    def rating_class(self, rating: Rating) -> int:
        """The class of a rating."""
        return self._classes.get(rating, 0)

    def admits(self, rating: Rating, feed: PassiveFeed) -> bool:
        """Whether a channel may drive a pair of terminals."""
        return self._carries(rating, feed) and self._reaches(rating, feed)

    def covers(self, other: Rating, rating: Rating) -> bool:
        """Whether one rating may drive all that another may."""
        return all(self.admits(other, feed) or not self.admits(rating, feed) for feed in self._feeds)

    @cached_property
    def _classes(self) -> Mapping[Rating, int]:
        numbers: dict[tuple[bool, ...], int] = {}
        found = {}
        for rating in self._ratings:
            row = tuple(self.admits(rating, feed) for feed in self._feeds)
            found[rating] = 0 if all(row) else numbers.setdefault(row, len(numbers) + 1)
        return found

    def _carries(self, rating: Rating, feed: PassiveFeed) -> bool:
        load_ohm, least_ohm = feed.nominal_ohm or feed.least_ohm, rating.least_load_ohm
        known = self._limits.load and load_ohm is not None and least_ohm is not None
        return not known or (load_ohm or 0.0) >= (least_ohm or 0.0) * (1 - _SLIVER)

    def _reaches(self, rating: Rating, feed: PassiveFeed) -> bool:
        level_db = level_1m_db(rating, feed) if self._limits.target and feed.wanted_1m_db is not None else None
        return level_db is None or level_db >= (feed.wanted_1m_db or -math.inf) - _SLIVER
