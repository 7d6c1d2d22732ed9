"""M8 of the model: the least level margin of all chains, in whole dB, as an expression held from above."""

from itertools import pairwise

from ortools.sat.python import cp_model

from planner.allocation.expressions import Expr, total
from planner.allocation.variables import Variables
from planner.demand.line_reach import MOST_MARGIN_DB


def least_margin(model: cp_model.CpModel, v: Variables) -> Expr:
    """The grade of the worst flow in use; the best grade where none is worse."""
    flows = [(cost.margin, n) for cost, n, _ in v.steps() if cost.margin is not None]
    starved = [(each, n) for each, n in v.starved_feeds() if each.grade is not None]
    grades = {grade for grade, _ in flows} | {each.grade for each, _ in starved if each.grade is not None}
    steps = sorted(grades | {MOST_MARGIN_DB})
    reached = {step: model.new_bool_var(f"margin of {step} dB") for step in steps[1:]}
    for lower, higher in pairwise(steps[1:]):
        model.add_implication(reached[higher], reached[lower])
    for below, step in pairwise(steps):
        for grade, n in flows:
            if grade == below:
                model.add(n == 0).only_enforce_if(reached[step])
        for each, n in starved:
            if each.grade == below:
                is_it = v.unit[each.feed.unit or 0, each.sku]
                model.add(n == 0).only_enforce_if([is_it, v.entered(each.entry), reached[step]])
    return steps[0] + total((step - below) * reached[step] for below, step in pairwise(steps))
