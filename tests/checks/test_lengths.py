"""Lead lengths: the route |dx| + |dy| + |dz|, allowance, slack, up to the centimetre. Worked by hand."""

from fractions import Fraction

import pytest

from planner.brief.records import Point, Rack
from planner.checks.lengths import suffices, wanted_cm

RACK = Rack(position=Point(0.0, 0.0, 0.0))


@pytest.mark.parametrize(
    ("point", "centimetres"),
    [
        # 1.23 + 2 + 1 = 4.23 m; x 1.1 = 4.653; + 0.5 = 5.153 m
        (Point(1.23, 2.0, 1.0), 516),
        # 3 m; 3.3 + 0.5 = 3.80 m exactly, though 3 x 1.1 is not in binary floating point
        (Point(1.0, 1.0, 1.0), 380),
        # 0.1 + 0.2 + 0 = 0.3 m; 0.33 + 0.5 = 0.83 m exactly
        (Point(0.1, 0.2, 0.0), 83),
        # the last digits of a position that comes from angles are not worth a centimetre: 3.800000495 m
        (Point(1.00000045, 1.0, 1.0), 380),
        # a hundredth of a millimetre is: 3.800011 m
        (Point(1.00001, 1.0, 1.0), 381),
        # negative coordinates count by size: 2 m; 2.2 + 0.5
        (Point(-1.0, -1.0, 0.0), 270),
    ],
)
def test_a_route_from_the_rack(point: Point, centimetres: int) -> None:
    assert wanted_cm(RACK, None, point) == centimetres
    assert wanted_cm(RACK, point, None) == centimetres


def test_a_route_between_two_places_does_not_pass_the_rack() -> None:
    """|0| + |2| + |0| = 2 m; 2.2 + 0.5 = 2.70 m."""
    assert wanted_cm(RACK, Point(4.0, 1.0, 0.0), Point(4.0, 3.0, 0.0)) == 270


def test_within_the_rack_leads_are_as_long_as_the_brief_says() -> None:
    assert wanted_cm(Rack(position=Point(9.0, 9.0, 9.0), internal_m=1.234), None, None) == 124


def test_the_racks_own_terms_count() -> None:
    """2 m from a rack at (1, 1, 1) with 25 % and 0.2 m: 2.5 + 0.2 = 2.70 m."""
    rack = Rack(position=Point(1.0, 1.0, 1.0), route_allowance_percent=25.0, slack_m=0.2)
    assert wanted_cm(rack, None, Point(2.0, 2.0, 1.0)) == 270


def test_a_length_that_is_just_reached_suffices() -> None:
    assert suffices(Fraction("3.8"), 380)
    assert not suffices(Fraction("3.79"), 380)
