"""The exact model of all processors of a demand at once.

Slower for one set of bounds than a processor at a time where much is known of each, and faster
where a demand is asked only a few questions, since it takes one solve.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import TypeVar

from ortools.sat.python import cp_model

from planner.allocation.solve import ProcessorModel
from planner.demand.build import Demand
from planner.demand.counts import Counts

Flow = TypeVar("Flow")


class WholeModel(ProcessorModel):
    """The model of a demand with the choice of the processor in it; scores compare with those of its parts."""

    def __init__(self, demand: Demand) -> None:
        super().__init__(demand, 0)
        self.least_score = min(ProcessorModel(demand, n).least_score for n, _ in enumerate(demand.processors))

    def _modelled(self) -> Demand:
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
            dsp_in=_of_part(whole.dsp_flows, counts.dsp_in, part.dsp_flows),
            split=_of_part(whole.split_flows, counts.split, part.split_flows),
        )


def _of_part(flows: Sequence[Flow], values: Sequence[int], kept: Sequence[Flow]) -> tuple[int, ...]:
    """The values of the flows that a part has, in its order."""
    value_by_flow = {id(flow): value for flow, value in zip(flows, values, strict=True)}
    return tuple(value_by_flow[id(flow)] for flow in kept)
