"""Who listens, and from how far: the primary seats, or all seats where none is primary."""

import math

from planner.brief.records import Brief, Point, Seat

NEAREST_M = 1.0
"""Nearer than this, spherical spreading says too much: a distance below counts as this."""


def primary_seats(brief: Brief) -> tuple[Seat, ...]:
    """The seats that levels are asked for at."""
    return tuple(seat for seat in brief.seats if seat.primary) or brief.seats


def distance_m(one: Point, other: Point) -> float:
    """The straight line between two points."""
    return math.dist((one.x_m, one.y_m, one.z_m), (other.x_m, other.y_m, other.z_m))


def spreading_m(source: Point, ear: Point) -> float:
    """The distance that a level falls over, never below `NEAREST_M`."""
    return max(distance_m(source, ear), NEAREST_M)
