"""The remembered search of any control groups: against the study's ways, mirror images, and more than four groups."""

from functools import cache

import pytest

from planner.bass.band import Band
from planner.bass.best_of_groups import best_of_groups, ways_of
from planner.bass.best_settings import Best
from planner.bass.controls import ControlGroup, ControlRange
from planner.bass.scene import Scene, field_of
from planner.bass.shoebox import Shoebox
from planner.bass.subwoofers import PlacedSubwoofer
from planner.bass.task import task
from planner.bass.trials import trial
from planner.brief.records import Point, Seat

PLACES = ((0.3, 0.4), (0.3, 3.7), (5.9, 0.4), (5.9, 3.7), (3.1, 0.2), (2.2, 3.9))
SEATS = ((3.4, 1.1), (3.4, 3.0), (4.6, 2.05))


def scene(subwoofers: int) -> Scene:
    return Scene(
        room=Shoebox(size_m=(6.2, 4.1, 2.55), speed_m_per_s=343.2, reverberation_time_s=0.4),
        band=Band(low_hz=25.0, high_hz=65.0),
        subwoofers=tuple(
            PlacedSubwoofer(
                set_name="S", set_index=0, position_index=n, position=Point(x, y, 0.2), used=True, model="m",
                low_corner_hz=22.0, max_spl_db=112.0,
            )
            for n, (x, y) in enumerate(PLACES[:subwoofers])
        ),
        seats=tuple(Seat(name=str(n), position=Point(x, y, 1.1)) for n, (x, y) in enumerate(SEATS)),
    )  # fmt: skip


@cache
def found(subwoofers: int, *groups: tuple[int, ...]) -> Best:
    return best_of_groups(scene(subwoofers), tuple(ControlGroup(members=members) for members in groups))


@pytest.mark.parametrize("groups", [((0, 1), (2, 3)), ((0,), (1,), (2, 3))])
def test_a_grouping_that_the_study_kept_comes_out_as_there(groups: tuple[tuple[int, ...], ...]) -> None:
    way = next(way for way in ways_of(scene(4)) if len(way.best.groups) == len(groups))
    assert found(4, *way.best.grouping).variance_db2 == pytest.approx(way.best.variance_db2, rel=0.02)
    assert found(4, *groups).variance_db2 >= way.best.variance_db2 * 0.98


def test_five_groups_of_six_are_about_as_good_as_the_study_s() -> None:
    """Quicker than the study; what it misses is less than a fifth of the spread, and the figure is no guess."""
    here, kept = scene(6), next(way for way in ways_of(scene(6)) if len(way.best.groups) == 5).best
    best = found(6, *kept.grouping)
    assert best.variance_db2**0.5 <= 1.2 * kept.variance_db2**0.5
    again = task(field_of(here)[0], best.groups).appraise(trial(best.settings))
    assert again.variance_db2[0] == pytest.approx(best.variance_db2)
    assert again.loss_db[0] <= 3.0 + 1e-6


def test_each_of_more_than_four_on_its_own_is_the_study_s_last_way() -> None:
    assert found(6, *((n,) for n in range(6))) == ways_of(scene(6))[-1].best


def test_mirror_images_come_out_alike_with_the_settings_in_their_places() -> None:
    """Seats and the first four subwoofers mirror left to right: 0 with 1, 2 with 3."""
    one, other = found(4, (0,), (1, 2, 3)), found(4, (0, 2, 3), (1,))
    assert one.variance_db2 == pytest.approx(other.variance_db2)
    assert one.by_subwoofer[0] == other.by_subwoofer[1]


def test_the_order_of_the_groups_is_of_no_consequence() -> None:
    assert found(4, (2, 3), (0,), (1,)) == found(4, (0,), (1,), (2, 3))


def test_a_narrower_range_takes_what_the_usual_one_found_where_it_holds_it() -> None:
    here, groups = scene(4), ((0, 1), (2, 3))
    usual = found(4, *groups)
    most_ms = max(setting.delay_ms for setting in usual.settings)
    just = ControlRange(most_delay_ms=most_ms)
    assert best_of_groups(here, tuple(ControlGroup(members=m, range=just) for m in groups)).settings == usual.settings
    less = ControlRange(most_delay_ms=most_ms / 2)
    narrow = best_of_groups(here, tuple(ControlGroup(members=m, range=less) for m in groups))
    assert all(setting.delay_ms <= most_ms / 2 + 1e-9 for setting in narrow.settings)


def test_more_than_eight_groups_are_searched_without_ranking_their_joinings() -> None:
    many = scene(4)
    nine = tuple(
        PlacedSubwoofer(
            set_name="S", set_index=0, position_index=n, position=Point(0.3 + 0.6 * n, 0.3, 0.2), used=True,
            model=None, low_corner_hz=None, max_spl_db=None,
        )
        for n in range(9)
    )  # fmt: skip
    here = Scene(room=many.room, band=Band(low_hz=30.0, high_hz=40.0), subwoofers=nine, seats=many.seats)
    alike = best_of_groups(here, (ControlGroup(members=tuple(range(9))),))
    apart = best_of_groups(here, tuple(ControlGroup(members=(n,)) for n in range(9)))
    assert apart.variance_db2 <= alike.variance_db2
