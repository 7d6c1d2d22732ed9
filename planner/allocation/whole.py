"""The exact model of all processors of a demand at once.

Slower for one set of bounds than a processor at a time where much is known of each, and faster
where a demand is asked only a few questions, since it takes one solve.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeVar

from ortools.sat.python import cp_model

from planner.allocation.bounds import Bounds
from planner.allocation.expressions import Expr, total, weighted
from planner.allocation.side_by_side import Recall
from planner.allocation.solve import Outcome, ProcessorModel
from planner.demand.build import Demand
from planner.demand.counts import Counts

Flow = TypeVar("Flow")


@dataclass(frozen=True, kw_only=True, slots=True)
class Gear:
    """Devices of which one at least is used, devices that are not, and a discount on each unit, before tax."""

    some_of: Sequence[str] = ()
    none_of: Sequence[str] = ()
    discount_minor: Mapping[str, int] = field(default_factory=dict)


NO_MATTER = Gear()


class WholeModel(ProcessorModel):
    """The model of a demand with the choice of the processor in it; scores compare with those of its parts."""

    def __init__(self, demand: Demand, recall: Recall | None = None) -> None:
        super().__init__(demand, 0, recall)
        self.least_score = min(processor.price_minor - 1 for processor in demand.processors) * self._scale

    def beyond(self, subtotal_minor: int) -> int:
        """A score that every design of up to this price, before tax, stays below."""
        return self._scale * (subtotal_minor + 1)

    def cheapest(self, bounds: Bounds, seconds: float, *, floor: int, below: int, gear: Gear = NO_MATTER) -> Outcome:
        """As of one processor, among the designs with and without the gear asked for."""
        model, used = self._bounded(bounds), self._used
        if gear.some_of:
            model.add(total(used(sku) for sku in gear.some_of) >= 1)
        for sku in gear.none_of:
            model.add(used(sku) == 0)
        discount = weighted((minor, used(sku)) for sku, minor in gear.discount_minor.items())
        return self._cheapest_of(model, seconds, floor=floor, below=below, discount=discount)

    def _used(self, sku: str) -> Expr:
        return self._purchases.used(sku)

    def _modelled(self) -> Demand:
        self._part = self._whole
        return self._whole

    def _counts(self, solver: cp_model.CpSolver) -> Counts:
        """The counts of the part with the processor chosen: flows that it cannot carry are left out."""
        counts, whole = super()._counts(solver), self._whole
        number = next(n for n, chosen in enumerate(self._v.processor) if solver.value(chosen))
        part = whole.with_processor(whole.processors[number])
        return replace(
            counts,
            processor=number,
            feed=_of_part(whole.feed_flows, counts.feed, part.feed_flows),
            drive=_of_part(whole.drive_flows, counts.drive, part.drive_flows),
            dsp_in=_of_part(whole.dsp_flows, counts.dsp_in, part.dsp_flows),
            split=_of_part(whole.split_flows, counts.split, part.split_flows),
        )


def _of_part(flows: Sequence[Flow], values: Sequence[int], kept: Sequence[Flow]) -> tuple[int, ...]:
    """The values of the flows that a part has, in its order."""
    value_by_flow = {id(flow): value for flow, value in zip(flows, values, strict=True)}
    return tuple(value_by_flow[id(flow)] for flow in kept)
