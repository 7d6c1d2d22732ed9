"""R11: what a DSP unit cannot be driven far enough for. Single flows that fall short do not exist at all."""

from ortools.sat.python import cp_model

from planner.allocation.variables import Variables


def dsp_units_are_driven_far_enough(model: cp_model.CpModel, v: Variables) -> None:
    """No feed on a unit whose greatest gain does not bring what enters up to what the feed asks for."""
    for starved, feed in v.starved_feeds():
        if starved.grade is None:
            is_it = v.unit[starved.feed.unit or 0, starved.sku]
            model.add(feed == 0).only_enforce_if([is_it, v.entered(starved.entry)])
