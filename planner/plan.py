"""The pipeline: brief and catalogue in, a proven trade-off set out, every option verified."""

import time
from collections.abc import Callable
from dataclasses import dataclass, replace

from planner.allocation.bounds import Bounds, limits_of
from planner.allocation.parts import Parts
from planner.allocation.solve import Verdict
from planner.allocation.trade_off import TradeOff, TradeOffSearch
from planner.bass.ahead import BassAhead
from planner.brief.against import brief_faults
from planner.brief.records import Brief, Drive
from planner.catalogue.records import Catalogue
from planner.conflict import conflict
from planner.demand.build import build_demand
from planner.demand.line_reach import MOST_MARGIN_DB
from planner.design import Design
from planner.errors import BadInput
from planner.finds import Finds
from planner.house import House
from planner.limits_met import LimitsBroken, LimitWatch, holding, likely
from planner.options import Option, Result, Status
from planner.proof import proven_options
from planner.shortlist import Known, has_output_each, shortlist
from planner.words import counted, listed


@dataclass(frozen=True, slots=True)
class Progress:
    """How far the work is: solves done, designs found, and what is being done, in words."""

    done: int
    found: int
    text: str


Report = Callable[[Progress], None]

CONFLICT_SHARE = 0.25
"""How much of the time limit the reasons may take where the search has used it up."""


def options(
    brief: Brief, catalogue: Catalogue, house: House, *, time_limit_s: float = 60.0, progress: Report | None = None
) -> Result:
    """The trade-off set of a brief with its shortlist, or the conflict where there is no design.

    Raises BadInput where the brief does not fit the catalogue, PlannerBug where the verifier
    does not confirm a design.
    """
    started = time.monotonic()
    deadline = started + time_limit_s
    report = progress or (lambda _: None)
    faults = brief_faults(brief, catalogue, house)
    if faults:
        raise BadInput(faults)
    report(Progress(0, 0, "reading what the catalogue can do"))
    with BassAhead(brief, catalogue) as ahead:
        finds, found = _searched(brief, catalogue, house, deadline, report, ahead.note)
    if not found.found and not found.open_cells:
        seconds = max(deadline - time.monotonic(), CONFLICT_SHARE * time_limit_s)
        reasons = conflict(brief, catalogue, house, seconds, lambda text: report(Progress(found.solves, 0, text)))
        return Result(
            status=Status.INFEASIBLE,
            currency=brief.project.currency,
            seconds=time.monotonic() - started,
            conflict=reasons,
            held=finds.demand.brief.limits.physical,
        )
    report(Progress(found.solves, len(found.found), "checking every option"))
    checked = proven_options(found, finds, house)
    output_each = _output_each(finds, house, checked, deadline)
    return Result(
        status=Status.PARTIAL if found.open_cells else Status.PROVEN,
        currency=brief.project.currency,
        seconds=time.monotonic() - started,
        options=checked,
        shortlist=shortlist(checked, brief, Known(settled=not found.open_cells, output_each=output_each)),
        unproven=tuple(_in_words(bounds) for bounds in found.open_cells),
        held=finds.demand.brief.limits.physical,
    )


def _searched(
    brief: Brief, catalogue: Catalogue, house: House, deadline: float, report: Report, met: Callable[[Design], None]
) -> tuple[Finds, TradeOff]:
    """The trade-off set, every physical limit in the search that turns out to matter; see `planner.limits_met`.

    `met` sees every design as it is found.
    """

    def tick(done: int, found: int) -> None:
        what = "proving the cheapest design for each combination of measures" if found else "trying every processor"
        report(Progress(done, found, what))

    held = likely(brief)
    while True:
        demand = build_demand(holding(brief, held), catalogue, house)
        finds = Finds(demand, brief, catalogue, met)
        if not demand.possible:
            return finds, TradeOff((), (), 0)
        watch = LimitWatch(finds)
        search = TradeOffSearch(Parts(demand), limits_of(brief), brief.measures, _ceilings(brief), tick, watch)
        try:
            return finds, search.run(deadline)
        except LimitsBroken as broken:
            held |= broken.limits


def _ceilings(brief: Brief) -> tuple[int, ...]:
    """The best that each bounded measure can be: losses and conversions count downwards."""
    subwoofers = sum(s.most for s in brief.subwoofers)
    certain = sum(s.least for s in brief.subwoofers)
    return (subwoofers, brief.limits.spare_ceiling, -min(certain, 1), 0, 0, 0, MOST_MARGIN_DB)


def _output_each(finds: Finds, house: House, checked: tuple[Option, ...], deadline: float) -> bool | None:
    """Whether some design gives every subwoofer an output of its own; None where time ran out first.

    Where there is none with the limits that the search held, there is none with all; where there is one,
    it may keep all.
    """
    brief = finds.brief
    if any(has_output_each(option) for option in checked):
        return True
    if Drive.DEDICATED not in brief.limits.drives or not any(s.most for s in brief.subwoofers):
        return False
    limits = limits_of(brief)
    wanted = replace(limits, groups=max(limits.groups, 1), output_each=True)  # a group at least: not without subwoofers
    found = Parts(finds.demand).exists(wanted, deadline - time.monotonic())
    if found.counts is not None and LimitWatch(finds).broken(found.counts):
        if time.monotonic() >= deadline:
            return None
        demand = build_demand(brief, finds.catalogue, house)
        found = Parts(demand).exists(wanted, deadline - time.monotonic())
    return None if found.verdict is Verdict.UNKNOWN else found.verdict is Verdict.FEASIBLE


def _in_words(bounds: Bounds) -> str:
    """What was not settled, as a sentence."""
    wanted = []
    if bounds.independent:
        wanted.append(f"{counted(bounds.independent, 'subwoofer')} or more set independently")
    if bounds.spare:
        wanted.append(f"{counted(bounds.spare, 'spare output')} or more")
    if bounds.lost is not None:
        wanted.append(f"no more than {counted(bounds.lost, 'subwoofer')} lost by one failure")
    if bounds.conversions is not None:
        wanted.append(f"no more than {counted(bounds.conversions, 'conversion')}")
    if bounds.joints is not None:
        wanted.append(f"no more than {bounds.joints} joints and boxes")
    if bounds.loops is not None:
        wanted.append(f"no more than {counted(bounds.loops, 'earth loop')}")
    if bounds.margin is not None:
        wanted.append(f"a level margin of {bounds.margin} dB or more")
    return f"Not settled: the cheapest design with {listed(tuple(wanted)) or 'no further wishes'}."
