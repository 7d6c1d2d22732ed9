"""R17 and M7: the independent earth loops of a design, what each runs through, what breaks it.

M7 counts every independent loop of the graph (see `earth_graph`), E - V + C, balanced shields
included: several leads between the same two devices make loops among themselves. Not every loop
hums. Where the signal keeps its cores to itself the current in a shield does no harm in
practice, so such loops are summed up in one NOTE. A loop through an unbalanced shield puts hum
in series with the signal: a CONCERN, except where it runs through nothing but leads between the
same two devices, which lie side by side and enclose next to nothing: a NOTE.

Any basis would do; listed are first the loops of earths and balanced shields alone, then those
that unbalanced shields add to a forest of these. So as few as can be are listed as unbalanced.
Loops close through the safety earth the shortest way, so that every unbalanced lead between two
earthed devices has one of its own.

The hum is an estimate: an assumed current times the resistance of the shield, in the worst
unbalanced lead of the loop.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.formulas.earth_loops import common_impedance_hum_db, common_impedance_hum_v, independent_loops
from planner.formulas.levels import v_from_dbv
from planner.physics.earth_graph import SAFETY_EARTH, EarthEdge, Join

ASSUMED_CURRENT_A = 316e-6
"""The hum current in a shield: B. Whitlock's example (J. Audio Eng. Soc. 43 (6), 1995; from memory)."""

REFERENCE_DBV = -10.0
"""The nominal level of an unbalanced line, which hum is given against."""


@dataclass(frozen=True, kw_only=True, slots=True)
class EarthLoop:
    """One independent loop, edge by edge in order round it."""

    edges: tuple[EarthEdge, ...]

    @property
    def members(self) -> tuple[str, ...]:
        """The devices that it runs through, the safety earth left out."""
        nodes = dict.fromkeys(node for edge in self.edges for node in (edge.one, edge.other))
        return tuple(node for node in nodes if node != SAFETY_EARTH)

    @property
    def earthed(self) -> bool:
        """Whether it runs through the safety earth."""
        return any(edge.join is Join.PROTECTIVE_EARTH for edge in self.edges)

    @property
    def unbalanced(self) -> tuple[EarthEdge, ...]:
        """The shields in it that carry a signal's return."""
        return tuple(edge for edge in self.edges if edge.join is Join.UNBALANCED)

    @property
    def bundled(self) -> bool:
        """Whether it is nothing but leads between the same two devices."""
        return not self.earthed and len(self.members) <= 2

    @property
    def worst_shield_ohm(self) -> float | None:
        """The greatest resistance among its unbalanced shields; None without one, or if one is not known."""
        known = [edge.shield_ohm for edge in self.unbalanced if edge.shield_ohm is not None]
        return max(known) if known and len(known) == len(self.unbalanced) else None

    @property
    def hum_v(self) -> float | None:
        """The hum estimated in its worst unbalanced lead, V rms; None as above."""
        ohm = self.worst_shield_ohm
        return None if ohm is None else common_impedance_hum_v(ASSUMED_CURRENT_A, ohm)

    @property
    def hum_db(self) -> float | None:
        """That hum re the nominal level of an unbalanced line, -10 dBV; None also where there is none at all."""
        ohm = self.worst_shield_ohm
        return common_impedance_hum_db(ASSUMED_CURRENT_A, ohm, v_from_dbv(REFERENCE_DBV)) if ohm else None


def earth_loops(edges: Sequence[EarthEdge]) -> tuple[EarthLoop, ...]:
    """Every independent loop of a graph whose protective earths come first; M7 is how many."""
    quiet = [edge for edge in edges if edge.join is not Join.UNBALANCED]
    of_quiet = _rings(quiet)
    closing = {id(loop.edges[0]) for loop in of_quiet}
    forest = [edge for edge in quiet if id(edge) not in closing]
    return (*of_quiet, *_rings([*forest, *(edge for edge in edges if edge.join is Join.UNBALANCED)]))


def _rings(edges: Sequence[EarthEdge]) -> tuple[EarthLoop, ...]:
    """The independent loops of some of the edges, each with the edge that closes it first."""
    rings = independent_loops([(edge.one, edge.other) for edge in edges])
    return tuple(EarthLoop(edges=tuple(edges[index] for index in ring)) for ring in rings)
