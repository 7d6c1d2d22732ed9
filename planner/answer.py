"""The whole answer to one brief, as `options` and `batch` give it: the trade-off set, or what would mend the brief."""

from dataclasses import replace

from planner import plan
from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.house import House
from planner.options import Relaxation, Result, Status

MENDING_SHARE = 0.5
"""How much of the time limit may go, beyond the answer itself, into what would mend a brief without a design."""


def answer(
    brief: Brief, catalogue: Catalogue, house: House, *, time_limit_s: float, progress: plan.Report | None = None
) -> Result:
    """The options; where there are none, also the single changes that would let it work.

    Raises BadInput and PlannerBug as `plan.options`.
    """
    result = plan.options(brief, catalogue, house, time_limit_s=time_limit_s, progress=progress)
    return with_relaxations(result, brief, catalogue, house, time_limit_s=time_limit_s, progress=progress)


def with_relaxations(
    result: Result, brief: Brief, catalogue: Catalogue, house: House, *,
    time_limit_s: float, progress: plan.Report | None = None,
) -> Result:  # fmt: skip
    """An answer without a design, with the single changes that mend its brief; any other as it is.

    What gives up least comes first. Whoever prints need not wait for it: the conflict is known before.
    """
    if result.status is not Status.INFEASIBLE:
        return result
    from planner.explain.clock import Clock  # late: most briefs have a design
    from planner.explain.least import LeastPrices
    from planner.explain.mends import single_changes

    report = progress or (lambda _: None)
    clock = Clock.of(MENDING_SHARE * time_limit_s, lambda text: report(plan.Progress(0, 0, text)))
    found = single_changes(
        brief, result.conflict, lambda changed, until: LeastPrices(changed, catalogue, house, until), clock
    )
    return replace(
        result,
        relaxations=tuple(
            Relaxation(change=mend.changes[0], price_minor=mend.answer.price_minor, gives_up=mend.sacrifice.words)
            for mend in found.mends
        ),
        unproven=tuple(f"Time ran out before it was known whether this would mend it: {w}." for w in found.unsettled),
    )
