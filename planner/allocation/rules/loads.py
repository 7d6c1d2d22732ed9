"""R1, and which loads there are: models, members, and every feed driven once."""

from ortools.sat.python import cp_model

from planner.allocation.expressions import total
from planner.allocation.variables import Variables, members_of


def one_model_for_each_set(model: cp_model.CpModel, v: Variables) -> None:
    """All members of a set are one chosen model."""
    for load in v.demand.sets:
        model.add_exactly_one(v.model_of[load.name, m.sku] for m in load.models)


def members_in_order(model: cp_model.CpModel, v: Variables) -> None:
    """Members are there from the first on: the least number always, no gaps after."""
    for load in v.demand.sets:
        for served in load.models:
            chosen = v.model_of[load.name, served.sku]
            present = [v.present[load.name, served.sku, m.index] for m in load.members]
            for index, there in enumerate(present):
                if index < load.least:
                    model.add(there == chosen)
                else:
                    model.add(there <= (present[index - 1] if index else chosen))


def every_feed_is_driven_once(model: cp_model.CpModel, v: Variables) -> None:
    """R1: as many flows into a class as members are there and not fed by a chain."""
    for feed in v.demand.feeds:
        flows = total(v.feed[i] for i in v.into.get(feed.index, ()))
        wanted = total(v.present[m] - v.fed_by_chain(m) for m in members_of(feed))
        model.add(flows == wanted)
