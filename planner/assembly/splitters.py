"""Plugs splitters together until there are as many legs as are wanted."""

from planner.catalogue.records import Catalogue
from planner.demand.flows import SplitFlow
from planner.design import Connection, Jack, LeadBuild, LeadMethod, Unit, UnitKind


class SplitterTree:
    """All splitters of a design, numbered as they are used."""

    def __init__(self, catalogue: Catalogue) -> None:
        self._legs = {s.sku: s.legs for s in catalogue.splitters}
        self.units: list[Unit] = []

    def grow(self, jack: Jack, split: SplitFlow) -> tuple[list[Connection], list[Jack]]:
        """The splitters plugged onto a jack: their plugs, and the legs that are left."""
        plugs: list[Connection] = []
        open_legs = [jack]
        for sku in (sku for sku, count in split.splitters for _ in range(count)):
            unit = Unit(id=f"Splitter {len(self.units) + 1}", sku=sku, kind=UnitKind.SPLITTER)
            self.units.append(unit)
            source = open_legs.pop()
            plugs.append(
                Connection(
                    channel=split.channel,
                    source=source,
                    sink=Jack(unit.id, "IN", 1),
                    lead=LeadBuild(method=LeadMethod.DIRECT),
                )
            )
            open_legs += [Jack(unit.id, "LEG", n) for n in range(1, self._legs[sku] + 1)]
        return plugs, open_legs[: split.legs]
