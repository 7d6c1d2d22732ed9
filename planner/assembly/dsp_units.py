"""One DSP unit of a design: which jack takes what in, and gives what out."""

from collections import defaultdict

from planner.assembly.jacks import JackCounter, UnitInputs
from planner.catalogue.records import Catalogue
from planner.contacts import DIGITAL
from planner.demand.gear import DspChoice
from planner.demand.kinds import Kinds
from planner.demand.leads import Kind
from planner.demand.outlets import Outlet
from planner.design import Jack, Route
from planner.errors import PlannerBug

Signal = tuple[str, int] | str  # a member of a set, or a channel that several share


class DspJacks:
    """Hands out the jacks of one DSP unit, and notes how outputs derive from inputs."""

    def __init__(self, unit: str, choice: DspChoice, kinds: Kinds, catalogue: Catalogue) -> None:
        self._unit, self._choice, self._kinds = unit, choice, kinds
        self._entries = UnitInputs(unit, choice.sku, kinds, catalogue)
        self._outputs = [p for p in catalogue.outputs(choice.sku) if p.connector not in DIGITAL]
        self._counter = JackCounter()
        self._inputs: dict[Signal, list[Jack]] = defaultdict(list)
        self._given: dict[Signal, int] = defaultdict(int)
        self.routes: list[Route] = []

    def take_in(self, kind: Kind, signal: Signal) -> Jack:
        """An input jack for a signal."""
        jack = self._entries.take(kind)
        self._inputs[signal].append(jack)
        return jack

    def give_out(self, outlet: Outlet, signal: Signal) -> Jack:
        """An output jack for a signal that has come in."""
        inputs = self._inputs[signal]
        count = self._given[signal]
        self._given[signal] += 1
        per_input = self._choice.outputs_per_input
        if per_input is None:
            source = inputs[count % len(inputs)]
            sink = self._free(outlet)
        else:
            source = inputs[count // per_input]
            first = (source.index - 1) * per_input
            sink = Jack(self._unit, self._outputs[0].name, first + count % per_input + 1)
        self.routes.append(Route(source=source, sink=sink))
        return sink

    def _free(self, outlet: Outlet) -> Jack:
        for group in self._outputs:
            if self._kinds.of(group) == outlet.kind and self._counter.taken(self._unit, group.name) < group.count:
                return self._counter.next(self._unit, group.name)
        raise PlannerBug(f"{self._unit} has no output left")
