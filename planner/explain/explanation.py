"""All that is explained of one brief, and the pipeline that brings it together."""

import time
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import partial

from planner.brief.records import Brief, PhysicalLimit
from planner.catalogue.records import Catalogue
from planner.comparison.compared import MOST, Comparison, comparisons
from planner.errors import WrongUsage
from planner.explain.bands import WantedBand, named_bands, usual_bands
from planner.explain.clock import Clock, Stopped
from planner.explain.conflicts import Conflicts, conflicts
from planner.explain.least import LeastPrices, Settled
from planner.explain.left_out import LeftOutList, left_out
from planner.explain.mends import Mend, mends
from planner.explain.parallel import Work
from planner.explain.price_steps import PriceGrid, PriceSteps, ask_stairs, ask_table, found_steps, open_steps
from planner.explain.robust import Robust, robust
from planner.explain.rooms import SharedOrder, check_terms, shared_order
from planner.explain.stages import USUAL_DISCOUNT_PERCENT, NowAndLater, now_and_later
from planner.explain.why_gear import WhyDevice, all_gear_prices, open_whys, why_gear
from planner.house import House
from planner.options import Option, Result, Status
from planner.plan import Progress, Report, options

SHARE = 0.25
"""How much of the time left one question may take."""


@dataclass(frozen=True, kw_only=True, slots=True)
class WhyOption:
    """E1 to E3 of one option: price steps of the brief, comparisons, its devices, and those left out."""

    option: Option
    steps: PriceSteps
    comparisons: tuple[Comparison, ...]
    devices: tuple[WhyDevice, ...]
    left_out: LeftOutList
    robust: Robust
    stages: NowAndLater | None
    order: SharedOrder | None


@dataclass(frozen=True, kw_only=True, slots=True)
class WhyNone:
    """E4 of a brief without a design."""

    conflicts: Conflicts
    mends: tuple[Mend, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Explanation:
    """The answer that is explained, and why it is so; `unsettled` says in sentences what time did not allow."""

    result: Result
    seconds: float
    why: WhyOption | WhyNone | None
    unsettled: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Wishes:
    """What is to be explained: an option (None: the cheapest), options to compare (none: the shortlist's), how
    far prices may move (none: the usual bands), what money later is worth, and other rooms of the same order.
    """

    option_id: str | None = None
    compare: tuple[str, ...] = ()
    bands: tuple[WantedBand, ...] = ()
    discount_percent: Decimal = USUAL_DISCOUNT_PERCENT
    rooms: tuple[Brief, ...] = ()


def explain(
    brief: Brief, catalogue: Catalogue, house: House, wishes: Wishes | None = None, *,
    time_limit_s: float = 60.0, progress: Report | None = None,
) -> Explanation:  # fmt: skip
    """Options first, then why. Raises BadInput and PlannerBug as `plan.options`, WrongUsage for an unknown option.

    The options may take half of the time: what is found of them by then is explained in the rest.
    """
    started = time.monotonic()
    report = progress or (lambda _: None)
    _check(brief, catalogue, house, wishes or Wishes())
    result = options(brief, catalogue, house, time_limit_s=time_limit_s / 2, progress=report)
    return explained(
        result, brief, catalogue, house, wishes or Wishes(),
        time_limit_s=time_limit_s - (time.monotonic() - started), progress=report,
    )  # fmt: skip


def explained(
    result: Result, brief: Brief, catalogue: Catalogue, house: House, wishes: Wishes, *,
    time_limit_s: float, progress: Report = lambda _: None, stopped: Stopped = lambda: False,
) -> Explanation:  # fmt: skip
    """Why an answer is what it is. Raises WrongUsage for an option that it does not have.

    Once `stopped` is true all that is at work ends, and what is known by then is the answer, as where time runs out.
    It may be called by several threads. Whatever `progress` raises ends the explanation as well, and is raised here.
    """
    started = time.monotonic()
    tell = partial(_tell, progress, len(result.options))
    clock = replace(Clock.of(time_limit_s, tell), stopped=stopped, share=SHARE)
    why: WhyOption | WhyNone | None = None
    if result.status is Status.INFEASIBLE:
        why = why_none(brief, catalogue, house, clock, result.held)
    elif result.options:
        why = _why_option(result, brief, catalogue, house, wishes, clock)
    return Explanation(
        result=result,
        seconds=result.seconds + time.monotonic() - started,
        why=why,
        unsettled=(*result.unproven, *_unsettled(why, "It was stopped" if stopped() else "Time ran out")),
    )


def _check(brief: Brief, catalogue: Catalogue, house: House, wishes: Wishes) -> None:
    """What is wished for without a look at the options. Raises WrongUsage."""
    named_bands(wishes.bands, catalogue, house)
    if wishes.rooms:
        check_terms((brief, *wishes.rooms))


def _tell(progress: Report, found: int, text: str) -> None:
    progress(Progress(0, found, text))


def why_none(
    brief: Brief, catalogue: Catalogue, house: House, clock: Clock, held: frozenset[PhysicalLimit] | None = None
) -> WhyNone:
    """E4: the conflicts of a brief that has no design, and what mends it; `held` as in `LeastPrices`."""

    def ask(changed: Brief, until: Clock) -> LeastPrices:
        return LeastPrices(changed, catalogue, house, until, held=held)

    clock.tell("finding all that cannot hold together")
    found = conflicts(brief, lambda changed: ask(changed, clock).exists())
    return WhyNone(conflicts=found, mends=mends(brief, found, ask, clock))


def _why_option(
    result: Result, brief: Brief, catalogue: Catalogue, house: House, wishes: Wishes, clock: Clock
) -> WhyOption:
    """Every question, what a client asks first put first; wrong usage is told before any is asked."""
    option, held, rooms = chosen(result, wishes.option_id), result.held, (brief, *wishes.rooms)
    compared = _compared(option, result, brief, catalogue, house, wishes)
    _check(brief, catalogue, house, wishes)
    bands = named_bands(wishes.bands, catalogue, house) or usual_bands(result.options, catalogue, brief, house)
    grid = PriceGrid(brief, catalogue, house, clock, held, result.options)
    gear = all_gear_prices(brief, catalogue, house, clock, held)
    with Work(clock) as work:
        stairs = ask_stairs(grid, work)
        devices = work.put("why this gear", partial(why_gear, option, gear))
        moving = work.put(
            "prices that move", partial(robust, option, result.options, bands, brief, catalogue, house, clock, held)
        )
        later = partial(now_and_later, brief, catalogue, house, clock, wishes.discount_percent, held)
        stages = work.put("now and later", later) if brief.later else None
        together = partial(shared_order, rooms, catalogue, house, clock)
        order = work.put(f"{len(rooms)} rooms in one order", together) if wishes.rooms else None
        out = work.put(
            "devices left out",
            partial(left_out, result.options, result.shortlist, gear, catalogue),
            after=(devices,),
        )
        ask_table(grid, work, stairs)
    return WhyOption(
        option=option,
        steps=found_steps(grid),
        comparisons=compared,
        devices=devices.result(),
        left_out=out.result(),
        robust=moving.result(),
        stages=None if stages is None else stages.result(),
        order=None if order is None else order.result(),
    )


def _compared(
    option: Option, result: Result, brief: Brief, catalogue: Catalogue, house: House, wishes: Wishes
) -> tuple[Comparison, ...]:
    """The options asked for, or those of the shortlist if there are any others."""
    ids = wishes.compare or compared_by_default(result, option)
    if not wishes.compare and len(ids) == 1:
        return ()
    return comparisons(ids, result.options, brief, catalogue, house)


def chosen(result: Result, option_id: str | None) -> Option:
    """The option of this id, or the cheapest. Raises WrongUsage where there is none of it."""
    if option_id is None:
        return result.options[0]
    for option in result.options:
        if option.id == option_id:
            return option
    raise WrongUsage(f"no option {option_id}. The options are {', '.join(o.id for o in result.options)}.")


def compared_by_default(result: Result, option: Option) -> tuple[str, ...]:
    """The option explained, and the first other answers of the shortlist."""
    answers = (answer.option_id for answer in result.shortlist)
    ids = dict.fromkeys((option.id, *(option_id for option_id in answers if option_id is not None)))
    return tuple(ids)[:MOST]


def _unsettled(why: WhyOption | WhyNone | None, ended: str) -> Sequence[str]:
    match why:
        case WhyNone(conflicts=found) if not found.complete:
            return ("There may be other conflicts, and other changes that mend the brief.",)
        case WhyOption(steps=steps, devices=devices, left_out=out, robust=movement, stages=stages, order=order):
            lines = []
            if count := open_steps(steps):
                lines.append(f"{ended} before {count} of the price steps were settled.")
            if count := open_whys(devices):
                lines.append(f"{ended} before {count} of the prices without a device were settled.")
            if not out.settled:
                lines.append(f"{ended} before the devices left out were all placed.")
            if not movement.settled:
                lines.append(f"{ended} before every movement of prices was settled.")
            if stages is not None and not stages.settled:
                lines.append(f"{ended} before the plan for now and later was settled.")
            if order is not None and order.settled is Settled.OPEN:
                lines.append(f"{ended} before the order of several rooms was settled.")
            return lines
    return ()
