"""The ways of control compared: for each number of groups, the grouping with the least spread.

From one group to each subwoofer on its own, one group more at a time. Where there are few groupings, all are
searched; where there are more, a quick search ranks them; where there are many, only those are looked at that
split one of the best with a group fewer. Groupings that are mirror images of one another count once.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain

from planner.bass.bass_field import BassField
from planner.bass.best_settings import Best, best_settings, mirrored, quick_settings
from planner.bass.controls import ControlGroup, ControlRange, Grouping, refines
from planner.bass.groupings import Permutation, count_groupings, groupings, representatives, splits
from planner.bass.task import Task, task

MOST_SUBWOOFERS = 8
"""With more, only one signal to all and each on its own are compared: there are too many groupings."""

_FEW = 8
_RANKED_SUBWOOFERS = 12
_MANY = 150
_PARENTS = 4


@dataclass(frozen=True, kw_only=True, slots=True)
class Way:
    """The best grouping found with one number of groups.

    `tried` of `possible`: how many groupings were looked at, those that are mirror images of one
    another counted once, and how many there are with this number of groups.
    """

    best: Best
    tried: int
    possible: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Search:
    """What stays the same from one number of groups to the next.

    `subwoofers` is how many of the field's subwoofers, the first ones, are in use; `symmetries` are
    of these.
    """

    field: BassField
    subwoofers: int
    control: ControlRange
    most_loss_db: float
    symmetries: Sequence[Permutation] = ()

    def task(self, grouping: Grouping) -> Task:
        """The task of one grouping."""
        groups = [ControlGroup(members=members, range=self.control) for members in grouping]
        return task(self.field, groups, self.most_loss_db)


def ways_of_control(search: Search) -> tuple[Way, ...]:
    """One way for each number of groups, fewest first. None has more spread than the one before it."""
    ways: list[Way] = []
    found: list[Best] = []
    some = range(2, search.subwoofers) if search.subwoofers <= MOST_SUBWOOFERS else ()
    for groups in dict.fromkeys((1, *some, search.subwoofers)):
        possible = count_groupings(search.subwoofers, groups)
        candidates = _candidates(search, groups, possible, found)
        found = _searched(search, candidates, _with_images(found, search.symmetries))
        ways.append(Way(best=found[0], tried=len(candidates), possible=possible))
    return tuple(ways)


def _candidates(search: Search, groups: int, possible: int, before: Sequence[Best]) -> list[Grouping]:
    """The groupings to look at. Those that split the best before come first, and stand for their images."""
    if groups == search.subwoofers:
        return [tuple((n,) for n in range(groups))]
    of_the_best = chain.from_iterable(splits(best.grouping) for best in before[:_PARENTS])
    everything = groupings(search.subwoofers, groups) if possible <= _MANY else ()
    return representatives(chain(of_the_best, everything), search.symmetries)


def _searched(search: Search, candidates: Sequence[Grouping], before: Sequence[Best]) -> list[Best]:
    """The candidates searched, best first.

    Of more than a few, those that the quick search ranks first, and the first that splits the best
    before: its result can't be worse than that one's.
    """
    if len(candidates) <= _FEW:
        return _by_variance([best_settings(search.task(one), before) for one in candidates])
    ranked = _by_variance([quick_settings(search.task(one), before) for one in candidates])
    following = next(best for best in ranked if refines(best.grouping, before[0].grouping))
    first = ranked[: max(2, _RANKED_SUBWOOFERS // len(candidates[0]))]
    chosen = dict.fromkeys(best.grouping for best in (*first, following))
    fully = [best_settings(search.task(one), before) for one in chosen]
    return [*_by_variance(fully), *(best for best in ranked if best.grouping not in chosen)]


def _with_images(found: Sequence[Best], symmetries: Sequence[Permutation]) -> list[Best]:
    """The results and their mirror images, which are as good: starting points for what lies across the room."""
    images = {best.grouping: best for best in found}
    for best in found:
        for permutation in symmetries:
            image = mirrored(best, permutation)
            images.setdefault(image.grouping, image)
    return list(images.values())


def _by_variance(found: Sequence[Best]) -> list[Best]:
    return sorted(found, key=lambda best: best.variance_db2)
