"""R16: the rack."""

from ortools.sat.python import cp_model

from planner.allocation.expressions import Expr, total
from planner.allocation.variables import Variables


def rack_holds_everything(model: cp_model.CpModel, v: Variables) -> None:
    """R16: rack units of all that stands in the rack."""
    units = v.demand.brief.rack.units
    if units is None:
        return
    in_rack: list[Expr | int] = [p.rack_units * y for p, y in zip(v.demand.processors, v.processor, strict=True)]
    for choice in v.demand.dsp_units:
        in_rack += [choice.rack_units * v.unit[u, choice.sku] for u in v.units]
    for amplifier in v.demand.amplifiers if v.amplifiers else ():
        in_rack.append(amplifier.rack_units * v.amplifiers[amplifier.sku])
    for load in v.demand.sets:
        for served in load.models:
            in_rack += [served.rack_units * v.present[load.name, served.sku, m.index] for m in load.members]
    model.add(total(in_rack) <= units)
