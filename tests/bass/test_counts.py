"""Fewer subwoofers, and where they would best stand, against trying every choice."""

import math
from itertools import combinations

import numpy as np
import pytest

from planner.bass.controls import USUAL_RANGE
from planner.bass.counts import Positions, counts
from planner.bass.ways import Search, ways_of_control
from tests.bass.rooms import random_field

PLACES, USED = 5, 3
SEARCH = Search(field=random_field(4, PLACES, 4), subwoofers=USED, control=USUAL_RANGE, most_loss_db=3.0)
WAYS = ways_of_control(SEARCH)
FOUND = counts(SEARCH, Positions(set_of=(0,) * PLACES, most=(USED,)), WAYS)


def one_signal_db2(members: tuple[int, ...]) -> float:
    level_db = 20 * np.log10(np.abs(SEARCH.field.pressure[:, list(members)].sum(axis=1)))
    return float(np.var(level_db, axis=1).mean())


def test_one_entry_for_each_count() -> None:
    assert [one.subwoofers for one in FOUND] == [1, 2, 3]
    assert [one.choices for one in FOUND] == [math.comb(PLACES, n) for n in (1, 2, 3)]


@pytest.mark.parametrize("count", [1, 2, 3])
def test_on_one_signal_no_choice_of_positions_is_better(count: int) -> None:
    found = FOUND[count - 1]
    least = min(one_signal_db2(members) for members in combinations(range(PLACES), count))
    assert found.best_one_signal is not None
    assert found.best_one_signal.variance_db2 == pytest.approx(least)
    assert found.in_order_one_signal.variance_db2 == pytest.approx(one_signal_db2(tuple(range(count))))


@pytest.mark.parametrize("count", [1, 2, 3])
def test_outputs_of_their_own_and_better_places_are_never_worse(count: int) -> None:
    found = FOUND[count - 1]
    assert found.best_one_signal is not None
    assert found.best_own is not None
    assert found.in_order_own.variance_db2 <= found.in_order_one_signal.variance_db2 + 1e-9
    assert found.best_own.variance_db2 <= found.in_order_own.variance_db2 + 1e-9
    assert found.best_own.variance_db2 <= found.best_one_signal.variance_db2 + 1e-9


def test_all_in_order_is_the_last_way_of_control() -> None:
    assert FOUND[-1].in_order_own == WAYS[-1].best


def test_no_set_gets_more_than_it_has() -> None:
    positions = Positions(set_of=(0, 0, 0, 1, 1), most=(1, 2))
    choices = list(positions.choices(3))
    assert choices == [(0, 3, 4), (1, 3, 4), (2, 3, 4)]


def test_mirror_images_are_tried_once() -> None:
    positions = Positions(set_of=(0,) * 4, most=(4,), symmetries=[(0, 1, 2, 3), (1, 0, 3, 2)])
    assert positions.unlike(list(positions.choices(2))) == [(0, 1), (0, 2), (0, 3), (2, 3)]


def test_too_many_choices_are_not_compared() -> None:
    few = Search(field=random_field(6, 3, 3), subwoofers=2, control=USUAL_RANGE, most_loss_db=3.0)
    many = Positions(set_of=(0,) * 400, most=(400,))
    found = counts(few, many, ways_of_control(few))[0]
    assert (found.choices, found.best_one_signal, found.best_own) == (400, None, None)
