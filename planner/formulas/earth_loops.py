"""Earth loops: how many, through what, and the hum that a shield's resistance makes of one.

Nodes are the safety earth and each chassis; edges are each protective earth conductor (class I
gear only) and each shield or return that joins two chassis. A loop is never broken at the
protective earth.
"""

from collections import deque
from collections.abc import Hashable, Mapping, Sequence
from typing import TypeVar

from planner.formulas.levels import voltage_ratio_db
from planner.formulas.validity import require_not_negative, require_positive

Node = TypeVar("Node", bound=Hashable)


def loop_count(edges: Sequence[tuple[Node, Node]]) -> int:
    """The number of independent loops of a graph, its cyclomatic number.

    Any edges; two that join the same nodes are a loop, and so is one from a node to itself.
    Source: G. Kirchhoff, Annalen der Physik und Chemie 72, 1847, p. 497; E - V + C.

    Two earthed devices and one shield between them:

    >>> loop_count([("earth", "A"), ("earth", "B"), ("A", "B")])
    1
    """
    grown = _forest(edges)
    components = sum(step is None for step in grown.values())
    return len(edges) - len(grown) + components


def independent_loops(edges: Sequence[tuple[Node, Node]]) -> tuple[tuple[int, ...], ...]:
    """The independent loops of a graph, each as the indices of its edges, in order round it.

    As many as `loop_count`; every other loop is a sum of these. Each closes over a tree that
    grows breadth first from the first node named, so put the protective earths first: loops
    then close through the earth the shortest way. The order of edges settles the answer.
    Source: fundamental cycles of a spanning tree; K. Paton, Communications of the ACM 12 (9),
    1969, p. 514.

    Two earthed devices and a stereo pair between them:

    >>> independent_loops([("earth", "A"), ("earth", "B"), ("A", "B"), ("A", "B")])
    ((2, 1, 0), (3, 1, 0))
    """
    grown = _forest(edges)
    tree = {step[1] for step in grown.values() if step is not None}
    return tuple(_ring(index, edge, grown) for index, edge in enumerate(edges) if index not in tree)


def common_impedance_hum_v(current_a: float, shield_ohm: float) -> float:
    """The hum voltage, rms, that a loop's current makes along the shield of an unbalanced lead.

    It stands in series with the signal. Both 0 or more; raises ValueError otherwise.
    Source: Ohm's law, I R; common-impedance coupling as in B. Whitlock, Balanced Lines in
    Audio Systems, J. Audio Eng. Soc. 43 (6), 1995 (read at second hand).

    >>> common_impedance_hum_v(316e-6, 1.0)
    0.000316
    """
    require_not_negative(current_a=current_a, shield_ohm=shield_ohm)
    return current_a * shield_ohm


def common_impedance_hum_db(current_a: float, shield_ohm: float, reference_v: float) -> float:
    """The level of that hum re a signal voltage, such as the nominal level or the sink's full output.

    All above 0; raises ValueError otherwise (no current, no level).
    Source: `common_impedance_hum_v`, 20 log10(V / Vref).

    316 µA in 1 ohm, re -10 dBV:

    >>> round(common_impedance_hum_db(316e-6, 1.0, 0.316228), 1)
    -60.0
    """
    require_positive(current_a=current_a, shield_ohm=shield_ohm)
    return voltage_ratio_db(common_impedance_hum_v(current_a, shield_ohm), reference_v)


_Forest = Mapping[Node, tuple[Node, int] | None]
"""Of every node, the node nearer the root and the edge to it; None at a root."""


def _forest(edges: Sequence[tuple[Node, Node]]) -> _Forest[Node]:
    """A spanning tree of every component, grown breadth first from its first node."""
    neighbours: dict[Node, list[tuple[Node, int]]] = {}
    for index, (one, other) in enumerate(edges):
        neighbours.setdefault(one, []).append((other, index))
        neighbours.setdefault(other, []).append((one, index))
    grown: dict[Node, tuple[Node, int] | None] = {}
    for root in neighbours:
        if root in grown:
            continue
        grown[root] = None
        front = deque([root])
        while front:
            node = front.popleft()
            for neighbour, index in neighbours[node]:
                if neighbour not in grown:
                    grown[neighbour] = (node, index)
                    front.append(neighbour)
    return grown


def _ring(index: int, edge: tuple[Node, Node], grown: _Forest[Node]) -> tuple[int, ...]:
    """The loop that one edge closes over the tree: the edge, up from its end, down to its start."""
    start, end = (_climb(node, grown) for node in edge)
    while start and end and start[-1] == end[-1]:
        start.pop()
        end.pop()
    return (index, *end, *reversed(start))


def _climb(node: Node, grown: _Forest[Node]) -> list[int]:
    """The edges from a node to the root of its tree."""
    edges = []
    while (step := grown[node]) is not None:
        node, edge = step
        edges.append(edge)
    return edges
