"""A brief to start from is a sound one, for every layout and number of subwoofers."""

from datetime import date

import pytest

from planner.brief import parse_brief, write_brief
from planner.brief.records import Room
from planner.brief.start import MOST_SUBWOOFERS, starting_brief
from planner.layouts import LAYOUTS, Layout, layout

ROOM = Room(length_m=6.2, width_m=4.1, height_m=2.55)
DAY = date(2026, 11, 25)


@pytest.mark.parametrize("chosen", LAYOUTS, ids=lambda chosen: str(chosen.name))
def test_the_reader_finds_no_fault_and_every_channel_has_a_loudspeaker(chosen: Layout) -> None:
    brief = starting_brief(chosen, ROOM, 4, currency="EUR", dated=DAY)
    assert parse_brief(write_brief(brief)) == brief
    placed = [placement.channel for group in brief.loudspeakers for placement in group.placements]
    assert sorted(placed) == sorted(label for label in chosen.labels if not label.startswith("LFE"))


@pytest.mark.parametrize("count", range(MOST_SUBWOOFERS + 1))
def test_every_subwoofer_has_a_place_of_its_own_in_the_room(count: int) -> None:
    brief = starting_brief(layout("5.1"), ROOM, count, currency="EUR", dated=DAY)
    places = [point for group in brief.subwoofers for point in group.positions]
    assert len(set(places)) == len(places) == count
    for point in places:
        assert 0 < point.x_m < ROOM.length_m
        assert 0 < point.y_m < ROOM.width_m
        assert 0 < point.z_m < ROOM.height_m


def test_the_ear_is_where_itu_r_bs775_has_it() -> None:
    """ITU-R BS.775-3 (08/2012), Figure 1: 1.2 m above the floor."""
    assert {seat.position.z_m for seat in starting_brief(layout("5.1"), ROOM, 2, currency="EUR", dated=DAY).seats} == {
        1.2
    }


@pytest.mark.parametrize(("width_m", "names"), [(4.1, ["Left", "Middle", "Right"]), (2.0, ["Middle"])])
def test_the_seats_stand_clear_of_the_walls_and_the_middle_one_is_primary(width_m: float, names: list[str]) -> None:
    room = Room(length_m=6.2, width_m=width_m, height_m=2.55)
    seats = starting_brief(layout("5.1"), room, 2, currency="EUR", dated=DAY).seats
    assert [seat.name for seat in seats] == names
    assert [seat.name for seat in seats if seat.primary] == ["Middle"]
    assert all(0.4 <= seat.position.y_m <= width_m - 0.4 for seat in seats)
