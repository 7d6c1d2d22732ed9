"""How long a lead must be: along the axes, with allowance and slack, up to the centimetre."""

from decimal import ROUND_CEILING, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.brief.records import Point, Rack
from planner.demand.routes import route_m

ORIGIN = Point(0.0, 0.0, 0.0)
COORDINATE = st.integers(-2000, 2000).map(lambda cm: Decimal(cm) / 100)


def rack(allowance_percent: float = 0.0, slack_m: float = 0.0) -> Rack:
    return Rack(position=ORIGIN, route_allowance_percent=allowance_percent, slack_m=slack_m)


@pytest.mark.parametrize(
    ("end", "allowance_percent", "slack_m", "expected_m"),
    [
        (Point(3.0, 1.5, 0.5), 0.0, 0.0, 5.0),  # 3 + 1.5 + 0.5
        (Point(-3.0, 1.5, -0.5), 0.0, 0.0, 5.0),  # the way is as long whichever side it goes
        (Point(3.0, 1.5, 0.5), 10.0, 0.5, 6.0),  # 5 × 1.1 + 0.5
        (Point(0.1, 0.2, 0.0), 0.0, 0.0, 0.3),  # 0.1 + 0.2 is more than 0.3 in binary: dust buys no centimetre
        (Point(3.333, 0.0, 0.0), 0.0, 0.0, 3.34),  # upwards
        (Point(3.3301, 0.0, 0.0), 0.0, 0.0, 3.34),  # a tenth of a millimetre is no dust
        (Point(0.0, 0.0, 0.0), 10.0, 0.5, 0.5),  # slack alone
        (Point(1.0, 0.0, 0.0), 12.5, 0.0, 1.13),  # 1.125
    ],
)
def test_worked_lengths(end: Point, allowance_percent: float, slack_m: float, expected_m: float) -> None:
    assert route_m(rack(allowance_percent, slack_m), ORIGIN, end) == expected_m


@given(
    start=st.tuples(COORDINATE, COORDINATE, COORDINATE),
    end=st.tuples(COORDINATE, COORDINATE, COORDINATE),
    allowance=st.decimals(0, 50, places=1),
    slack=st.decimals(0, 3, places=2),
)
def test_a_length_is_that_of_exact_decimals(
    start: tuple[Decimal, Decimal, Decimal], end: tuple[Decimal, Decimal, Decimal], allowance: Decimal, slack: Decimal
) -> None:
    way = sum((abs(a - b) for a, b in zip(start, end, strict=True)), Decimal(0))
    exact = (way * (1 + allowance / 100) + slack).quantize(Decimal("0.01"), rounding=ROUND_CEILING)
    points = (Point(*map(float, start)), Point(*map(float, end)))
    there = route_m(rack(float(allowance), float(slack)), *points)
    assert there == float(exact)
    assert there == route_m(rack(float(allowance), float(slack)), *reversed(points))
