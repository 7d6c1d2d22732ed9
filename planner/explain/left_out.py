"""E3: devices that no option uses, and how much cheaper each would have to be to enter.

To enter is to be in the cheapest answer to one of the shortlist's questions. The devices come
nearest first: for each question the cheapest design with any device not yet listed is found, and
the least extra price over all questions names the next one. So all that is not listed would
cost at least as much more as the last that is.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace

from planner.allocation.bounds import Bounds, limits_of
from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.design import Design
from planner.explain.least import LeastPrices, Priced, Settled
from planner.explain.why_gear import a_little_more, keepable
from planner.options import Answer as Shortlisted
from planner.options import Option, Question

MOST_LISTED = 10

_NO_CORNER = (Question.SPARE, Question.LEAST_SPREAD)
"""Spare outputs are a limit of the brief anyway; the spread is not searched for."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LeftOut:
    """A device that no option uses, and the question that it comes nearest to answering.

    The cheapest answer with `count` of it costs `over_minor` more, tax included. It draws level
    where each is sold `cut_minor` cheaper, before tax; None where even for nothing it would not.
    `price_minor` is what each is sold for now.
    """

    sku: str
    question: Question
    count: int
    over_minor: int
    price_minor: int
    cut_minor: int | None


@dataclass(frozen=True, kw_only=True, slots=True)
class LeftOutList:
    """The nearest devices, nearest first; `beyond_minor`: what all others cost more at least, None if none is left.

    `settled` is false where time ran out before the list was complete.
    """

    devices: tuple[LeftOut, ...]
    others: int
    beyond_minor: int | None
    settled: bool


@dataclass(kw_only=True, slots=True)
class _Corner:
    """One question of the shortlist, the bounds that it sets, and its answer's price.

    `over_minor`: with any of the devices still to be placed it costs at least so much more, with `priced` just that;
    None until it is asked.
    """

    question: Question
    bounds: Bounds
    subtotal_minor: int
    total_minor: int
    over_minor: int | None = None
    priced: Priced | None = None

    @classmethod
    def of(cls, question: Question, option: Option, brief: Brief) -> "_Corner":
        """The corner of a question that an option answers."""
        return cls(
            question=question,
            bounds=_bounds(question, option, limits_of(brief)),
            subtotal_minor=option.quote.subtotal_minor,
            total_minor=option.quote.total_minor,
        )


def left_out(
    options: Sequence[Option], shortlist: Sequence[Shortlisted], prices: LeastPrices, catalogue: Catalogue
) -> LeftOutList:
    """The devices that no option uses, nearest first; `prices` leave no device out."""
    waiting = set(_unused(options, prices, catalogue))
    corners = [_Corner.of(answer.question, option, prices.brief) for answer, option in _asked(options, shortlist)]
    found: list[LeftOut] = []

    def listed(beyond_minor: int | None, *, settled: bool) -> LeftOutList:
        return LeftOutList(devices=tuple(found), others=len(waiting), beyond_minor=beyond_minor, settled=settled)

    with suppress(_OutOfTime):
        while waiting:
            corner = _nearest(corners, waiting, prices)
            if corner is None or corner.priced is None or corner.over_minor is None:
                return listed(None, settled=True)  # no design uses any of those left
            if len(found) == MOST_LISTED:
                return listed(corner.over_minor, settled=True)
            sku = min(_uses(corner.priced.design) & waiting)
            found.append(_entry(sku, corner, corner.priced, corner.over_minor, prices))
            waiting.discard(sku)
        return listed(None, settled=True)
    return listed(None, settled=False)


class _OutOfTime(Exception):
    """A question was not settled."""


def _nearest(corners: list[_Corner], waiting: set[str], prices: LeastPrices) -> _Corner | None:
    """The question that a device still waiting comes nearest to answering, None where none is in any design.

    What a question is known to cost more with a device of more is the least it costs with one of
    fewer, so that a question is asked again only while it may be the nearest.
    """
    while corners:
        # those not asked yet first, of equals the first of the shortlist
        corner = min(corners, key=lambda one: (one.over_minor is not None, one.over_minor or 0))
        if corner.priced is not None and _uses(corner.priced.design) & waiting:
            return corner
        known = corner.total_minor + (corner.over_minor or 0)
        answer = prices.least(corner.bounds, some_of=waiting, guess_minor=a_little_more(known))
        match answer.settled:
            case Settled.OPEN:
                raise _OutOfTime
            case Settled.NONE:
                corners.remove(corner)
            case Settled.FOUND if answer.priced is not None:
                corner.priced = answer.priced
                corner.over_minor = answer.priced.price_minor - corner.total_minor
    return None


def _unused(options: Sequence[Option], prices: LeastPrices, catalogue: Catalogue) -> Iterator[str]:
    """What can be bought, is not the client's already, and stands in no option."""
    used = {unit.sku for option in options for unit in option.design.units}
    shelf = prices.shelf
    for sku in sorted(keepable(catalogue) - used):
        if shelf.usable(sku) and shelf.offers(sku) and not shelf.owned(sku):
            yield sku


def _asked(options: Sequence[Option], shortlist: Sequence[Shortlisted]) -> Iterator[tuple[Shortlisted, Option]]:
    """The questions that have an answer, each with its option."""
    option_by_id = {option.id: option for option in options}
    for answer in shortlist:
        if answer.option_id is not None and answer.question not in _NO_CORNER:
            yield answer, option_by_id[answer.option_id]


def _bounds(question: Question, option: Option, limits: Bounds) -> Bounds:
    subwoofers = sum(option.drives.values())
    match question:
        case Question.OUTPUT_EACH:
            return replace(limits, output_each=True, groups=max(limits.groups, 1))
        case Question.INDEPENDENT:
            return replace(limits, independent=max(subwoofers, limits.independent))
        case Question.ONE_LOST:
            return replace(limits, lost=1)
        case Question.NO_CONVERSION:
            return replace(limits, conversions=0)
        case Question.CHEAPEST | Question.SPARE | Question.LEAST_SPREAD:
            return limits


def _uses(design: Design) -> set[str]:
    return {unit.sku for unit in design.units}


def _entry(sku: str, corner: _Corner, priced: Priced, over_minor: int, prices: LeastPrices) -> LeftOut:
    price = prices.demand.shelf.unit_minor(sku)
    return LeftOut(
        sku=sku,
        question=corner.question,
        count=_count(sku, priced.design),
        over_minor=over_minor,
        price_minor=price,
        cut_minor=_cut(sku, corner, priced, prices, price),
    )


def _cut(sku: str, corner: _Corner, priced: Priced, prices: LeastPrices, price: int) -> int | None:
    """The least cut on each unit at which some design with it costs no more: fewer or more of it may need less.

    At a minor unit less than the cut that one design needs, the design that is then the cheapest is sought; where
    that needs no less, none does.
    """
    cut = _needed(sku, corner, priced)
    while cut:
        answer = prices.entering(corner.bounds, sku, cut - 1, corner.subtotal_minor)
        if answer.settled is Settled.OPEN:
            raise _OutOfTime
        needed = cut if answer.priced is None else _needed(sku, corner, answer.priced)
        if needed >= cut:
            break
        cut = needed
    return cut if cut <= price else None


def _needed(sku: str, corner: _Corner, priced: Priced) -> int:
    """The cut on each unit at which a design draws level."""
    return max(-(-(priced.quote.subtotal_minor - corner.subtotal_minor) // _count(sku, priced.design)), 0)


def _count(sku: str, design: Design) -> int:
    return Counter(unit.sku for unit in design.units)[sku]
