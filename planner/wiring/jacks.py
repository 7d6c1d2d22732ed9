"""Every jack of a design beside its record: what it shows, whether it is balanced, at what level."""

from collections.abc import Mapping

from planner.catalogue.records import Catalogue, Item
from planner.checks.sockets import Socket, sockets_of
from planner.contacts import Direction
from planner.design import Connection, Design, Jack
from planner.errors import PlannerBug


class Jacks:
    """The sockets of every unit of a valid design."""

    def __init__(self, design: Design, catalogue: Catalogue) -> None:
        items = {item.sku: item for item in catalogue.items()}
        self._item_by_unit: Mapping[str, Item] = {unit.id: items[unit.sku] for unit in design.units}
        self._sockets = {
            unit: sockets_of(item, catalogue.ports.get(item.sku, ())) for unit, item in self._item_by_unit.items()
        }

    def item(self, unit: str) -> Item:
        """The catalogue record of a unit."""
        return self._item_by_unit[unit]

    def sockets(self, unit: str) -> tuple[Socket, ...]:
        """The sockets of a unit in the order of the catalogue."""
        return self._sockets[unit]

    def socket(self, jack: Jack, direction: Direction) -> Socket:
        """The socket that a jack belongs to. Raises PlannerBug where there is none."""
        for socket in self._sockets.get(jack.unit, ()):
            if socket.name == jack.group and socket.direction is direction:
                return socket
        raise PlannerBug(f"{jack} does not exist in the catalogue")

    def ends(self, connection: Connection) -> tuple[Socket, Socket]:
        """The sockets at the source and at the sink of a connection."""
        return self.socket(connection.source, Direction.OUT), self.socket(connection.sink, Direction.IN)
