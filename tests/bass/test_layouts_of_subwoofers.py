"""Well-known layouts of subwoofers: a worked benchmark to the last figure, and the published ranking by groups."""

from functools import cache

import numpy as np
import pytest

from planner.bass.arrays import Complexes, Reals
from planner.bass.modal_sum import modal_sum
from planner.bass.room_modes import modes_up_to
from planner.bass.room_response import room_response
from planner.bass.shoebox import Shoebox
from planner.bass.spread import Spread, equal_weights, spread
from tests.bass.rooms import BAND_HZ, level_db
from tests.published.check_values import oracle

FOOT_M = 0.3048
L, W, H = oracle("subs.bench_room_m").value
ROOM = Shoebox(size_m=(L, W, H), speed_m_per_s=343.2, reverberation_time_s=0.5)
PLACES = (np.arange(4) - 1.5) * 2 * FOOT_M
SEATS_M = np.array([(L / 2 + x, W / 2 + y, 1.1) for x in PLACES for y in PLACES])

LAYOUTS = {
    "front_corner_x1": [(0, 0)],
    "front_mid_x1": [(0, W / 2)],
    "room_centre_x1": [(L / 2, W / 2)],
    "front_corners_x2": [(0, 0), (0, W)],
    "opposite_corners_x2": [(0, 0), (L, W)],
    "front_back_mid_x2": [(0, W / 2), (L, W / 2)],
    "side_mid_x2": [(L / 2, 0), (L / 2, W)],
    "front_quarter_x2": [(0, W / 4), (0, 3 * W / 4)],
    "four_corners_x4": [(0, 0), (0, W), (L, 0), (L, W)],
    "four_wall_mid_x4": [(0, W / 2), (L, W / 2), (L / 2, 0), (L / 2, W)],
    "floor_quarter_points_x4": [(x, y) for x in (L / 4, 3 * L / 4) for y in (W / 4, 3 * W / 4)],
    "front_back_quarter_x4": [(x, y) for x in (0, L) for y in (W / 4, 3 * W / 4)],
}


def sources_m(name: str) -> Reals:
    return np.array([(x, y, 0.0) for x, y in LAYOUTS[name]])


def of_recipe(name: str) -> Complexes:
    """All modes up to 400 Hz, the uniform one among them, and no others: the recipe of the benchmark."""
    field = modal_sum(ROOM, modes_up_to(ROOM, 400.0), BAND_HZ, SEATS_M, sources_m(name))
    total: Complexes = field.sum(axis=2)
    return total


@cache
def converged(name: str) -> Spread:
    """What the planner predicts, with as many modes as it takes."""
    pressure = room_response(ROOM, BAND_HZ, SEATS_M, sources_m(name)).pressure.sum(axis=2)
    return spread(level_db(pressure), equal_weights(len(SEATS_M)))


@pytest.mark.parametrize("name", LAYOUTS)
def test_the_benchmark_by_its_own_recipe(name: str) -> None:
    pressure = of_recipe(name)
    found = spread(level_db(pressure), equal_weights(len(SEATS_M)))
    low = np.abs(pressure[BAND_HZ <= 40]) ** 2
    support_db = 10 * np.log10(low.mean()) - 20 * np.log10(len(LAYOUTS[name]))
    figures = {
        "msv": found.mean_spatial_variance_db2,
        "msv_n1": found.sample_variance_db2,
        "mean_std": found.mean_deviation_db,
        "mean_max_min": found.max_minus_min_db,
        "mol": found.mean_level_db,
        "lf_20_40_minus_20logn": support_db,
    }
    for figure, value in figures.items():
        expected = oracle(f"subs.{name}_{figure}")
        assert value == pytest.approx(expected.value, abs=expected.tol_abs), str(expected)


def test_the_published_ranking_by_groups() -> None:
    """T. Welti, Subwoofers: Optimum Number and Locations (as quoted by others), and the groups of the benchmark.

    Four at wall midpoints, four in corners and two at opposite wall midpoints all do well and are close together;
    single ones and pairs at one wall do badly. Within a group the order hangs on details of the model. The
    benchmark, with modes up to 400 Hz, has gaps from 4 to 5 and from 6 to 9; with all modes the centre of the room
    comes to just below 9.
    """
    variance = {name: converged(name).mean_spatial_variance_db2 for name in LAYOUTS}
    good = {
        "front_back_quarter_x4",
        "four_wall_mid_x4",
        "four_corners_x4",
        "front_back_mid_x2",
        "floor_quarter_points_x4",
    }
    middling = {"opposite_corners_x2", "side_mid_x2"}
    bad = LAYOUTS.keys() - good - middling
    assert max(variance[name] for name in good) < 4 < min(variance[name] for name in middling)
    assert max(variance[name] for name in middling) < 7
    assert min(variance[name] for name in bad) > 8.5


@pytest.mark.parametrize("better", ["four_wall_mid_x4", "four_corners_x4", "front_back_mid_x2"])
@pytest.mark.parametrize("worse", ["front_corner_x1", "front_mid_x1", "front_corners_x2", "front_quarter_x2"])
def test_recommended_layouts_win_in_all_three_measures(better: str, worse: str) -> None:
    """The same source ranks by Std, Max-ave and Max-min; the second is close to the third."""
    one, other = converged(better), converged(worse)
    assert one.mean_deviation_db < other.mean_deviation_db
    assert one.max_minus_min_db < other.max_minus_min_db
    assert one.mean_spatial_variance_db2 < other.mean_spatial_variance_db2


def test_four_at_the_wall_midpoints_have_poor_low_frequency_support() -> None:
    """The same source: poor support for four midpoints, much better for two opposite ones and for corners."""

    def support_db(name: str) -> float:
        pressure = room_response(ROOM, BAND_HZ[BAND_HZ <= 40], SEATS_M, sources_m(name)).pressure.sum(axis=2)
        return float(10 * np.log10((np.abs(pressure) ** 2).mean()) - 20 * np.log10(len(LAYOUTS[name])))

    assert support_db("four_wall_mid_x4") < support_db("front_back_mid_x2") - 2
    assert support_db("four_wall_mid_x4") < support_db("four_corners_x4") - 2
