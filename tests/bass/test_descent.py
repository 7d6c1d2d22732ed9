"""The slope against finite differences; downhill never uphill, and never out of range."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.bass.controls import USUAL_RANGE, ControlGroup, ControlRange
from planner.bass.descent import descend, slope
from planner.bass.starts import spread_out
from planner.bass.task import Task, task
from planner.bass.trials import Trials
from tests.bass.rooms import BAND_HZ, CORNERS_M, ROOM, SEATS_M, field, field_of, grouped, random_field


def cost(of: Task, trials: Trials) -> float:
    return float(of.appraise(trials).cost(of.most_loss_db)[0])


@pytest.mark.parametrize("most_loss_db", [20.0, -3.0], ids=["without the penalty", "with it"])
@pytest.mark.parametrize("seed", range(4))
def test_the_slope_is_that_of_the_cost(seed: int, most_loss_db: float) -> None:
    """By central differences. A most loss of -3 dB asks for more level than there is, so that the penalty counts."""
    at = grouped(random_field(seed, 4, 5), ((0,), (1, 2), (3,)), USUAL_RANGE, most_loss_db)
    trials = spread_out(at, 6).rows([seed])
    found = 2 * slope(at, trials).gradient[0]
    controls = np.concatenate([trials.gain_db, trials.delay_ms], axis=1)
    for n in range(6):
        move = np.eye(6)[n] * 1e-5
        after, before = (
            Trials(gain_db=moved[:, :3], delay_ms=moved[:, 3:], sign=trials.sign)
            for moved in (controls + move, controls - move)
        )
        assert (cost(at, after) - cost(at, before)) / 2e-5 == pytest.approx(found[n], rel=1e-4, abs=1e-4)


@given(st.integers(0, 200))
@settings(max_examples=6)
def test_downhill_is_never_uphill_nor_out_of_range(seed: int) -> None:
    control = ControlRange(least_gain_db=-6.0, most_delay_ms=10.0)
    at = grouped(random_field(seed, 3, 4), ((0,), (1,), (2,)), control)
    trials = spread_out(at, 5)
    found = descend(at, trials)
    before, after = (at.appraise(one).cost(at.most_loss_db) for one in (trials, found))
    assert np.all(after <= before)
    assert np.all((found.gain_db >= -6) & (found.gain_db <= 0))
    assert np.all((found.delay_ms >= 0) & (found.delay_ms <= 10))
    assert np.array_equal(found.sign, trials.sign)


def test_it_ends_where_no_control_can_move_further_downhill() -> None:
    at = grouped(field(ROOM, CORNERS_M, SEATS_M), ((0, 1), (2, 3)), ControlRange(most_delay_ms=40.0))
    found = descend(at, spread_out(at, 4), steps=200, arrived=0.0)
    gradient = slope(at, found).gradient
    controls = np.concatenate([found.gain_db, found.delay_ms], axis=1)
    low, high = np.array([-12.0, -12.0, 0.0, 0.0]), np.array([0.0, 0.0, 40.0, 40.0])
    held = ((controls <= low) & (gradient > 0)) | ((controls >= high) & (gradient < 0))
    assert np.abs(np.where(held, 0, gradient)).max() < 0.02


def test_controls_that_a_device_lacks_stay_where_they_are() -> None:
    fixed = ControlRange(least_gain_db=0.0, most_delay_ms=0.0, polarity=False)
    groups = [ControlGroup(members=(0, 1)), ControlGroup(members=(2, 3), range=fixed)]
    at = task(field(ROOM, CORNERS_M, SEATS_M), groups)
    found = descend(at, spread_out(at, 4))
    assert np.all(found.gain_db[:, 1] == 0)
    assert np.all(found.delay_ms[:, 1] == 0)
    assert np.all(found.sign[:, 1] == 1)


def test_groups_that_cancel_to_nothing_are_survived() -> None:
    """Twins, one inverted: no pressure at all, which has no level and no slope."""
    pressure = np.ones((len(BAND_HZ), 2, 3), dtype=np.complex128) * np.array([1.0, 2.0, 1.5])
    at = grouped(field_of(pressure), ((0,), (1,)), USUAL_RANGE)
    cancelling = Trials(gain_db=np.zeros((1, 2)), delay_ms=np.zeros((1, 2)), sign=np.array([[1.0, -1.0]]))
    found = descend(at, cancelling)
    assert np.all(np.isfinite(found.gain_db))
    assert np.all(np.isfinite(found.delay_ms))
