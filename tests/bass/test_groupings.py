"""Set partitions against counting by hand, by published numbers, and by brute force."""

from itertools import permutations, product

import pytest

from planner.bass.controls import Grouping, refines, sorted_grouping
from planner.bass.groupings import count_groupings, groupings, moved, representatives, splits

# Stirling numbers of the second kind: OEIS A008277, rows 1 to 8.
STIRLING = (
    (1,),
    (1, 1),
    (1, 3, 1),
    (1, 7, 6, 1),
    (1, 15, 25, 10, 1),
    (1, 31, 90, 65, 15, 1),
    (1, 63, 301, 350, 140, 21, 1),
    (1, 127, 966, 1701, 1050, 266, 28, 1),
)


def by_brute_force(subwoofers: int, groups: int) -> set[Grouping]:
    """Every way of labelling the subwoofers with all the labels, the labels then forgotten."""
    return {
        sorted_grouping(tuple(tuple(n for n, own in enumerate(labels) if own == label) for label in range(groups)))
        for labels in product(range(groups), repeat=subwoofers)
        if len(set(labels)) == groups
    }


@pytest.mark.parametrize("subwoofers", range(1, 9))
def test_there_are_as_many_as_published(subwoofers: int) -> None:
    counts = [count_groupings(subwoofers, groups) for groups in range(1, subwoofers + 1)]
    assert tuple(counts) == STIRLING[subwoofers - 1]


@pytest.mark.parametrize(("subwoofers", "groups"), [(n, k) for n in range(1, 7) for k in range(1, n + 1)])
def test_every_one_comes_once(subwoofers: int, groups: int) -> None:
    found = list(groupings(subwoofers, groups))
    assert len(found) == len(set(found))
    assert set(found) == by_brute_force(subwoofers, groups)


@pytest.mark.parametrize("coarse", [((0, 1, 2, 3),), ((0, 2), (1, 3)), ((0,), (1, 2, 3)), ((0,), (1,), (2,), (3,))])
def test_splits_are_all_refinements_with_one_group_more(coarse: Grouping) -> None:
    found = list(splits(coarse))
    expected = {one for one in groupings(4, len(coarse) + 1) if refines(one, coarse)}
    assert len(found) == len(set(found))
    assert set(found) == expected


def test_representatives_of_left_and_right() -> None:
    """Front left and right, rear left and right. Of the seven pairs of groups two pairs are images of each other."""
    kept = representatives(groupings(4, 2), [(1, 0, 3, 2)])
    images = {one: moved(one, (1, 0, 3, 2)) for one in groupings(4, 2)}
    assert len(kept) == 5
    assert all(one in kept or images[one] in kept for one in images)
    assert not any(images[one] in kept for one in kept if images[one] != one)


@pytest.mark.parametrize("groups", [1, 2, 3, 4])
def test_alike_in_every_way_only_the_sizes_differ(groups: int) -> None:
    """With all subwoofers exchangeable, what is left are the partitions of the number 4: 1, 2, 1, 1."""
    kept = representatives(groupings(4, groups), list(permutations(range(4))))
    assert len(kept) == (1, 2, 1, 1)[groups - 1]
