"""Bounds on the measures other than price, and the same as points that can be compared."""

from dataclasses import dataclass

from planner.brief.records import Brief, Measure
from planner.demand.counts import Claim

# One number a measure, in the order of BOUNDED; larger is better (or asks for more).
Point = tuple[int, ...]

BOUNDED = (
    Measure.INDEPENDENT_SUBWOOFERS,
    Measure.SPARE_OUTPUTS,
    Measure.SUBWOOFERS_LOST,
    Measure.CONVERSIONS,
    Measure.JOINTS,
    Measure.EARTH_LOOPS,
    Measure.LEAST_MARGIN,
)
_ANY = -1_000_000  # a bound that everything meets


@dataclass(frozen=True, kw_only=True, slots=True)
class Bounds:
    """What the measures must reach; None leaves one free.

    `groups` counts control groups; `output_each` asks for a processor output of its own for
    every subwoofer; `subwoofers` is the fewest of all sets together. `margin` is the least level
    margin in whole dB, asked for only where it is weighed.
    """

    independent: int = 0
    groups: int = 0
    spare: int = 0
    lost: int | None = None
    conversions: int | None = None
    joints: int | None = None
    loops: int | None = None
    margin: int | None = None
    output_each: bool = False
    subwoofers: int = 0

    def point(self) -> Point:
        """The bounds as a point; a claim meets them if its own point is nowhere less."""
        less = (self.lost, self.conversions, self.joints, self.loops)
        margin = _ANY if self.margin is None else self.margin
        return (self.independent, self.spare, *(_ANY if bound is None else -bound for bound in less), margin)

    def within(self, other: "Bounds") -> bool:
        """Whether these ask for all that the others ask for, so that what meets these meets those."""
        return meets(self._all(), other._all())

    def _all(self) -> Point:
        return (*self.point(), self.groups, int(self.output_each), self.subwoofers)


def bounds_at(point: Point, groups: int) -> Bounds:
    """The bounds that a point stands for."""
    lost, conversions, joints, loops = (None if value == _ANY else -value for value in point[2:6])
    return Bounds(
        independent=point[0],
        groups=groups,
        spare=point[1],
        lost=lost,
        conversions=conversions,
        joints=joints,
        loops=loops,
        margin=None if point[6] == _ANY else point[6],
    )


def claim_point(claim: Claim) -> Point:
    """Measures as a point, to be held against bounds."""
    joints = 0 if claim.joints is None else -claim.joints
    loops = 0 if claim.loops is None else -claim.loops
    margin = 0 if claim.margin is None else claim.margin
    return (claim.independent, claim.spare, -claim.lost, -claim.conversions, joints, loops, margin)


def meets(point: Point, bounds: Point) -> bool:
    """Whether a point is nowhere less than another: met bounds, or tighter bounds."""
    return all(one >= other for one, other in zip(point, bounds, strict=True))


def limits_of(brief: Brief) -> Bounds:
    """The bounds that the brief's own limits set."""
    limits = brief.limits
    return Bounds(
        independent=limits.least_independent_subwoofers,
        groups=limits.least_control_groups,
        spare=limits.spare_outputs,
        lost=limits.most_subwoofers_lost,
        loops=limits.most_earth_loops,
    )
