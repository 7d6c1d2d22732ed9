"""The signal-flow diagram: from processor to loudspeaker, every jack named, every lead marked."""

from dataclasses import dataclass

from planner.catalogue.records import Catalogue
from planner.design import Connection, Design
from planner.drawings.flow_boxes import flow_columns
from planner.drawings.flow_layout import flow_layout
from planner.drawings.flow_shapes import ROW, Frame, box_width, draw_box
from planner.drawings.flow_tracks import Crossing, gutter
from planner.drawings.legend import legend, legend_height
from planner.drawings.lettering import shortened, text_width
from planner.drawings.signal_kinds import STROKES, SignalKind, kind_of
from planner.drawings.svg import PAPER, SOFT, Canvas, Spot
from planner.wiring.jacks import Jacks
from planner.wiring.labels import lead_marks

_MARK, _DETAIL, _TITLE, _COLUMN = 8.5, 9.0, 15.0, 10.5
_TRACK, _MARGIN, _LEAST_WIDTH = 6.0, 16.0, 340.0
_TOP = 62.0  # title, detail, and the headings of the columns


@dataclass(frozen=True, slots=True)
class _Span:
    """Left and right edge of a column, or of the tracks of a gutter."""

    left: float
    right: float


def signal_flow(design: Design, catalogue: Catalogue, heading: str, detail: str = "") -> str:
    """The diagram of a valid design as SVG, with a heading and a line of detail above it."""
    return _Diagram(design, catalogue).draw(heading, detail)


class _Diagram:
    def __init__(self, design: Design, catalogue: Catalogue) -> None:
        jacks = Jacks(design, catalogue)
        self._connections = design.connections
        self._marks = lead_marks(design)
        self._kinds = {each: kind_of(*jacks.ends(each)) for each in design.connections}
        self._columns = flow_columns(design, jacks)
        self._layout = flow_layout(self._columns, design.connections)
        self._column_of = {box.unit.id: box.column for column in self._columns for box in column.boxes}
        self._crossings = [self._crossings_at(at) for at in range(len(self._columns) - 1)]
        self._gutters = [gutter(crossings) for crossings in self._crossings]
        self._mark_width = max((text_width(mark, _MARK) for mark in self._marks.values()), default=0.0) + 8.0
        self._spans, self._tracks = self._across()

    def draw(self, heading: str, detail: str) -> str:
        canvas = Canvas(heading, self._description())
        width = max(*(span.right + _MARGIN for span in self._spans), _LEAST_WIDTH)
        canvas.text((_MARGIN, 26.0), shortened(heading, _TITLE, width - 2 * _MARGIN, bold=True), _TITLE, bold=True)
        canvas.text((_MARGIN, 40.0), shortened(detail, _DETAIL, width - 2 * _MARGIN), _DETAIL, fill=SOFT)
        self._headings(canvas)
        for connection in self._connections:
            self._line(canvas, connection)
        for column in self._columns:
            for box in column.boxes:
                span, rows = self._spans[box.column], self._layout.rows_by_unit[box.unit.id]
                draw_box(canvas, box, Frame(span.left, self._y(rows.top), span.right - span.left, rows.height))
        for connection in self._marks:
            self._mark(canvas, connection)
        below = self._y(self._layout.rows) + 6.0
        used = [kind for kind in SignalKind if kind in self._kinds.values()]
        note = "Signals run from left to right." + (
            "" if len(self._marks) == len(self._connections) else " A line without a mark plugs on directly."
        )
        legend(canvas, (_MARGIN, below), width - 2 * _MARGIN, used, note)
        return canvas.picture(width, below + legend_height(width - 2 * _MARGIN, used, note) + _MARGIN)

    def _headings(self, canvas: Canvas) -> None:
        for column, span in zip(self._columns, self._spans, strict=True):
            with canvas.group("column"):
                canvas.text((span.left, _TOP - 2.0), column.heading, _COLUMN, bold=True, fill=SOFT)

    def _description(self) -> str:
        """The same in words, for those who hear it."""
        leads = (f"{mark}: {each.source} to {each.sink}" for each, mark in self._marks.items())
        return f"Signal flow from left to right. {'; '.join(leads)}."

    # Places

    def _across(self) -> tuple[list[_Span], list[_Span]]:
        """The columns and the tracks between them, from left to right."""
        spans: list[_Span] = []
        tracks: list[_Span] = []
        left = _MARGIN
        for at, column in enumerate(self._columns):
            heading = text_width(column.heading, _COLUMN, bold=True)
            right = left + max(heading, *(box_width(box) for box in column.boxes))
            spans.append(_Span(left, right))
            if at < len(self._gutters):
                first = right + self._mark_width + _TRACK
                last = first + max(self._gutters[at].width - 1, 0) * _TRACK
                tracks.append(_Span(first, last))
                left = last + _TRACK + self._mark_width
        return spans, tracks

    def _y(self, row: float) -> float:
        return _TOP + 4.0 + row * ROW

    def _row_y(self, row: float) -> float:
        return self._y(row) + ROW / 2

    def _crossings_at(self, at: int) -> list[Crossing]:
        """All lines in the gutter behind a column."""
        return [
            Crossing(line, self._row_at(connection, at), self._row_at(connection, at + 1))
            for line, connection in enumerate(self._connections)
            if self._column_of[connection.source.unit] <= at < self._column_of[connection.sink.unit]
        ]

    def _row_at(self, connection: Connection, at: int) -> int:
        if at == self._column_of[connection.source.unit]:
            return self._layout.row_by_jack[connection.source]
        if at == self._column_of[connection.sink.unit]:
            return self._layout.row_by_jack[connection.sink]
        return self._layout.lanes[connection, at]

    # Lines

    def _line(self, canvas: Canvas, connection: Connection) -> None:
        mark = self._marks.get(connection, "")
        title = f"{mark} {connection.source} to {connection.sink}".strip()
        data = {"mark": mark, "source": str(connection.source), "sink": str(connection.sink)}
        kind = self._kinds[connection]
        with canvas.group("lead", title, kind=kind.value, **data):
            canvas.line(self._points(connection), **STROKES[kind].look)

    def _points(self, connection: Connection) -> list[Spot]:
        number = self._connections.index(connection)
        first, last = self._column_of[connection.source.unit], self._column_of[connection.sink.unit]
        points = [(self._spans[first].right, self._row_y(self._row_at(connection, first)))]
        for at in range(first, last):
            points += self._turns(number, at, self._row_at(connection, at), self._row_at(connection, at + 1))
        points.append((self._spans[last].left, self._row_y(self._row_at(connection, last))))
        return points

    def _turns(self, line: int, at: int, left: int, right: int) -> list[Spot]:
        track = self._gutters[at].tracks.get(line)
        if track is None:
            return []
        x = self._tracks[at].left + track.number * _TRACK
        if not track.steps_aside:
            return [(x, self._row_y(left)), (x, self._row_y(right))]
        aside = self._tracks[at].left
        between = self._row_y(left + 0.5)
        return [(aside, self._row_y(left)), (aside, between), (x, between), (x, self._row_y(right))]

    def _mark(self, canvas: Canvas, connection: Connection) -> None:
        """The mark at both ends, on the line."""
        mark = self._marks[connection]
        width = text_width(mark, _MARK)
        source, sink = connection.source, connection.sink
        ends = (
            (self._spans[self._column_of[source.unit]].right + 4.0, self._layout.row_by_jack[source]),
            (self._spans[self._column_of[sink.unit]].left - 4.0 - width, self._layout.row_by_jack[sink]),
        )
        for left, row in ends:
            y = self._row_y(row)
            with canvas.group("mark", mark=mark):
                canvas.rect(left - 1.0, y - 4.5, width + 2.0, 9.0, fill=PAPER)
                canvas.text((left + width / 2, y + 3.1), mark, _MARK, anchor="middle")
