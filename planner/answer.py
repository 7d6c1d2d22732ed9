"""The whole answer to one brief, as `options` and `batch` give it: the trade-off set, or what would mend the brief."""

from planner import plan
from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.house import House
from planner.options import Result, Status


def answer(
    brief: Brief, catalogue: Catalogue, house: House, *, time_limit_s: float, progress: plan.Report | None = None
) -> Result:
    """The options; where there are none, also the single changes that would let it work, in the time left.

    Raises BadInput and PlannerBug as `plan.options`.
    """
    result = plan.options(brief, catalogue, house, time_limit_s=time_limit_s, progress=progress)
    if result.status is not Status.INFEASIBLE:
        return result
    from planner.explain.explanation import with_relaxations  # late: most briefs have a design

    return with_relaxations(result, brief, catalogue, house, time_limit_s - result.seconds)
