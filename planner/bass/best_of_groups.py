"""The best settings of any control groups of a scene, each searched once and remembered, on disk as well.

With up to four groups it is the search of the ways of control: every way to join two of the groups is searched
before, and so on down to one signal to all; so groups that can do more never come out worse. With more groups
there are too many ways to join them: each on its own is the last of the ways of control, as a study has it; any
others are reached by splitting the best found with a group fewer, ranked by the quick search.

Results depend on scene and groups alone, never on what was asked before.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import combinations

from planner.bass.best_settings import Best, best_settings, mirrored, quick_settings
from planner.bass.controls import USUAL_RANGE, ControlGroup, ControlRange, Grouping, joined
from planner.bass.groupings import Permutation, groupings, splits
from planner.bass.scene import Scene, field_of, symmetries_of
from planner.bass.task import MOST_LOSS_DB, Task, task
from planner.bass.ways import MOST_SUBWOOFERS, Search, Way, ways_of_control
from planner.kept import remembered

Groups = tuple[ControlGroup, ...]

_ALL_JOINED = 4
_PAIRS_KEPT = 2


def best_of_groups(scene: Scene, groups: Groups) -> Best:
    """The best settings of these groups of the scene's subwoofers, all of them in some group.

    Where the usual ranges lead to settings that the groups' own ranges hold, those are the answer:
    nothing better was found where there is more to choose from.
    """
    groups = tuple(sorted(groups, key=lambda group: group.members))
    if all(group.late_ms == 0 for group in groups):
        usual = _image_searched(scene, tuple(ControlGroup(members=group.members) for group in groups))
        if all(group.range.holds(setting) for group, setting in zip(groups, usual.settings, strict=True)):
            return replace(usual, groups=groups)
    return _image_searched(scene, groups)


@lru_cache(maxsize=16)
def ways_of(scene: Scene, control: ControlRange = USUAL_RANGE, most_loss_db: float = MOST_LOSS_DB) -> tuple[Way, ...]:
    """The ways of control of all subwoofers of a scene."""
    return ways_of_control(
        Search(
            field=field_of(scene)[0],
            subwoofers=len(scene.subwoofers),
            control=control,
            most_loss_db=most_loss_db,
            symmetries=symmetries_of(scene),
        )
    )


def _image_searched(scene: Scene, groups: Groups) -> Best:
    """Of the groups' mirror images only the first in order is searched, and its result carried back."""
    images = [(_moved(groups, permutation), permutation) for permutation in symmetries_of(scene)]
    image, permutation = min(images, key=lambda pair: [group.members for group in pair[0]])
    best = _searched(scene, image)
    return best if image == groups else mirrored(best, _inverse(permutation))


@lru_cache(maxsize=1024)
def _searched(scene: Scene, groups: Groups) -> Best:
    return remembered("bass of groups", (scene, groups), Best, lambda: _searched_anew(scene, groups))


def _searched_anew(scene: Scene, groups: Groups) -> Best:
    here = _task(scene, groups)
    if len(groups) == 1:
        return best_settings(here)
    if len(groups) <= _ALL_JOINED:
        return best_settings(here, [best_of_groups(scene, coarser) for coarser in _two_joined(groups)])
    singles = len(groups) == len(scene.subwoofers) <= MOST_SUBWOOFERS
    if singles and all(group == ControlGroup(members=group.members) for group in groups):
        return ways_of(scene)[-1].best
    if len(groups) > MOST_SUBWOOFERS:  # too many ways to join them even to rank
        return best_settings(here, [best_settings(_task(scene, (joined(groups),)))])
    return best_settings(here, _chain(scene, groups))


def _chain(scene: Scene, groups: Groups) -> list[Best]:
    """From one signal to all towards these groups, by splitting the best with a group fewer."""
    known = [best_settings(_task(scene, (joined(groups),)))]
    candidates: Sequence[Grouping] = list(groupings(len(groups), 2))
    for count in range(2, len(groups)):
        tasks = [_task(scene, _of_atoms(groups, one)) for one in candidates]
        ranked = sorted(
            ((quick_settings(one, known).variance_db2, n) for n, one in enumerate(tasks)), key=lambda pair: pair[0]
        )
        kept = ranked[: _PAIRS_KEPT if count == 2 else 1]
        found = [(best_settings(tasks[n], known), candidates[n]) for _, n in kept]
        best, grouping = min(found, key=lambda pair: pair[0].variance_db2)
        known, candidates = [best], list(dict.fromkeys(splits(grouping)))
    return known


def _task(scene: Scene, groups: Groups) -> Task:
    return task(field_of(scene)[0], groups)


def _of_atoms(groups: Groups, grouping: Grouping) -> Groups:
    """The groups joined as a grouping of their indices says, in the order of their members."""
    found = (joined([groups[n] for n in atoms]) for atoms in grouping)
    return tuple(sorted(found, key=lambda group: group.members))


def _two_joined(groups: Groups) -> Iterator[Groups]:
    """Every way to join two of the groups."""
    for pair in combinations(range(len(groups)), 2):
        others = tuple((n,) for n in range(len(groups)) if n not in pair)
        yield _of_atoms(groups, (pair, *others))


def _moved(groups: Groups, permutation: Permutation) -> Groups:
    moved = (replace(group, members=tuple(sorted(permutation[n] for n in group.members))) for group in groups)
    return tuple(sorted(moved, key=lambda group: group.members))


def _inverse(permutation: Permutation) -> Permutation:
    return tuple(permutation.index(n) for n in range(len(permutation)))
