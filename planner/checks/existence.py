"""R0: everything that a design refers to exists, and is what the design takes it for."""

from collections import Counter
from collections.abc import Iterator

from planner.checks.case import Case
from planner.checks.findings import broken, counted
from planner.checks.known import KIND_OF_RECORD
from planner.checks.view import SPEAKERS, member_key
from planner.contacts import Direction
from planner.design import Finding, Jack, Unit


def existence(case: Case) -> Iterator[Finding]:
    """Every reference of the design that leads nowhere."""
    yield from _units(case)
    yield from _jacks(case)
    yield from _skus(case)


def _units(case: Case) -> Iterator[Finding]:
    for unit_id, count in Counter(unit.id for unit in case.design.units).items():
        if count > 1:
            yield broken(
                "R0", unit_id, f"{counted(count, 'unit')} bear the name {unit_id}; each needs a name of its own."
            )
    for unit in case.design.units:
        yield from _one_unit(case, unit)


def _one_unit(case: Case, unit: Unit) -> Iterator[Finding]:
    item = case.known.items.get(unit.sku)
    if item is None:
        yield broken("R0", unit.id, f"{unit.id} is a {unit.sku}, which the catalogue does not have.")
    elif KIND_OF_RECORD.get(type(item)) is not unit.kind:
        kind = KIND_OF_RECORD.get(type(item))
        named = kind.value if kind is not None else "part of a lead"
        yield broken("R0", unit.id, f"{unit.id} stands as a {unit.kind.value}, but {unit.sku} is a {named}.")
    if unit.kind in SPEAKERS and member_key(unit) not in case.known.places:
        claimed = f"{unit.member[0]} {unit.member[1] + 1}" if unit.member is not None else "no place"
        yield broken("R0", unit.id, f"{unit.id} stands at {claimed}, which the brief does not have.")
    if unit.host is not None and unit.host not in case.view.units:
        yield broken("R0", unit.id, f"{unit.id} sits in {unit.host}, which is not in the design.")


def _jacks(case: Case) -> Iterator[Finding]:
    wanted: dict[tuple[Jack, Direction], None] = {}
    for connection in case.design.connections:
        wanted[connection.source, Direction.OUT] = None
        wanted[connection.sink, Direction.IN] = None
    for route in case.design.routes:
        wanted[route.source, Direction.IN] = None
        wanted[route.sink, Direction.OUT] = None
    for jack, direction in wanted:
        if case.view.socket(jack, direction) is None:
            yield broken("R0", str(jack), _why_no_jack(case, jack, direction))


def _why_no_jack(case: Case, jack: Jack, direction: Direction) -> str:
    unit = case.view.units.get(jack.unit)
    if unit is None:
        return f"{jack} does not exist: there is no unit {jack.unit} whose ports are known."
    socket = case.known.sockets(unit.sku).get(jack.group)
    if socket is None:
        return f"{jack} does not exist: {unit.sku} has no port group {jack.group}."
    if socket.direction is not direction:
        return f"{jack} is used as an {direction.value}put, but it is an {socket.direction.value}put."
    return f"{jack} does not exist: the group has {counted(socket.count, 'jack')}."


def _skus(case: Case) -> Iterator[Finding]:
    for connection in case.design.connections:
        for part in connection.lead.parts:
            if part.sku not in case.known.items:
                subject = f"{connection.source} to {connection.sink}"
                yield broken("R0", subject, f"The lead is made with {part.sku}, which the catalogue does not have.")
    for purchase in case.design.purchases:
        if purchase.sku not in case.known.items:
            yield broken("R0", purchase.sku, f"{purchase.sku} is bought, but the catalogue does not have it.")
