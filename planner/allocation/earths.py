"""M7 of the model: independent earth loops, as an expression that may read worse than it is, never better.

Every device hangs on the processor by at least one shield, so the shields without which it
would not hang there close no loop. What does: every further lead into the same amplifier or
DSP unit, and every protective earth after the first. (Loops are E - V + C of a graph in one
piece.) A shield that a terminal block has no place for is counted as if it were there.

An isolator takes a shield away. It stands before what has an earth and no further shield
(`planner.demand.isolation`), so what hangs there still does, by its earth, and one loop is gone;
unless no earth is joined to the processor any more: then the loops of leads side by side are all
that is left. So the greater of the two counts is right, as it is without isolators. Before a DSP
unit, whose shields go on, it stands only where the processor has an earth too, so that all
earthed gear is in one piece whatever is isolated.
"""

from ortools.sat.python import cp_model

from planner.allocation.expressions import Expr, total
from planner.allocation.purchases import Purchases
from planner.allocation.variables import Variables
from planner.demand.leads import Earth


def earth_loops(model: cp_model.CpModel, v: Variables, purchases: Purchases) -> cp_model.IntVar:
    """The count, held from below."""
    devices = total(v.amplifiers.values()) + total(v.unit.values())
    leads = total(v.amplifier_in) + total(v.dsp_in)
    most = 4 * sum(len(feed.members) for feed in v.demand.feeds) + 4
    loops = model.new_int_var(0, most, "earth loops")
    at_ends, at_hubs = purchases.isolated(Earth.END), purchases.isolated(Earth.HUB)
    model.add(loops >= leads - devices + _protective_earths(v) - 1 - at_ends - at_hubs)
    if v.demand.isolation.offered:
        earthed = total(chosen for p, chosen in zip(v.demand.processors, v.processor, strict=True) if p.earthed)
        model.add(at_hubs <= most * earthed)
        model.add(loops >= _side_by_side(v) - at_hubs)
    else:
        model.add(loops >= leads - devices)
    return loops


def _side_by_side(v: Variables) -> Expr:
    """Leads beyond one into each DSP unit and into each amplifier without an earth."""
    into = [use.channels for use in v.amplifier_uses if not use.amplifier.earthed]
    amplifiers = [n for a in v.demand.amplifiers if not a.earthed and (n := v.amplifiers.get(a.sku)) is not None]
    return total(v.dsp_in) + total(into) - total(v.unit.values()) - total(amplifiers)


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
