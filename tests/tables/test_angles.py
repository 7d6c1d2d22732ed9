"""Angles of loudspeakers as rows, by hand: a square of places around a seat."""

from datetime import date

from planner.brief.records import Brief, LoudspeakerSet, Placement, Point, Project, Rack, Room, Seat
from planner.tables.angles import angle_rows, out_of_range, source_words

_EAR = Point(3.0, 2.0, 1.2)


def _brief(**positions: Point) -> Brief:
    placements = tuple(Placement(channel=label, position=at) for label, at in positions.items())
    return Brief(
        project=Project(name="x", client="", reference="", dated=date(2026, 11, 1), currency="EUR"),
        room=Room(length_m=6, width_m=4, height_m=2.5),
        seats=(Seat(name="Middle", position=_EAR, primary=True),),
        rack=Rack(position=Point(5, 1, 0)),
        layout="0+5+0",
        loudspeakers=(LoudspeakerSet(name="All", placements=placements),),
    )


def test_a_centre_straight_ahead_is_within_and_one_aside_is_told_to_which_side() -> None:
    """BS.2051-3 system B has the centre at 0° and the front pair at ±30°, fixed; surrounds at 100° to 120°."""
    brief = _brief(**{
        "M+000": Point(1.0, 2.0, 1.2),
        "M+030": Point(1.0, 0.0, 1.2),  # 45° to the left
        "M-110": Point(3.0, 4.0, 1.2),  # 90° to the right
        "M+110": Point(4.0, 0.268, 3.2),  # 120° to the left, 45° up
    })  # fmt: skip
    rows = {row[0]: row[1:] for row in angle_rows(brief)}
    assert rows["M+000"] == ("2.00", "0.0", "0", "0.0", "0", "within")
    assert rows["M+030"] == ("2.83", "45.0", "30", "0.0", "0", "15.0° too far left")
    assert rows["M-110"] == ("2.00", "-90.0", "-120 to -100", "0.0", "0 to 15", "10.0° too far left")
    assert rows["M+110"][-1] == "30.0° too high"
    assert out_of_range(brief) == ("M+030", "M-110", "M+110")
    assert source_words(brief) == "ITU-R BS.2051-3"


def test_a_layout_that_nobody_knows_has_no_ranges() -> None:
    from dataclasses import replace

    brief = replace(_brief(**{"M+000": Point(1.0, 2.0, 1.2)}), layout="nothing")
    assert (angle_rows(brief), out_of_range(brief)) == ([], ())
