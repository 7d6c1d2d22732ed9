"""Hands out the physical jacks of devices, in a fixed order."""

from collections import defaultdict

from planner.catalogue.records import Catalogue, PortGroup
from planner.contacts import SPEAKER_LEVEL
from planner.demand.gear import PortOrigin, ProcessorChoice
from planner.demand.kinds import Kinds
from planner.demand.leads import Kind
from planner.demand.outlets import Outlet
from planner.design import Jack
from planner.errors import PlannerBug


class JackCounter:
    """Counts jacks taken, by unit and group."""

    def __init__(self) -> None:
        self._taken: dict[tuple[str, str], int] = defaultdict(int)

    def next(self, unit: str, group: str) -> Jack:
        """The next jack of a group."""
        self._taken[unit, group] += 1
        return Jack(unit, group, self._taken[unit, group])

    def taken(self, unit: str, group: str) -> int:
        """How many jacks of a group are taken."""
        return self._taken[unit, group]


class ProcessorJacks:
    """The output jacks of the chosen processor and its cards."""

    def __init__(self, choice: ProcessorChoice, unit_ids: tuple[str, ...], catalogue: Catalogue) -> None:
        self._choice, self._unit_ids = choice, unit_ids
        skus = (choice.sku, *choice.cards)
        self._ports = {(n, p.name): p for n, sku in enumerate(skus) for p in catalogue.outputs(sku)}
        self._counter = JackCounter()

    def take(self, outlet: Outlet, channel: str) -> Jack:
        """One jack for a channel: its own where jacks are fixed, else the next free one."""
        for origin in self._choice.origins[outlet]:
            port = self._ports[origin.card, origin.group]
            unit = self._unit_ids[origin.card]
            if outlet.fixed:
                return Jack(unit, port.name, port.channels.index(channel) + 1)
            if self._counter.taken(unit, port.name) < self._limit(origin, port):
                return self._counter.next(unit, port.name)
        raise PlannerBug(f"no jack left for {channel} on {outlet}")

    def take_group(self, outlet: Outlet) -> list[Jack]:
        """All jacks of a mirrored group."""
        origin = self._choice.origins[outlet][0]
        return [Jack(self._unit_ids[origin.card], origin.group, i) for i in range(1, outlet.jacks + 1)]

    def _limit(self, origin: PortOrigin, port: PortGroup) -> int:
        return min(origin.signals, port.count)


class UnitInputs:
    """Input jacks of one device by kind, handed out in order."""

    def __init__(self, unit: str, sku: str, kinds: Kinds, catalogue: Catalogue) -> None:
        self._unit, self._groups, self._counter = unit, catalogue.inputs(sku), JackCounter()
        self._kinds = kinds

    def take(self, kind: Kind) -> Jack:
        """The next input jack of a kind."""
        for group in self._groups:
            if self._kinds.of(group) == kind and self._counter.taken(self._unit, group.name) < group.count:
                return self._counter.next(self._unit, group.name)
        raise PlannerBug(f"no input of kind {kind} left on {self._unit}")


def group_of_kind(groups: tuple[PortGroup, ...], kind: Kind, kinds: Kinds, count: int = 1) -> PortGroup:
    """The first port group of a kind with at least `count` jacks."""
    return next(g for g in groups if kinds.of(g) == kind and g.count >= count)


def speaker_group(groups: tuple[PortGroup, ...]) -> PortGroup:
    """The first speaker-level port group."""
    return next(g for g in groups if g.connector in SPEAKER_LEVEL)
