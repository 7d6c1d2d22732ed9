"""R7, R10: DSP units, what enters them and what leaves."""

from collections import defaultdict
from itertools import pairwise

from ortools.sat.python import cp_model

from planner.allocation.expressions import Expr, total
from planner.allocation.variables import Variables


def dsp_units_are_not_overbooked(model: cp_model.CpModel, v: Variables) -> None:
    """R2, R7: one model a unit; its jacks by kind and its signals in and out suffice."""
    choices = v.demand.dsp_units
    outlets = sorted({o for d in choices for o in d.outlets})
    for unit in v.units:
        model.add_at_most_one(v.unit[unit, d.sku] for d in choices)
        entering: dict[object, list[cp_model.IntVar]] = defaultdict(list)
        for flow, count in zip(v.demand.dsp_flows, v.dsp_in, strict=True):
            if flow.unit == unit:
                entering[flow.inlet].append(count)
        for kind in sorted({k for d in choices for k in d.inlets}):
            jacks = total(d.inlets.get(kind, 0) * v.unit[unit, d.sku] for d in choices)
            model.add(total(entering[kind]) <= jacks)
        signals_in = total(total(counts) for counts in entering.values())
        model.add(signals_in <= total(d.inputs * v.unit[unit, d.sku] for d in choices))
        for outlet in outlets:
            jacks = total(d.outlets.get(outlet, 0) * v.unit[unit, d.sku] for d in choices)
            model.add(v.points((outlet, unit)) <= jacks)
        model.add(signals_in >= total(v.unit[unit, d.sku] for d in choices))
        signals_out = total(v.points((outlet, unit)) for outlet in outlets)
        model.add(signals_out <= total(d.outputs * v.unit[unit, d.sku] for d in choices))
    _units_in_order(model, v)


def _units_in_order(model: cp_model.CpModel, v: Variables) -> None:
    """Equal units are numbered by their place in the catalogue: one of many equal answers."""
    rank = {d.sku: n for n, d in enumerate(v.demand.dsp_units, start=1)}
    ranks = [total(r * v.unit[u, sku] for sku, r in rank.items()) for u in v.units]
    for first, second in pairwise(ranks):
        model.add(first >= second)


def dsp_outputs_derive_from_their_own_inputs(model: cp_model.CpModel, v: Variables) -> None:
    """R7: a shared channel needs an input on each unit that gives it out, or one for each m outputs."""
    for unit in v.units:
        for channel in sorted({f.channel for f in v.demand.feeds if f.channel is not None}):
            entering = total(
                n for f, n in zip(v.demand.dsp_flows, v.dsp_in, strict=True)
                if f.unit == unit and f.bus == channel
            )  # fmt: skip
            outlets = sorted({o for d in v.demand.dsp_units for o in d.outlets})
            leaving = total(v.points((o, unit), channel) for o in outlets)
            model.add(entering <= leaving)
            _bus_feeds_need_an_input(model, v, unit, channel, entering)
            for choice in v.demand.dsp_units:
                if choice.outputs_per_input is not None:
                    is_it = v.unit[unit, choice.sku]
                    model.add(leaving <= choice.outputs_per_input * entering).only_enforce_if(is_it)


def _bus_feeds_need_an_input(model: cp_model.CpModel, v: Variables, unit: int, channel: str, entering: Expr) -> None:
    """One bound for each feed class: tighter, where numbers may be split, than one for all of them."""
    for feed in v.demand.feeds:
        flows = [i for i in v.into.get(feed.index, ()) if v.demand.feed_flows[i].unit == unit]
        if feed.channel == channel and flows:
            fed = total(v.feed[i] for i in flows)
            model.add(fed <= len(feed.members) * entering)
            units = total(v.unit[unit, d.sku] for d in v.demand.dsp_units)
            model.add(fed <= len(feed.members) * units)


def all_ways_come_from_one_device(model: cp_model.CpModel, v: Variables) -> None:
    """R7, R10: a feed of its own channel through a unit has one input there; its ways leave together."""
    for unit in v.units:
        leaving = _leaving_by_family(v, unit)
        firsts: dict[object, list[Expr]] = defaultdict(list)
        for feed in v.demand.feeds:
            if feed.channel is not None:
                continue
            count = leaving[feed.family, feed.way]
            if feed.way in (None, 1):
                firsts[feed.carriers].append(count)
            else:
                model.add(count == leaving[feed.family, 1])
            _ways_fit_fixed_routing(model, v, unit, count, feed.ways)
        entering: dict[object, list[cp_model.IntVar]] = defaultdict(list)
        for flow, n in zip(v.demand.dsp_flows, v.dsp_in, strict=True):
            if flow.unit == unit and flow.bus is None:
                entering[flow.carriers].append(n)
        for carriers in {**firsts, **entering}:
            model.add(total(entering[carriers]) == total(firsts[carriers]))


def _leaving_by_family(v: Variables, unit: int) -> dict[tuple[int, int | None], Expr]:
    counts: dict[tuple[int, int | None], Expr] = defaultdict(lambda: total(()))
    for flow, n in zip(v.demand.feed_flows, v.feed, strict=True):
        if flow.unit == unit and flow.feed.channel is None:
            key = (flow.feed.family, flow.feed.way)
            counts[key] = counts[key] + n
    return counts


def _ways_fit_fixed_routing(model: cp_model.CpModel, v: Variables, unit: int, count: Expr, ways: int) -> None:
    for choice in v.demand.dsp_units:
        if choice.outputs_per_input is not None and choice.outputs_per_input < ways:
            model.add(count == 0).only_enforce_if(v.unit[unit, choice.sku])
