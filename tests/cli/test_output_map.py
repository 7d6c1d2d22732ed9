"""The output map, against reachability in a graph that networkx holds."""

import networkx

from planner.design import Design, Jack, UnitKind
from planner.output_map import output_map
from tests.cli.example import DESIGN


def jack_graph(design: Design) -> "networkx.DiGraph[Jack]":
    """Leads, DSP routes, and the inside of the other boxes of the example, written out by hand."""
    graph = networkx.DiGraph()
    graph.add_edges_from((link.source, link.sink) for link in design.connections)
    graph.add_edges_from((route.source, route.sink) for route in design.routes)
    graph.add_edge(Jack("Amplifier 1", "IN", 2), Jack("Amplifier 1", "SPEAKER", 2))
    graph.add_edge(Jack("Splitter 1", "IN", 1), Jack("Splitter 1", "LEG", 1))
    graph.add_edge(Jack("Splitter 1", "IN", 1), Jack("Splitter 1", "LEG", 2))
    graph.add_edge(Jack("Sub 2", "LINE", 1), Jack("Sub 2", "LINK", 1))
    return graph


def test_every_feed_is_reached_from_the_output_that_the_graph_says() -> None:
    graph = jack_graph(DESIGN)
    feeds = {unit.id for unit in DESIGN.units if unit.kind in (UnitKind.LOUDSPEAKER, UnitKind.SUBWOOFER)}
    wanted = {
        (source, sink)
        for source in graph
        for sink in networkx.descendants(graph, source)
        if source.unit == "Processor" and sink.unit in feeds and sink.group in ("IN", "LINE")
    }
    lines = output_map(DESIGN)
    assert {(line.output, line.drives) for line in lines} == wanted
    assert len(lines) == len(feeds)


def test_the_path_names_where_the_signal_leaves_each_box() -> None:
    line = next(line for line in output_map(DESIGN) if line.drives.unit == "Sub 3")
    path = networkx.shortest_path(jack_graph(DESIGN), line.output, line.drives)
    assert list(line.through) == [jack for jack in path[1:-1] if jack.group in ("OUT", "LEG", "SPEAKER", "LINK")]


def test_lines_come_in_the_order_of_the_outputs() -> None:
    outputs = [line.output for line in output_map(DESIGN)]
    assert outputs == sorted(outputs)
