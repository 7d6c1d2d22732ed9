"""E3: why this gear. What an option would cost without each of its devices, and what was near.

Everything is asked within the option's own measures, so that what is compared offers no less.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from math import floor

from planner.allocation.bounds import Bounds, limits_of
from planner.brief.records import Brief, Measure, PhysicalLimit
from planner.catalogue.records import Catalogue
from planner.comparison.gear import BOXES, GearChange, gear, gear_change
from planner.demand.line_reach import MOST_MARGIN_DB
from planner.design import Measures, UnitKind
from planner.explain.clock import Clock
from planner.explain.least import Answer, LeastPrices, Priced, Settled
from planner.house import House
from planner.options import Option

MOST_ALTERNATIVES = 2
_WITH_LEADS = (UnitKind.SPLITTER, UnitKind.ISOLATOR)  # chosen with their leads, and not asked about
_KINDS = (*(kind for kind in BOXES if kind not in _WITH_LEADS), UnitKind.LOUDSPEAKER, UnitKind.SUBWOOFER)


class Bound(StrEnum):
    """Why a device is no matter of price: the brief NAMES it, or asks for it to be USED."""

    NAMED = "named"
    USED = "must_be_used"


@dataclass(frozen=True, kw_only=True, slots=True)
class Alternative:
    """The cheapest design without a device, and without those of the alternatives before this one."""

    answer: Answer
    over_minor: int | None
    gear: GearChange | None


@dataclass(frozen=True, kw_only=True, slots=True)
class WhyDevice:
    """One device of the option. `bound` tells why it is not a choice; else what it would cost without."""

    sku: str
    kind: UnitKind
    count: int
    bound: Bound | None
    alternatives: tuple[Alternative, ...] = ()


def bounds_of(measures: Measures, brief: Brief) -> Bounds:
    """What a design offers in the measures that the brief weighs, and the brief's own limits."""
    limits, weighed = limits_of(brief), brief.measures
    return replace(
        limits,
        independent=measures.independent_subs if Measure.INDEPENDENT_SUBWOOFERS in weighed else limits.independent,
        spare=measures.spare_outputs if Measure.SPARE_OUTPUTS in weighed else limits.spare,
        lost=measures.subs_lost_worst if Measure.SUBWOOFERS_LOST in weighed else limits.lost,
        conversions=measures.conversions if Measure.CONVERSIONS in weighed else None,
        joints=measures.joints if Measure.JOINTS in weighed else None,
        loops=measures.earth_loops if Measure.EARTH_LOOPS in weighed else limits.loops,
        margin=_margin(measures) if Measure.LEAST_MARGIN in weighed else None,
    )


def _margin(measures: Measures) -> int | None:
    """The level margin as it is weighed: in whole dB, up to a ceiling; a sliver is how a level is reckoned."""
    margin_db = measures.least_margin_db
    return None if margin_db is None else min(floor(margin_db + 1e-6), MOST_MARGIN_DB)


def keepable(catalogue: Catalogue) -> frozenset[str]:
    """Every device of the catalogue that a design may be asked to use or to do without."""
    kinds = (
        catalogue.processors, catalogue.cards, catalogue.dsp_units,
        catalogue.amplifiers, catalogue.loudspeakers, catalogue.subwoofers,
    )  # fmt: skip
    return frozenset(item.sku for items in kinds for item in items)


def all_gear_prices(
    brief: Brief, catalogue: Catalogue, house: House, clock: Clock, held: frozenset[PhysicalLimit] | None = None
) -> LeastPrices:
    """Least prices of a brief with no device left out, to be asked with and without; `held` as in `LeastPrices`."""
    return LeastPrices(brief, catalogue, house, clock, keepable(catalogue), held=held)


def why_gear(option: Option, prices: LeastPrices) -> tuple[WhyDevice, ...]:
    """Each device of an option, in the order of the kinds; `prices` leave no device out."""
    return tuple(_whys(option, prices))


def _whys(option: Option, prices: LeastPrices) -> Iterator[WhyDevice]:
    now = Priced.of(option)
    bounds = bounds_of(option.measures, prices.brief)
    for line in gear(option.design, _KINDS):
        bound = _bound(line.sku, prices.brief)
        yield WhyDevice(
            sku=line.sku,
            kind=line.kind,
            count=line.count,
            bound=bound,
            alternatives=() if bound else tuple(_alternatives(line.sku, line.kind, now, bounds, prices)),
        )


def _bound(sku: str, brief: Brief) -> Bound | None:
    if any(entry.sku == sku and entry.must_use for entry in brief.owned):
        return Bound.USED
    candidates = [*(s.candidates for s in brief.loudspeakers), *(s.candidates for s in brief.subwoofers)]
    return Bound.NAMED if (sku,) in candidates else None


def _alternatives(sku: str, kind: UnitKind, now: Priced, bounds: Bounds, prices: LeastPrices) -> Iterator[Alternative]:
    """Without the device; then without those of its kind that came in for it too."""
    without, last = {sku}, now
    for _ in range(MOST_ALTERNATIVES):
        answer = prices.least(bounds, none_of=without, guess_minor=a_little_more(last.price_minor))
        if answer.priced is None:
            yield Alternative(answer=answer, over_minor=None, gear=None)
            return
        change = gear_change(now.design, answer.priced.design)
        over = answer.priced.price_minor - now.price_minor
        yield Alternative(answer=answer, over_minor=over, gear=change)
        came = {line.sku for line in change.added if line.kind is kind}
        if not came:
            return
        without |= came
        last = answer.priced


def a_little_more(price_minor: int) -> int:
    """A guess at the next cheapest: devices of one kind seldom differ more, of what the whole costs."""
    return price_minor + price_minor // 50


def open_whys(devices: Iterable[WhyDevice]) -> int:
    """How many prices time did not allow to settle."""
    return sum(a.answer.settled is Settled.OPEN for device in devices for a in device.alternatives)
