"""Loops against networkx on random graphs, parallel edges and self-loops among them.

`networkx.cycle_basis` knows only simple graphs, so every edge is given two nodes of its own
on the way, which changes no loop.
"""

import networkx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.formulas.earth_loops import common_impedance_hum_db, common_impedance_hum_v, independent_loops, loop_count

Edges = list[tuple[int, int]]
random_edges = st.lists(st.tuples(st.integers(0, 6), st.integers(0, 6)), max_size=14)
few = settings(max_examples=60)


def subdivided(edges: Edges) -> networkx.Graph:
    graph = networkx.Graph()
    for index, (one, other) in enumerate(edges):
        networkx.add_path(graph, [("node", one), ("near", index), ("far", index), ("node", other)])
    return graph


def basis_by_networkx(edges: Edges) -> list[set[int]]:
    return [{index for kind, index in ring if kind == "near"} for ring in networkx.cycle_basis(subdivided(edges))]


def rank_modulo_2(loops: list[set[int]], edges: int) -> int:
    """How many of the loops are independent: Gaussian elimination over the field of two."""
    matrix = np.array([[index in loop for index in range(edges)] for loop in loops], dtype=bool)
    rank = 0
    for column in range(edges if loops else 0):
        rows = [row for row in range(rank, len(matrix)) if matrix[row, column]]
        if not rows:
            continue
        matrix[[rank, rows[0]]] = matrix[[rows[0], rank]]
        for row in range(len(matrix)):
            if row != rank and matrix[row, column]:
                matrix[row] ^= matrix[rank]
        rank += 1
    return rank


@few
@given(random_edges)
def test_as_many_loops_as_networkx_finds(edges: Edges) -> None:
    assert loop_count(edges) == len(independent_loops(edges)) == len(basis_by_networkx(edges))


@few
@given(random_edges)
def test_the_loops_are_independent_and_make_up_every_loop_of_networkx(edges: Edges) -> None:
    ours = [set(loop) for loop in independent_loops(edges)]
    assert rank_modulo_2(ours, len(edges)) == len(ours)
    assert rank_modulo_2(ours + basis_by_networkx(edges), len(edges)) == len(ours)


@few
@given(random_edges)
def test_each_loop_runs_round_through_each_of_its_edges_and_nodes_once(edges: Edges) -> None:
    for loop in independent_loops(edges):
        assert len(set(loop)) == len(loop)
        one, node = edges[loop[0]]
        passed = [node]
        for index in loop[1:]:
            ends = edges[index]
            assert node in ends
            node = ends[1] if ends[0] == node else ends[0]
            passed.append(node)
        assert node == one
        assert len(set(passed)) == len(passed)


def test_no_edges_make_no_loop() -> None:
    assert loop_count([]) == 0
    assert independent_loops([]) == ()


def test_one_earth_and_one_shield_each_make_no_loop() -> None:
    assert independent_loops([("earth", "processor"), ("processor", "sub 1"), ("processor", "sub 2")]) == ()


def test_two_earths_and_the_shield_between_make_one_loop_listed_in_order() -> None:
    edges = [("earth", "processor"), ("earth", "sub"), ("processor", "sub")]
    assert independent_loops(edges) == ((2, 1, 0),)


def test_a_stereo_pair_between_two_class_ii_boxes_is_a_loop_by_itself() -> None:
    assert independent_loops([("A", "B"), ("A", "B")]) == ((1, 0),)


def test_a_lead_from_a_box_to_itself_is_a_loop_of_one() -> None:
    assert independent_loops([("A", "A")]) == ((0,),)


def test_two_racks_apart_have_their_loops_apart() -> None:
    rack = [("A", "B"), ("B", "C"), ("C", "A")]
    other = [("D", "E"), ("D", "E")]
    assert [set(loop) for loop in independent_loops([*rack, *other])] == [{0, 1, 2}, {3, 4}]


def test_with_the_earths_first_every_shield_closes_its_loop_through_them() -> None:
    earths = [("earth", "A"), ("earth", "B"), ("earth", "C")]
    shields = [("A", "B"), ("B", "C")]
    assert [set(loop) for loop in independent_loops([*earths, *shields])] == [{3, 0, 1}, {4, 1, 2}]


def test_no_current_makes_no_hum_and_has_no_level() -> None:
    assert common_impedance_hum_v(0.0, 1.0) == 0
    with pytest.raises(ValueError, match="current_a is 0"):
        common_impedance_hum_db(0.0, 1.0, 1.0)


def test_half_the_shield_is_6_db_less_hum() -> None:
    whole, half = (common_impedance_hum_db(1e-3, ohm, 1.0) for ohm in (0.2, 0.1))
    assert half - whole == pytest.approx(-6.0206, abs=1e-4)
