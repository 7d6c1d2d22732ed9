"""R2, R4, R5, R6: what one processor can carry, render and process."""

from ortools.sat.python import cp_model

from planner.allocation.expressions import Expr, total
from planner.allocation.variables import Variables
from planner.demand.outlets import Outlet


def one_processor(model: cp_model.CpModel, v: Variables) -> None:
    """Exactly one processor, with its cards, renders everything."""
    model.add_exactly_one(v.processor)


def outlets_are_not_overbooked(model: cp_model.CpModel, v: Variables) -> None:
    """R2, R6: control points in use do not exceed what the chosen processor offers."""
    for outlet in _processor_outlets(v):
        model.add(v.points((outlet, None)) <= v.offered(outlet))


def fixed_jacks_serve_their_own_channel_once(model: cp_model.CpModel, v: Variables) -> None:
    """R4: a channel that several feeds share has one fixed jack of its own, not more."""
    buses = {f.channel for f in v.demand.feeds if f.channel is not None}
    for outlet in _processor_outlets(v):
        for channel in sorted(buses & set(outlet.listed)) if outlet.fixed else ():
            model.add(v.points((outlet, None), channel) <= outlet.listed.count(channel))


def processor_renders_and_processes_enough(model: cp_model.CpModel, v: Variables) -> None:
    """R5: distinct channels, and outputs that are set separately."""
    processors = list(zip(v.demand.processors, v.processor, strict=True))
    rendered = total(p.rendered_channels * y for p, y in processors)
    processed = total(p.processed_outputs * y for p, y in processors)
    model.add(_distinct_channels(model, v) <= rendered)
    model.add(processor_points(v) <= processed)


def processor_points(v: Variables) -> Expr:
    """Processor outputs in use, each mirrored group once."""
    return total(v.points((outlet, None)) for outlet in _processor_outlets(v))


def _distinct_channels(model: cp_model.CpModel, v: Variables) -> Expr:
    """Channels that the design carries; a bass channel only where a subwoofer is there."""
    sets = v.demand.sets
    certain = {m.channel for s in sets for m in s.members[: s.least]}
    terms: list[Expr | int] = [len(certain)]
    for channel in sorted({m.channel for s in sets for m in s.members} - certain):
        used = model.new_bool_var(f"{channel} in use")
        for load in sets:
            for index in [m.index for m in load.members if m.channel == channel][:1]:
                there = total(v.present[load.name, model.sku, index] for model in load.models)
                model.add(there <= used)
        terms.append(used)
    return total(terms)


def _processor_outlets(v: Variables) -> list[Outlet]:
    return sorted({o for p in v.demand.processors for o in p.outlets})
