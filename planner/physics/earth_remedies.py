"""What breaks an earth loop, or makes it harmless. Never the lifting of a protective earth."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from planner.physics.earth import EarthLoop
from planner.physics.earth_graph import SAFETY_EARTH, EarthEdge, Join


class Means(StrEnum):
    """What may be done about a loop.

    ISOLATOR       a line isolating transformer at the receiving end of a lead breaks it
    BALANCED_LINK  a balanced link with the right lead in place of an unbalanced one keeps the
                   loop, and takes its current out of the signal
    CLASS_II       a device of class II, which has no mains earth, in place of an earthed one
                   breaks it
    """

    ISOLATOR = "isolator"
    BALANCED_LINK = "balanced_link"
    CLASS_II = "class_ii"


@dataclass(frozen=True, kw_only=True, slots=True)
class Remedy:
    """One means against a loop. It is enough at any one of `any_of`: leads by their jacks, or devices."""

    by: Means
    any_of: tuple[str, ...]


def remedies(loop: EarthLoop) -> tuple[Remedy, ...]:
    """Every means against one loop. One is enough; where no signal returns by a shield, none is needed."""
    return tuple(_remedies(loop))


def _remedies(loop: EarthLoop) -> Iterator[Remedy]:
    shields = loop.unbalanced or tuple(edge for edge in loop.edges if edge.join is not Join.PROTECTIVE_EARTH)
    if shields:
        yield Remedy(by=Means.ISOLATOR, any_of=tuple(edge.lead for edge in shields))
    if loop.unbalanced:
        yield Remedy(by=Means.BALANCED_LINK, any_of=tuple(edge.lead for edge in loop.unbalanced))
    earthed = [_chassis(edge) for edge in loop.edges if edge.join is Join.PROTECTIVE_EARTH]
    if earthed:
        yield Remedy(by=Means.CLASS_II, any_of=tuple(earthed))


def _chassis(edge: EarthEdge) -> str:
    return edge.other if edge.one == SAFETY_EARTH else edge.one
