"""Briefs around a brief: which loudspeaker channels come and go."""

import pytest

from planner.brief.records import Brief
from planner.explain.variants import down_to, up_to, with_channels
from planner.layouts import layout
from tests.demand.shop import brief, speakers, subs


def with_layout(name: str) -> Brief:
    labels = [channel.label for channel in layout(name).channels if not channel.is_lfe]
    low = [label for label in labels if label[0] == "M"]
    high = [label for label in labels if label[0] != "M"]
    sets = [speakers("Low", "L", " ".join(low), *[3.0] * len(low))]
    sets += [speakers("High", "H", " ".join(high), *[3.0] * len(high))] if high else []
    return brief(*sets)


def labels(found: Brief) -> set[str]:
    return {placement.channel for group in found.loudspeakers for placement in group.placements}


# Layouts one after another as the trade builds them up; the sizes are those of ITU-R BS.2051-3 and of IAMF.
@pytest.mark.parametrize(
    ("start", "change", "reached"),
    [("7.1.4", -2, "7.1.2"), ("7.1.4", -4, "7.1"), ("7.1.4", 2, "9.1.4"), ("7.1.4", 4, "9.1.6"),
     ("5.1.2", 2, "5.1.4"), ("5.1.2", -2, "5.1"), ("5.1.2", 4, "7.1.4"), ("7.1", -2, "5.1"), ("5.1", 2, "5.1.2"),
     ("2.0", 3, "5.1"), ("9.1.6", -2, "9.1.4"), ("9.1.6", -4, "7.1.4")],
)  # fmt: skip
def test_an_even_step_leads_to_the_next_layout(start: str, change: int, reached: str) -> None:
    variant = with_channels(with_layout(start), change)
    assert variant is not None
    assert variant.layout == reached
    assert labels(variant.brief) == {c.label for c in layout(reached).channels if not c.is_lfe}


@pytest.mark.parametrize("start", ["2.0", "5.1", "5.1.2", "7.1.4", "9.1.6", "22.2"])
@pytest.mark.parametrize("change", range(-4, 5))
def test_a_step_changes_the_count_by_just_so_many(start: str, change: int) -> None:
    found = with_layout(start)
    variant = with_channels(found, change)
    wanted = len(labels(found)) + change
    if variant is None:
        assert wanted < 1 or (start == "22.2" and change > 0)
    else:
        assert len(labels(variant.brief)) == wanted
        assert sum(len(group.placements) for group in variant.brief.loudspeakers) == wanted


def test_an_added_loudspeaker_is_of_the_set_of_its_layer() -> None:
    variant = with_channels(with_layout("7.1.4"), 4)
    assert variant is not None
    assert [len(group.placements) for group in variant.brief.loudspeakers] == [9, 6]
    assert variant.words == "9.1.6, with wide left, wide right, top middle left and top middle right"


def test_subwoofers_beyond_the_positions_stand_where_the_last_one_stands() -> None:
    found = brief(subs("S", 3.0, 5.0))
    grown = up_to(found, 2).subwoofers[0]
    assert (grown.least, grown.most) == (2, 4)
    assert grown.positions[2:] == (grown.positions[1],) * 2
    shrunk = down_to(found, 3).subwoofers[0]
    assert (shrunk.least, shrunk.most) == (0, 2)
