"""All that is explained of one brief, and the pipeline that brings it together."""

import time
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.comparison.compared import MOST, Comparison, comparisons
from planner.errors import WrongUsage
from planner.explain.bands import WantedBand, named_bands, usual_bands
from planner.explain.clock import Clock
from planner.explain.conflicts import Conflicts, conflicts
from planner.explain.least import LeastPrices, Settled
from planner.explain.left_out import LeftOutList, left_out
from planner.explain.mends import Mend, mends
from planner.explain.parallel import asked_together
from planner.explain.price_steps import PriceSteps, open_steps, price_steps
from planner.explain.robust import Robust, robust
from planner.explain.rooms import SharedOrder, shared_order
from planner.explain.stages import USUAL_DISCOUNT_PERCENT, NowAndLater, now_and_later
from planner.explain.why_gear import WhyDevice, all_gear_prices, open_whys, why_gear
from planner.house import House
from planner.options import Option, Result, Status
from planner.plan import Progress, Report, options


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
    """Options first, then why. Raises BadInput and PlannerBug as `plan.options`, WrongUsage for an unknown option."""
    started = time.monotonic()
    report = progress or (lambda _: None)
    result = options(brief, catalogue, house, time_limit_s=time_limit_s, progress=report)
    return explained(
        result, brief, catalogue, house, wishes or Wishes(),
        time_limit_s=time_limit_s - (time.monotonic() - started), progress=report,
    )  # fmt: skip


def explained(
    result: Result, brief: Brief, catalogue: Catalogue, house: House, wishes: Wishes, *,
    time_limit_s: float, progress: Report = lambda _: None,
) -> Explanation:  # fmt: skip
    """Why an answer is what it is. Raises WrongUsage for an option that it does not have."""
    started = time.monotonic()
    clock = Clock.of(time_limit_s, lambda text: progress(Progress(0, len(result.options), text)))
    why: WhyOption | WhyNone | None = None
    if result.status is Status.INFEASIBLE:
        why = why_none(brief, catalogue, house, clock)
    elif result.options:
        why = _why_option(result, brief, catalogue, house, wishes, clock)
    return Explanation(
        result=result,
        seconds=result.seconds + time.monotonic() - started,
        why=why,
        unsettled=(*result.unproven, *_unsettled(why)),
    )


def why_none(brief: Brief, catalogue: Catalogue, house: House, clock: Clock) -> WhyNone:
    """E4: the conflicts of a brief that has no design, and what mends it."""

    def ask(changed: Brief, until: Clock) -> LeastPrices:
        return LeastPrices(changed, catalogue, house, until)

    clock.tell("finding all that cannot hold together")
    found = conflicts(brief, lambda changed: ask(changed, clock).exists())
    return WhyNone(conflicts=found, mends=mends(brief, found, ask, clock))


def _why_option(
    result: Result, brief: Brief, catalogue: Catalogue, house: House, wishes: Wishes, clock: Clock
) -> WhyOption:
    option = chosen(result, wishes.option_id)
    to_compare = wishes.compare or compared_by_default(result, option)
    asked = wishes.compare or len(to_compare) > 1
    compared = comparisons(to_compare, result.options, brief, catalogue, house) if asked else ()
    bands = named_bands(wishes.bands, catalogue, house) if wishes.bands else None
    movements = bands or usual_bands(result.options, catalogue, brief, house)
    # questions that share nothing are asked side by side
    steps, (devices, out), movement = asked_together(
        lambda: price_steps(brief, catalogue, house, clock),
        lambda: _gear(option, result, brief, catalogue, house, clock),
        lambda: robust(option, result.options, movements, brief, catalogue, house, clock),
    )
    return WhyOption(
        option=option,
        steps=steps,
        comparisons=compared,
        devices=devices,
        left_out=out,
        robust=movement,
        stages=now_and_later(brief, catalogue, house, clock, wishes.discount_percent),
        order=shared_order((brief, *wishes.rooms), catalogue, house, clock) if wishes.rooms else None,
    )


def _gear(
    option: Option, result: Result, brief: Brief, catalogue: Catalogue, house: House, clock: Clock
) -> tuple[tuple[WhyDevice, ...], LeftOutList]:
    """E3: both parts ask one model."""
    prices = all_gear_prices(brief, catalogue, house, clock)
    devices = why_gear(option, prices, clock)
    return devices, left_out(result.options, result.shortlist, prices, catalogue, clock)


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


def _unsettled(why: WhyOption | WhyNone | None) -> Sequence[str]:
    match why:
        case WhyNone(conflicts=found) if not found.complete:
            return ("There may be other conflicts, and other changes that mend the brief.",)
        case WhyOption(steps=steps, devices=devices, left_out=out, robust=movement, stages=stages, order=order):
            lines = []
            if count := open_steps(steps):
                lines.append(f"Time ran out before {count} of the price steps were settled.")
            if count := open_whys(devices):
                lines.append(f"Time ran out before {count} of the prices without a device were settled.")
            if not out.settled:
                lines.append("Time ran out before the devices left out were all placed.")
            if not movement.settled:
                lines.append("Time ran out before every movement of prices was settled.")
            if stages is not None and not stages.settled:
                lines.append("Time ran out before the plan for now and later was settled.")
            if order is not None and order.settled is Settled.OPEN:
                lines.append("Time ran out before the order of several rooms was settled.")
            return lines
    return ()
