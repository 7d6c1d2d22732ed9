"""R17 and M7 on random systems: the loops against networkx, and what is never said of an earth."""

import re
from collections.abc import Sequence

import networkx as nx
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.brief.records import Limits
from planner.catalogue.records import Mains
from planner.design import UnitKind
from planner.physics.earth import EarthLoop, earth_loops
from planner.physics.earth_findings import earth_findings
from planner.physics.earth_graph import SAFETY_EARTH, earth_edges
from tests.checks.drawing import stocked
from tests.physics.small_systems import System, catalogue

CLASS_I, CLASS_II, NONE = Mains(rated_w=50.0), Mains(rated_w=50.0, class_ii=True), Mains()


def loops(system: System) -> tuple[EarthLoop, ...]:
    return earth_loops(earth_edges(system.case(), system.shop.ports))


_EARTHS = st.sampled_from([CLASS_I, CLASS_II, NONE])
_JOINS = st.tuples(st.integers(0, 4), st.integers(0, 4), st.sampled_from(["rca", "xlr"]))


@st.composite
def _systems(draw: st.DrawFn) -> System:
    """Up to five boxes of mixed classes, and up to sixteen leads between any of them."""
    shop = catalogue(
        proc={"mains": draw(_EARTHS)},
        dsp={"mains": draw(_EARTHS)},
        rca={"shield_mohm_per_m": draw(st.none() | st.just(20.0))},
    )
    system = System(shop=shop)
    for number in range(5):
        processor = draw(st.booleans()) and number == 0
        system.unit(UnitKind.PROCESSOR if processor else UnitKind.DSP, f"Box {number}", "proc" if processor else "dsp")
    processors = {unit.id for unit in system.units if unit.kind is UnitKind.PROCESSOR}
    for number, (one, other, kind) in enumerate(draw(st.lists(_JOINS, max_size=16))):
        if f"Box {other}" in processors:
            continue  # a processor has no inputs here
        out, into = ("OUT", "IN") if kind == "rca" else ("XLR OUT", "XLR IN")
        out = "XLR" if kind == "xlr" and f"Box {one}" in processors else out
        jack = number % 8 + 1
        system.run(f"Box {one}/{out}/{jack}", f"Box {other}/{into}/{jack}", stocked(kind, 1.0))
    return system


def _drawn_anew(system: System) -> "nx.MultiGraph[str]":
    """The graph from the drawing itself: an earth for every class I box, a shield for every lead."""
    graph: nx.MultiGraph[str] = nx.MultiGraph()
    mains_by_sku = {"proc": system.shop.processors[0].mains, "dsp": system.shop.dsp_units[0].mains}
    for unit in system.units:
        graph.add_node(unit.id)
        if mains_by_sku[unit.sku] == CLASS_I:
            graph.add_edge(SAFETY_EARTH, unit.id)
    for connection in system.connections:
        balanced = connection.lead.parts[0].sku == "xlr"
        graph.add_edge(connection.source.unit, connection.sink.unit, unbalanced=not balanced)
    return graph


def _cycles(graph: "nx.MultiGraph[str]") -> int:
    """How many independent cycles, by networkx's basis: each edge is halved, as that wants a simple graph."""
    simple: nx.Graph[object] = nx.Graph()
    simple.add_nodes_from(graph)
    for number, (one, other) in enumerate(graph.edges()):
        # In thirds, so that a lead from a box to itself is a cycle too.
        nx.add_path(simple, [one, (number, 1), (number, 2), other])
    return len(nx.cycle_basis(simple))


def _independent(rings: Sequence[EarthLoop], system: System) -> bool:
    """Whether no loop is a sum of others: Gaussian elimination over two elements."""
    numbers = {id(edge): 1 << number for number, edge in enumerate({id(e): e for r in rings for e in r.edges}.values())}
    pivots: list[int] = []
    for loop in rings:
        row = 0
        for edge in loop.edges:
            row ^= numbers[id(edge)]
        for pivot in pivots:
            row = min(row, row ^ pivot)
        if row == 0:
            return False
        pivots.append(row)
    return True


@given(_systems())
@settings(max_examples=100, deadline=None)
def test_loops_agree_with_networkx(system: System) -> None:
    graph = _drawn_anew(system)
    listed = loops(system)
    assert len(listed) == _cycles(graph)
    assert len(listed) == graph.number_of_edges() - len(graph) + nx.number_connected_components(graph)
    assert _independent(listed, system)
    for loop in listed:
        degrees = nx.MultiGraph([(edge.one, edge.other) for edge in loop.edges]).degree()
        assert {degree for _, degree in degrees} == {2}


@given(_systems())
@settings(max_examples=60, deadline=None)
def test_as_few_loops_as_can_be_need_an_unbalanced_shield(system: System) -> None:
    """What is left when unbalanced leads are taken out has cycles of its own; the others are unbalanced."""
    graph = _drawn_anew(system)
    quiet = nx.MultiGraph(graph)
    quiet.remove_edges_from(
        [(a, b, k) for a, b, k, unbalanced in graph.edges(keys=True, data="unbalanced") if unbalanced]
    )
    assert sum(not loop.unbalanced for loop in loops(system)) == _cycles(quiet)


@given(_systems())
@settings(max_examples=60, deadline=None)
def test_no_finding_ever_proposes_to_lift_an_earth(system: System) -> None:
    for finding in earth_findings(loops(system), Limits()):
        for sentence in re.split(r"(?<=[.;:]) ", finding.message):
            if re.search(r"\b(lift|remov|disconnect|cut|open|break)\w*\b", sentence) and "earth" in sentence:
                assert sentence.startswith("A protective earth is never lifted") or "class II gear" in sentence
