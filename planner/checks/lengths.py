"""How long a lead must be, in whole centimetres, so that lengths compare exactly."""

from fractions import Fraction
from functools import lru_cache
from math import ceil

from planner.brief.records import Point, Rack

# Coordinates that come from angles carry the last digit's error of binary floating point.
# A ten-thousandth of a centimetre is far below what a tape measures, and is not rounded up.
_LEAST_STEP_CM = Fraction(1, 10_000)


@lru_cache(maxsize=4096)
def exact(value: float) -> Fraction:
    """A length as it was written, "2.1" and not the nearest binary fraction."""
    return Fraction(str(value))


def wanted_cm(rack: Rack, source: Point | None, sink: Point | None) -> int:
    """The least length of a lead between two places, centimetres; None stands for the rack.

    Rack to rack it is `internal_m`. Otherwise the route |dx| + |dy| + |dz|, with the rack's
    allowance in percent and its slack in metres, rounded up.
    """
    if source is None and sink is None:
        return _rounded_up_cm(exact(rack.internal_m))
    start, end = source or rack.position, sink or rack.position
    route_m = sum(
        abs(exact(there) - exact(here))
        for here, there in ((start.x_m, end.x_m), (start.y_m, end.y_m), (start.z_m, end.z_m))
    )
    allowance = 1 + exact(rack.route_allowance_percent) / 100
    return _rounded_up_cm(route_m * allowance + exact(rack.slack_m))


def suffices(length_m: Fraction, least_cm: int) -> bool:
    """Whether a length sold covers the length wanted."""
    return length_m * 100 >= least_cm


def _rounded_up_cm(length_m: Fraction) -> int:
    return ceil(length_m * 100 - _LEAST_STEP_CM)
