"""R13: the subwoofers of a channel reach their target together."""

from ortools.sat.python import cp_model

from planner.allocation.expressions import weighted
from planner.allocation.variables import Variables
from planner.demand.bass_targets import UNITS


def subwoofers_reach_their_target(model: cp_model.CpModel, v: Variables) -> None:
    """At every primary seat the pressures of those that are there add up; not asked of models of unknown level."""
    for target in v.demand.bass_targets:
        known = [v.model_of[key].negated() for key in target.unknown]
        reached = weighted((share, v.present[place]) for place, share in target.adds)
        model.add(reached >= UNITS).only_enforce_if(known)
