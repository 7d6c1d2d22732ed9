"""How long a lead must be, from where its ends are."""

import math

from planner.brief.records import Point, Rack


def route_m(rack: Rack, start: Point, end: Point) -> float:
    """Length wanted between two positions: along the axes, with allowance and slack.

    Rounded up to the centimetre; the inner rounding drops binary dust below a micrometre,
    so that a route of exactly 5 m asks for 5 m.
    """
    along_axes = abs(start.x_m - end.x_m) + abs(start.y_m - end.y_m) + abs(start.z_m - end.z_m)
    length = along_axes * (1 + rack.route_allowance_percent / 100) + rack.slack_m
    return math.ceil(round(length * 100, 4)) / 100
