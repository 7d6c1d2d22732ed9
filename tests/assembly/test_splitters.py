"""Splitters plugged together: a tree whose leaves are just the feeds."""

import networkx as nx
import pytest

from planner.design import LeadMethod, UnitKind
from planner.options import Option
from tests.demand.shop import XLR_PINS, XLR_SOCKET, brief, limits, subs
from tests.plan.systems import PRICE_ONLY, cheapest, shop, skus, splitters


def one_output(count: int) -> Option:
    """So many subwoofers on one output by two-way splitters."""
    asked = brief(subs("S", *[3.0] * count), measures=PRICE_ONLY, limits=limits(largest_split=8))
    return cheapest(asked, splitters(shop(1)))


@pytest.mark.parametrize("legs", [2, 3, 4, 5, 6])
def test_the_splitters_of_a_split_are_a_tree_from_the_output_to_the_feeds(legs: int) -> None:
    """N legs from two-way splitters take N − 1: common practice, no published source."""
    found = one_output(legs)
    assert len(skus(found, UnitKind.SPLITTER)) == legs - 1
    graph = nx.DiGraph((c.source.unit, c.sink.unit) for c in found.design.connections)
    assert nx.is_arborescence(graph)
    leaves = {node for node in graph if graph.out_degree(node) == 0}
    assert leaves == {f"Sub {number}" for number in range(1, legs + 1)}
    assert found.measures.price_minor == 100 * (1000 + 310 * legs + 20 * (legs - 1))


def test_splitters_plug_on_without_a_lead_and_feeds_by_a_lead_each() -> None:
    found = one_output(4)
    plugs = [c for c in found.design.connections if c.lead.method is LeadMethod.DIRECT]
    assert [(c.sink.unit, c.sink.group) for c in plugs] == [(f"Splitter {n}", "IN") for n in (1, 2, 3)]
    assert len(found.design.connections) == 3 + 4


def test_a_leg_too_many_stays_empty() -> None:
    """Three subwoofers, a four-way splitter for 20 against 2 × 20: one leg is left over."""
    sold = splitters(shop(1))
    sold.splitter("Y4", 20, XLR_SOCKET, XLR_PINS, legs=4, balanced=True)
    found = cheapest(brief(subs("S", 3.0, 3.0, 3.0), measures=PRICE_ONLY), sold)
    assert skus(found, UnitKind.SPLITTER) == ["Y4"]
    assert [c.source.index for c in found.design.connections if c.source.group == "LEG"] == [1, 2, 3]


def test_two_splits_are_two_trees() -> None:
    """Four subwoofers on two outputs, no more than two to an output."""
    asked = brief(subs("S", *[3.0] * 4), measures=PRICE_ONLY, limits=limits(largest_split=2))
    found = cheapest(asked, splitters(shop(2)))
    graph = nx.DiGraph((c.source.unit, c.sink.unit) for c in found.design.connections)
    assert sorted(graph.successors("Processor")) == ["Splitter 1", "Splitter 2"]
    assert all(graph.out_degree(name) == 2 for name in ("Splitter 1", "Splitter 2"))
