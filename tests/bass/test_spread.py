"""The measures of spread against a worked example, and what they must and must not see."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays

from planner.bass.arrays import Reals
from planner.bass.spread import by_band, by_frequency, by_seat, equal_weights, spread
from tests.published.check_values import oracle

LEVELS = arrays.arrays(np.float64, st.tuples(st.integers(1, 6), st.integers(2, 6)), elements=st.floats(40, 120))
TOY_DB = np.array(oracle("subs.toy_levels_db").value).T


def test_the_worked_example() -> None:
    found = spread(TOY_DB, equal_weights(4))
    assert found.mean_spatial_variance_db2 == pytest.approx(oracle("subs.toy_msv").value)
    assert found.sample_variance_db2 == pytest.approx(oracle("subs.toy_msv_n1").value)
    assert found.mean_deviation_db == pytest.approx(oracle("subs.toy_mean_std").value, abs=1e-8)
    assert found.max_minus_min_db == pytest.approx(oracle("subs.toy_max_min").value)
    assert found.mean_level_db == pytest.approx(oracle("subs.toy_mol").value)


def test_the_spread_is_the_root_of_the_variance_and_not_the_mean_deviation() -> None:
    found = spread(TOY_DB, equal_weights(4))
    assert found.spread_db == pytest.approx(5.25**0.5)
    assert found.spread_db != pytest.approx(found.mean_deviation_db, abs=0.001)


@given(LEVELS, st.data())
@settings(max_examples=40)
def test_what_equalisation_can_do_does_not_change_the_spread(levels_db: Reals, data: st.DataObject) -> None:
    frequencies, seats = levels_db.shape
    shift = data.draw(arrays.arrays(np.float64, frequencies, elements=st.floats(-20, 20)))
    plain, shifted = (spread(one, equal_weights(seats)) for one in (levels_db, levels_db + shift[:, None]))
    assert shifted.mean_spatial_variance_db2 == pytest.approx(plain.mean_spatial_variance_db2, abs=1e-8)
    assert shifted.max_minus_min_db == pytest.approx(plain.max_minus_min_db, abs=1e-8)
    assert shifted.mean_level_db == pytest.approx(plain.mean_level_db + shift.mean())


@given(LEVELS)
@settings(max_examples=40)
def test_equal_weights_are_numpy_s_plain_statistics(levels_db: Reals) -> None:
    found = spread(levels_db, equal_weights(levels_db.shape[1]))
    assert found.mean_spatial_variance_db2 == pytest.approx(np.var(levels_db, axis=1).mean(), abs=1e-8)
    assert found.sample_variance_db2 == pytest.approx(np.var(levels_db, axis=1, ddof=1).mean(), abs=1e-8)
    assert found.mean_deviation_db == pytest.approx(np.std(levels_db, axis=1).mean(), abs=1e-5)


@given(LEVELS)
@settings(max_examples=40)
def test_a_seat_that_counts_twice_is_two_seats_in_one_place(levels_db: Reals) -> None:
    weight = np.ones(levels_db.shape[1])
    weight[0] = 2
    weighted = spread(levels_db, weight / weight.sum())
    doubled = spread(np.concatenate([levels_db[:, :1], levels_db], axis=1), equal_weights(levels_db.shape[1] + 1))
    assert weighted.mean_spatial_variance_db2 == pytest.approx(doubled.mean_spatial_variance_db2, abs=1e-8)
    assert weighted.mean_level_db == pytest.approx(doubled.mean_level_db)
    assert weighted.max_minus_min_db == doubled.max_minus_min_db


def test_a_single_seat_has_no_spread_and_no_sample_variance() -> None:
    found = spread(np.array([[80.0], [70.0]]), equal_weights(1))
    assert (found.spread_db, found.max_minus_min_db, found.sample_variance_db2) == (0.0, 0.0, None)


def test_by_frequency_the_worked_example() -> None:
    """At the first frequency 80, 83, 86, 83: variance 4.5; at the second 70, 76, 70, 72: variance 6."""
    one, other = by_frequency(TOY_DB, equal_weights(4), np.array([30.0, 40.0]))
    assert (one.frequency_hz, one.mean_level_db, one.max_minus_min_db) == (30.0, 83.0, 6.0)
    assert (one.deviation_db, other.deviation_db) == pytest.approx((4.5**0.5, 6.0**0.5))


def test_by_seat_the_worked_example() -> None:
    """Seat 1: 80 and 70 against means of 83 and 72, so 2.5 softer, and off by root of (9 + 4) / 2."""
    seats = by_seat(TOY_DB, equal_weights(4), ("1", "2", "3", "4"))
    assert seats[0].level_db == (80.0, 70.0)
    assert (seats[0].mean_level_db, seats[0].mean_difference_db, seats[0].max_minus_min_db) == (75.0, -2.5, 10.0)
    assert seats[0].deviation_db == pytest.approx(6.5**0.5)
    assert sum(seat.mean_difference_db for seat in seats) == pytest.approx(0.0, abs=1e-12)


@given(LEVELS)
@settings(max_examples=20)
def test_the_seats_deviations_and_the_frequencies_make_up_the_same_whole(levels_db: Reals) -> None:
    frequencies, seats = levels_db.shape
    weight = equal_weights(seats)
    whole = spread(levels_db, weight).mean_spatial_variance_db2
    names = tuple(map(str, range(seats)))
    assert np.mean([one.deviation_db**2 for one in by_seat(levels_db, weight, names)]) == pytest.approx(whole, abs=1e-8)
    along = by_frequency(levels_db, weight, np.arange(1.0, frequencies + 1))
    assert np.mean([one.deviation_db**2 for one in along]) == pytest.approx(whole, abs=1e-8)


def test_thirds_of_an_octave_add_up_to_the_whole_band() -> None:
    hertz = np.arange(20.0, 81.0)
    levels = np.random.default_rng(4).normal(0, 5, (len(hertz), 5))
    bands = by_band(levels, equal_weights(5), hertz)
    assert [one.nominal_hz for one in bands] == [20.0, 25.0, 31.5, 40.0, 50.0, 63.0, 80.0]
    assert sum(one.frequencies for one in bands) == len(hertz)
    together = sum(one.frequencies * one.spread.mean_spatial_variance_db2 for one in bands) / len(hertz)
    assert together == pytest.approx(spread(levels, equal_weights(5)).mean_spatial_variance_db2)


@pytest.mark.parametrize(("hertz", "nominal"), [(17.7, 16.0), (17.8, 20.0), (56.2, 50.0), (56.3, 63.0), (11.3, 12.5)])
def test_edges_of_the_bands_are_those_of_the_standard(hertz: float, nominal: float) -> None:
    """IEC 61260-1, base ten: midband 10^(n/10) Hz, edges 10^0.05 away; the third octave of 20 Hz starts at 17.8 Hz."""
    (band,) = by_band(np.zeros((1, 2)), equal_weights(2), np.array([hertz]))
    assert band.nominal_hz == nominal
