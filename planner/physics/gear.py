"""The units of a design beside their catalogue records, each found by a jack on it."""

from planner.catalogue.records import Catalogue, Item, PortGroup
from planner.contacts import DIGITAL, SPEAKER_LEVEL, Direction
from planner.design import Design, Jack, Unit

_NOT_LINE = DIGITAL | SPEAKER_LEVEL


class Gear:
    """Looked up once for a design. What does not exist is None; the verifier tells of that."""

    def __init__(self, design: Design, catalogue: Catalogue) -> None:
        self.items = {item.sku: item for item in catalogue.items()}
        self._ports = catalogue.ports
        self._units: dict[str, Unit] = {}
        for unit in design.units:
            self._units.setdefault(unit.id, unit)

    def item(self, unit_id: str | None) -> Item | None:
        """The catalogue record of a unit."""
        unit = self._units.get(unit_id or "")
        return self.items.get(unit.sku) if unit is not None else None

    def host(self, unit_id: str) -> Item | None:
        """The record of the processor that a card sits in."""
        unit = self._units.get(unit_id)
        return self.item(unit.host) if unit is not None else None

    def port(self, jack: Jack, direction: Direction) -> PortGroup | None:
        """The port group that a jack belongs to, if there is such a jack."""
        unit = self._units.get(jack.unit)
        for port in self._ports.get(unit.sku, ()) if unit is not None else ():
            if port.name == jack.group and port.direction is direction and 1 <= jack.index <= port.count:
                return port
        return None

    def line_port(self, jack: Jack, direction: Direction) -> PortGroup | None:
        """The same, where the port is at line level."""
        port = self.port(jack, direction)
        return None if port is None or port.connector in _NOT_LINE else port
