"""The ways in which subwoofers can share outputs: set partitions, and which of them are alike."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations

from planner.bass.controls import Grouping, sorted_grouping

Permutation = tuple[int, ...]
"""Where each subwoofer goes: subwoofer n takes the place of subwoofer permutation[n]."""


def groupings(subwoofers: int, groups: int) -> Iterator[Grouping]:
    """Every partition of so many subwoofers into exactly so many groups, each once.

    >>> list(groupings(3, 2))
    [((0, 2), (1,)), ((0,), (1, 2)), ((0, 1), (2,))]
    """
    if subwoofers < groups or groups == 0:
        if subwoofers == groups:
            yield ()
        return
    last = subwoofers - 1
    for smaller in groupings(last, groups):
        for n in range(groups):
            yield sorted_grouping((*smaller[:n], (*smaller[n], last), *smaller[n + 1 :]))
    for smaller in groupings(last, groups - 1):
        yield sorted_grouping((*smaller, (last,)))


def count_groupings(subwoofers: int, groups: int) -> int:
    """How many partitions there are (Stirling numbers of the second kind).

    >>> count_groupings(8, 4)
    1701
    """
    if groups in (0, subwoofers):
        return int(groups == subwoofers)
    if groups > subwoofers:
        return 0
    return groups * count_groupings(subwoofers - 1, groups) + count_groupings(subwoofers - 1, groups - 1)


def splits(grouping: Grouping) -> Iterator[Grouping]:
    """Every grouping with one group more, in which one group is split in two.

    >>> list(splits(((0, 1), (2,))))
    [((0,), (1,), (2,))]
    """
    for n, group in enumerate(grouping):
        others = (*grouping[:n], *grouping[n + 1 :])
        first, rest = group[0], group[1:]
        for size in range(len(rest)):
            for chosen in combinations(rest, size):
                left = tuple(member for member in rest if member not in chosen)
                yield sorted_grouping((*others, (first, *chosen), left))


def representatives(found: Iterable[Grouping], symmetries: Sequence[Permutation]) -> list[Grouping]:
    """One of each family of groupings that the symmetries carry into one another, in order."""
    kept: dict[Grouping, None] = {}
    seen: set[Grouping] = set()
    for grouping in found:
        if grouping not in seen:
            kept[grouping] = None
            seen.add(grouping)
            seen.update(moved(grouping, permutation) for permutation in symmetries)
    return list(kept)


def moved(grouping: Grouping, permutation: Permutation) -> Grouping:
    """The grouping with every subwoofer in the place that the permutation gives it.

    >>> moved(((0, 1), (2,)), (2, 1, 0))
    ((0,), (1, 2))
    """
    return sorted_grouping(tuple(tuple(permutation[n] for n in group) for group in grouping))
