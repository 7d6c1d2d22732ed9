"""M7 of the model: independent earth loops, as an expression that may read worse than it is, never better.

Every device hangs on the processor by at least one shield, so the shields without which it
would not hang there close no loop. What does: every further lead into the same amplifier or
DSP unit, and every protective earth after the first. (Loops are E - V + C of a graph in one
piece.) A shield that a terminal block has no place for is counted as if it were there.
"""

from ortools.sat.python import cp_model

from planner.allocation.expressions import Expr, total
from planner.allocation.variables import Variables


def earth_loops(model: cp_model.CpModel, v: Variables) -> cp_model.IntVar:
    """The count, held from below."""
    devices = total(v.amplifiers.values()) + total(v.unit.values())
    leads = total(v.amplifier_in) + total(v.dsp_in)
    most = 4 * sum(len(feed.members) for feed in v.demand.feeds) + 4
    loops = model.new_int_var(0, most, "earth loops")
    model.add(loops >= leads - devices)
    model.add(loops >= leads - devices + _protective_earths(v) - 1)
    return loops


def _protective_earths(v: Variables) -> Expr:
    demand = v.demand
    earths: list[Expr | int] = [chosen for p, chosen in zip(demand.processors, v.processor, strict=True) if p.earthed]
    earths += [v.unit[u, d.sku] for u in v.units for d in demand.dsp_units if d.earthed]
    earths += [v.amplifiers[a.sku] for a in demand.amplifiers if a.earthed and a.sku in v.amplifiers]
    earths += [
        v.present[load.name, served.sku, member.index]
        for load in demand.sets
        for served in load.models
        for member in load.members
        if served.earthed
    ]
    return total(earths)
