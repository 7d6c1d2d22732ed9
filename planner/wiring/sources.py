"""Which output really drives a lead: behind splitters, and behind links that are wired straight through."""

from planner.catalogue.records import Isolator, OutputStage, PortGroup, Splitter
from planner.contacts import Direction
from planner.design import Connection, Design, Jack
from planner.physics.gear import Gear


class Drivers:
    """The output jack and its build behind every line-level jack of a design."""

    def __init__(self, design: Design, gear: Gear) -> None:
        self._gear = gear
        self._into: dict[str, Connection] = {}
        for connection in design.connections:
            self._into.setdefault(connection.sink.unit, connection)

    def stage(self, jack: Jack) -> OutputStage:
        """How the output is built that drives what is plugged into a jack."""
        item = self._gear.item(jack.unit)
        if isinstance(item, Isolator):
            return OutputStage.TRANSFORMER if item.output_balanced else OutputStage.UNBALANCED
        port = self._driver(jack)
        if port is None:
            return OutputStage.UNKNOWN
        return port.output_stage if port.balanced else OutputStage.UNBALANCED

    def _driver(self, jack: Jack) -> PortGroup | None:
        passed: set[str] = set()
        while jack.unit not in passed:
            passed.add(jack.unit)
            port = self._gear.line_port(jack, Direction.OUT)
            before = self._into.get(jack.unit)
            passive = isinstance(self._gear.item(jack.unit), Splitter) or (port is not None and port.wired_through)
            if not passive or before is None:
                return port
            jack = before.source
        return None  # a ring, in a spoiled design
