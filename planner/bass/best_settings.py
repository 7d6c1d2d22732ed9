"""The best settings for one control structure: a wide search, downhill, then onto the device's steps.

Nothing here is proven to be the best of all; the tests hold it against exhaustive search. What is certain is
that no result is worse than the settings that the search was given to start from.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from planner.bass.arrays import Reals
from planner.bass.controls import ControlGroup, Grouping, Setting, refines
from planner.bass.descent import descend
from planner.bass.device_steps import settled, snapped
from planner.bass.groupings import Permutation
from planner.bass.lattice import basins, scan
from planner.bass.starts import spread_out
from planner.bass.task import LOSS_HAIR_DB, Task
from planner.bass.trials import Trials, stacked, trial

_WORTH_SETTING = 0.01
"""A gain of less than this part of the variance is not worth different settings: it can't be heard."""

_STARTS_BY_GROUP = 64
_DESCENTS = 5
_SETTLED, _SETTLED_PAIR = 2, 6
_BASINS = 12
_SEEDS = 4
_THINNING = 2
_PAIR_STEP_HZ = 2.0
_QUICK_THINNING = 4
_QUICK_SWEEPS = 2
_QUICK_STEPS = 6


@dataclass(frozen=True, kw_only=True, slots=True)
class Best:
    """What was found for a structure: one setting a group, and what it comes to.

    `variance_db2` is the mean spatial variance; `loss_db` the level given up against one signal to all.
    """

    groups: tuple[ControlGroup, ...]
    settings: tuple[Setting, ...]
    variance_db2: float
    loss_db: float

    @property
    def grouping(self) -> Grouping:
        """Which subwoofers share an output."""
        return tuple(group.members for group in self.groups)

    @property
    def by_subwoofer(self) -> dict[int, Setting]:
        """What each subwoofer is set to, by its index."""
        pairs = zip(self.groups, self.settings, strict=True)
        return {member: setting for group, setting in pairs for member in group.members}


def mirrored(best: Best, permutation: Permutation) -> Best:
    """The same settings with every subwoofer in the place that the permutation gives it."""
    pairs = sorted(
        (
            (tuple(sorted(permutation[member] for member in group.members)), group, setting)
            for group, setting in zip(best.groups, best.settings, strict=True)
        ),
        key=lambda pair: pair[0],
    )
    return replace(
        best,
        groups=tuple(replace(group, members=members) for members, group, _ in pairs),
        settings=tuple(setting for _, _, setting in pairs),
    )


def best_settings(task: Task, known: Sequence[Best] = ()) -> Best:
    """The best settings found for the groups of a task.

    `known`: results for the same subwoofers, or for more of them. Those of coarser groupings are starting
    points; so more control is never worse than less, as long as its ranges are no narrower.
    """
    alike = _alike(task)
    given = stacked([alike, *(_seed(task, best) for best in _coarser(task, known)[:_SEEDS])])
    best = _best_of(task, given)
    if len(task.groups) == 1:
        return best
    pair = len(task.groups) == 2
    thinned = task.thinned(_THINNING if not pair else _thinning_of_a_pair(task))
    low = descend(thinned, stacked([given, _wide_search(thinned, given)]))
    cost = thinned.appraise(low).cost(task.most_loss_db)
    near = snapped(task, descend(task, low.rows(_best_different(cost, _SETTLED_PAIR if pair else _SETTLED))))
    found = _best_of(task, stacked([settled(task, near.rows([row])) for row in range(len(near))]))
    worth_it = found.variance_db2 < (1 - _WORTH_SETTING) * best.variance_db2
    return found if worth_it and found.loss_db <= task.most_loss_db + LOSS_HAIR_DB else best


def _thinning_of_a_pair(task: Task) -> int:
    """A pair is searched so that nothing is missed: every second hertz."""
    return max(1, int(_PAIR_STEP_HZ / np.diff(task.frequency_hz).max()))


def _wide_search(thinned: Task, given: Trials) -> Trials:
    """Where to go downhill from: the dips of each group alone, and of more than two, the lattice's best together."""
    groups = range(len(thinned.groups))
    if len(groups) == 2:
        return stacked([basins(thinned, _alike(thinned), group, _BASINS) for group in groups])
    best = given.rows([int(thinned.appraise(given).strict_cost(thinned.most_loss_db).argmin())])
    dips = [basins(thinned, best, group, _BASINS // len(groups)) for group in groups]
    scanned, cost = scan(thinned, stacked([given, spread_out(thinned, _STARTS_BY_GROUP // len(groups))]))
    return stacked([*dips, scanned.rows(_best_different(cost, _DESCENTS))])


def quick_settings(task: Task, known: Sequence[Best]) -> Best:
    """A first idea of the best settings, to rank structures by: from the best coarser result only.

    Only the groups that differ from it move first. The level may be a little lower than allowed, the
    settings are on no device's steps, and the figures are of every fourth frequency.
    """
    coarser = _coarser(task, known)[:1]
    seed = _seed(task, coarser[0]) if coarser else _alike(task)
    kept = {members for best in coarser for members in best.grouping}
    new = tuple(n for n, group in enumerate(task.groups) if group.members not in kept)
    thinned = task.thinned(_QUICK_THINNING)
    scanned, _ = scan(thinned, seed, new or None, _QUICK_SWEEPS)
    low = descend(thinned, scanned, _QUICK_STEPS)
    appraisal = thinned.appraise(low)
    return Best(
        groups=task.groups,
        settings=low.settings(0),
        variance_db2=float(appraisal.cost(task.most_loss_db)[0]),
        loss_db=float(appraisal.loss_db[0]),
    )


def _coarser(task: Task, known: Sequence[Best]) -> list[Best]:
    """The results whose groups hold the task's groups whole, best first."""
    grouping = tuple(group.members for group in task.groups)
    return sorted((best for best in known if refines(grouping, best.grouping)), key=lambda best: best.variance_db2)


def _alike(task: Task) -> Trials:
    """Every group at 0 dB, 0 ms, not inverted."""
    return trial([Setting()] * len(task.groups))


def _seed(task: Task, coarser: Best) -> Trials:
    """The settings of a coarser structure, each group taking those of the group it lies in, as far as it can."""
    by_subwoofer = coarser.by_subwoofer
    settings = [group.range.nearest(by_subwoofer[group.members[0]]) for group in task.groups]
    return snapped(task, trial(settings))


def _best_different(cost: Reals, count: int) -> list[int]:
    """The rows of least cost; of those that ended in one place only the first."""
    chosen: list[int] = []
    for row in np.argsort(cost, kind="stable"):
        if all(abs(cost[row] - cost[other]) > 1e-4 for other in chosen):
            chosen.append(int(row))
        if len(chosen) == count:
            break
    return chosen


def _best_of(task: Task, trials: Trials) -> Best:
    appraisal = task.appraise(trials)
    row = int(appraisal.strict_cost(task.most_loss_db).argmin())
    return Best(
        groups=task.groups,
        settings=trials.settings(row),
        variance_db2=float(appraisal.variance_db2[row]),
        loss_db=float(appraisal.loss_db[row]),
    )
