"""Where the boxes of the signal-flow diagram stand, and the lanes in which lines pass other columns.

Heights are counted in rows. A line that passes a column has a lane of one row there, placed
among the boxes, so that it never meets one. Each column is put in the order of what feeds it,
and each node as near as may be to the row that it is fed from: least squares under a fixed
order, which the pooling of adjacent violators solves (Barlow, Bartholomew, Bremner and Brunk,
Statistical Inference under Order Restrictions, 1972; from memory).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import floor

from planner.design import Connection, Jack
from planner.drawings.flow_boxes import Box, Column

HEADER_ROWS, GAP_ROWS, COMPACT_ROWS = 2, 1, 2
_LANE_WEIGHT = 4  # a line that only passes is bent less readily than a box is moved


@dataclass(frozen=True, slots=True)
class Rows:
    """A span of rows from its top."""

    top: int
    height: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Layout:
    """The top row of each unit's box, and the row of each line in each column that it passes.

    `row_by_jack` is the row of each jack in use. Rows count from 0.
    """

    rows_by_unit: Mapping[str, Rows]
    row_by_jack: Mapping[Jack, int]
    lanes: Mapping[tuple[Connection, int], int]
    rows: int


@dataclass(slots=True)
class _Node:
    """A box or a lane: how many rows it takes, and (row it is fed from, row of the jack below its top)."""

    height: int
    order: int
    box: Box | None = None
    lane: Connection | None = None
    pulls: list[tuple[int, int]] = field(default_factory=list)

    def centre(self) -> float:
        """The mean row that it is fed from; what nothing feeds comes last."""
        return sum(row for row, _ in self.pulls) / len(self.pulls) if self.pulls else float("inf")

    def wanted(self, fallback: float) -> float:
        """The top row that brings its jacks nearest to where they are fed from."""
        if not self.pulls:
            return fallback
        return sum(row - below for row, below in self.pulls) / len(self.pulls)


def jack_offsets(box: Box) -> Mapping[Jack, int]:
    """The row of each jack in use, counted from the top of its box."""
    first = 0 if box.compact else HEADER_ROWS
    return {
        row.jack: first + at
        for side in (box.inputs, box.outputs)
        for at, row in enumerate(side)
        if row.jack is not None
    }


def box_rows(box: Box) -> int:
    """The rows that a box takes, with the gap below it."""
    if box.compact:
        return COMPACT_ROWS
    return HEADER_ROWS + max(len(box.inputs), len(box.outputs)) + GAP_ROWS


def flow_layout(columns: Sequence[Column], connections: Sequence[Connection]) -> Layout:
    """The layout of the columns with all their connections, each of which runs to a later column."""
    column_of = {box.unit.id: box.column for column in columns for box in column.boxes}
    tops: dict[str, int] = {}
    heights: dict[str, int] = {}
    rows: dict[Jack, int] = {}
    lanes: dict[tuple[Connection, int], int] = {}
    for at, column in enumerate(columns):
        nodes = _nodes(column, at, connections, column_of, rows, lanes)
        for node, top in zip(nodes, stacked(nodes), strict=True):
            if node.box is not None:
                tops[node.box.unit.id], heights[node.box.unit.id] = top, node.height
                rows |= {jack: top + below for jack, below in jack_offsets(node.box).items()}
            elif node.lane is not None:
                lanes[node.lane, at] = top
    highest = min((*tops.values(), *lanes.values()), default=0)
    lowest = max((*(tops[unit] + heights[unit] for unit in tops), *(row + 1 for row in lanes.values())), default=0)
    return Layout(
        rows_by_unit={unit: Rows(top - highest, heights[unit]) for unit, top in tops.items()},
        row_by_jack={jack: row - highest for jack, row in rows.items()},
        lanes={key: row - highest for key, row in lanes.items()},
        rows=lowest - highest,
    )


def _nodes(
    column: Column,
    at: int,
    connections: Sequence[Connection],
    column_of: Mapping[str, int],
    rows: Mapping[Jack, int],
    lanes: Mapping[tuple[Connection, int], int],
) -> list[_Node]:
    """The boxes and lanes of a column in the order in which they are fed."""
    boxes = {box.unit.id: _Node(box_rows(box), order, box=box) for order, box in enumerate(column.boxes)}
    nodes = list(boxes.values())
    for connection in connections:
        start, end = column_of[connection.source.unit], column_of[connection.sink.unit]
        if not start < at <= end:
            continue
        fed_from = lanes.get((connection, at - 1), rows.get(connection.source, 0))
        if at == end:
            node = boxes[connection.sink.unit]
            below = jack_offsets(column.boxes[node.order])[connection.sink]
            node.pulls.append((fed_from, below))
        else:
            nodes.append(_Node(1, len(nodes), lane=connection, pulls=[(fed_from, 0)]))
    return sorted(nodes, key=lambda node: (node.centre(), node.order))


def stacked(nodes: Sequence[_Node]) -> list[int]:
    """The top row of each node, one below the other, each as near as may be to where it wants to be."""
    before = 0
    wanted: list[float] = []
    weights: list[int] = []
    offsets: list[int] = []
    for node in nodes:
        wanted.append(node.wanted(before) - before)
        weights.append(_LANE_WEIGHT if node.box is None else max(1, len(node.pulls)))
        offsets.append(before)
        before += node.height
    return [floor(value + 0.5) + offset for value, offset in zip(rising(wanted, weights), offsets, strict=True)]


def rising(values: Sequence[float], weights: Sequence[float]) -> list[float]:
    """The sequence that never falls and is nearest to the values, by weighted least squares.

    >>> rising([1.0, 3.0, 2.0, 5.0], [1, 1, 1, 1])
    [1.0, 2.5, 2.5, 5.0]
    """
    pools: list[tuple[float, float, int]] = []
    for value, weight in zip(values, weights, strict=True):
        pools.append((value, weight, 1))
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (one, w_one, n_one), (other, w_other, n_other) = pools.pop(-2), pools.pop()
            pools.append(((one * w_one + other * w_other) / (w_one + w_other), w_one + w_other, n_one + n_other))
    return [value for value, _, count in pools for _ in range(count)]
