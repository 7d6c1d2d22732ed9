"""R15: feeds that nothing on their way can delay enough."""

from itertools import product

from ortools.sat.python import cp_model

from planner.allocation.variables import Variables
from planner.demand.flows import FeedFlow
from planner.demand.loads import Member


def delays_fit_their_ranges(model: cp_model.CpModel, v: Variables) -> None:
    """A feed goes by no output of too short a range, counted with each DSP unit that stands beside it."""
    for flow, n in zip(v.demand.feed_flows, v.feed, strict=True):
        places = v.demand.timing.row(_member(v, flow))
        if places is not None:
            _keep(model, v, flow, n)


def _keep(model: cp_model.CpModel, v: Variables, flow: FeedFlow, n: cp_model.IntVar) -> None:
    timing, member = v.demand.timing, _member(v, flow)
    skus = [choice.sku for choice in v.demand.dsp_units]
    owns = [None] if flow.unit is None else skus
    for (processor, chosen), own in product(zip(v.demand.processors, v.processor, strict=True), owns):
        here = [chosen] if own is None else [chosen, v.unit[flow.unit or 0, own]]
        if timing.too_early(member, processor.max_delay_ms, own, None):
            model.add(n == 0).only_enforce_if(here)
            continue
        for unit, used in product(v.units, skus):
            if timing.too_early(member, processor.max_delay_ms, own, used):
                model.add(n == 0).only_enforce_if([*here, v.unit[unit, used]])


def _member(v: Variables, flow: FeedFlow) -> Member:
    """Any member of the class: no rule on delays tells them apart."""
    return v.set_members[flow.feed.set_name][flow.feed.members[0]]
