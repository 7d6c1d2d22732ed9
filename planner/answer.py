"""The whole answer to one brief, as `options` and `batch` give it: the trade-off set, or what would mend the brief."""

import time
from dataclasses import replace
from typing import TYPE_CHECKING

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.house import House
from planner.kept import remembered
from planner.options import Relaxation, Result, Status
from planner.verified_again import verified_again

if TYPE_CHECKING:
    from planner.plan import Report

_FAR_FROM_OUT = 0.5
"""An answer that took no more than this part of its time lacks nothing for want of it."""

MENDING_SHARE = 0.5
"""How much of the time limit may go, beyond the answer itself, into what would mend a brief without a design."""


def answer(
    brief: Brief, catalogue: Catalogue, house: House, *, time_limit_s: float, progress: "Report | None" = None
) -> Result:
    """The options; where there are none, also the single changes that would let it work.

    Raises BadInput and PlannerBug as `plan.options`.
    """
    result = options(brief, catalogue, house, time_limit_s=time_limit_s, progress=progress)
    return with_relaxations(result, brief, catalogue, house, time_limit_s=time_limit_s, progress=progress)


def options(
    brief: Brief, catalogue: Catalogue, house: House, *, time_limit_s: float, progress: "Report | None" = None
) -> Result:
    """The same as `plan.options`, recalled where the same was asked before; but for `seconds` it says the same.

    An answer for which time grew short may lack something, and is not kept. What the project is called makes
    no difference to an answer. What is recalled is verified again.
    """
    started = time.monotonic()

    def searched() -> Result:
        from planner import plan  # late: the solver need not load for what is recalled

        return plan.options(brief, catalogue, house, time_limit_s=time_limit_s, progress=progress)

    named_alike = replace(brief, project=replace(brief.project, name="", client="", reference=""))
    result = remembered(
        "options",
        (named_alike, catalogue, house),
        Result,
        searched,
        worth=lambda found: found.status is not Status.PARTIAL and found.seconds <= _FAR_FROM_OUT * time_limit_s,
        sound=lambda recalled: verified_again(recalled, brief, catalogue, house),
    )
    return replace(result, seconds=time.monotonic() - started)


def with_relaxations(
    result: Result, brief: Brief, catalogue: Catalogue, house: House, *,
    time_limit_s: float, progress: "Report | None" = None,
) -> Result:  # fmt: skip
    """An answer without a design, with the single changes that mend its brief; any other as it is.

    What gives up least comes first. Whoever prints need not wait for it: the conflict is known before.
    """
    if result.status is not Status.INFEASIBLE:
        return result
    from planner.explain.clock import Clock  # late: most briefs have a design
    from planner.explain.least import LeastPrices
    from planner.explain.mends import single_changes
    from planner.plan import Progress

    report = progress or (lambda _: None)
    clock = Clock.of(MENDING_SHARE * time_limit_s, lambda text: report(Progress(0, 0, text)))
    found = single_changes(
        brief,
        result.conflict,
        lambda changed, until: LeastPrices(changed, catalogue, house, until, held=result.held),
        clock,
    )
    return replace(
        result,
        relaxations=tuple(
            Relaxation(change=mend.changes[0], price_minor=mend.answer.price_minor, gives_up=mend.sacrifice.words)
            for mend in found.mends
        ),
        unproven=tuple(f"Time ran out before it was known whether this would mend it: {w}." for w in found.unsettled),
    )
