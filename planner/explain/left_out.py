"""E3: devices that no option uses, and how much cheaper each would have to be to enter.

To enter is to be in the cheapest answer to one of the shortlist's questions. The devices come
nearest first: for each question the cheapest design with any device not yet listed is found, and
the least extra price over all questions names the next one. So all that is not listed would
cost at least as much more as the last that is.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from planner.allocation.bounds import Bounds, limits_of
from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.design import Design
from planner.explain.clock import Clock
from planner.explain.least import Answer, LeastPrices, Settled
from planner.explain.why_gear import keepable
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


@dataclass(frozen=True, kw_only=True, slots=True)
class _Corner:
    """One question of the shortlist, the bounds that it sets, and its answer's price."""

    question: Question
    bounds: Bounds
    subtotal_minor: int
    total_minor: int


def left_out(
    options: Sequence[Option], shortlist: Sequence[Shortlisted], prices: LeastPrices, catalogue: Catalogue, clock: Clock
) -> LeftOutList:
    """The devices that no option uses, nearest first; `prices` leave no device out."""
    waiting = set(_unused(options, prices, catalogue))
    corners = tuple(_corners(options, shortlist, prices.brief))
    found: list[LeftOut] = []
    nearest: dict[Question, Answer] = {}
    while waiting:
        clock.tell(f"devices left out: {len(found)} placed")
        for corner in corners:
            if corner.question not in nearest or _outdated(nearest[corner.question], waiting):
                nearest[corner.question] = prices.least(corner.bounds, some_of=waiting)
        if any(answer.settled is Settled.OPEN for answer in nearest.values()):
            return LeftOutList(devices=tuple(found), others=len(waiting), beyond_minor=None, settled=False)
        best = _best(corners, nearest)
        if best is None:  # no design uses any of those left
            return LeftOutList(devices=tuple(found), others=len(waiting), beyond_minor=None, settled=True)
        corner, design, over = best
        if len(found) == MOST_LISTED:
            return LeftOutList(devices=tuple(found), others=len(waiting), beyond_minor=over, settled=True)
        for sku in sorted(_uses(design) & waiting):
            found.append(_entry(sku, corner, nearest[corner.question], prices))
            waiting.discard(sku)
            break
    return LeftOutList(devices=tuple(found), others=0, beyond_minor=None, settled=True)


def _unused(options: Sequence[Option], prices: LeastPrices, catalogue: Catalogue) -> Iterator[str]:
    """What can be bought, is not the client's already, and stands in no option."""
    used = {unit.sku for option in options for unit in option.design.units}
    shelf = prices.demand.shelf
    for sku in sorted(keepable(catalogue) - used):
        if shelf.usable(sku) and shelf.offers(sku) and not shelf.owned(sku):
            yield sku


def _corners(options: Sequence[Option], shortlist: Sequence[Shortlisted], brief: Brief) -> Iterator[_Corner]:
    option_by_id = {option.id: option for option in options}
    for answer in shortlist:
        if answer.option_id is not None and answer.question not in _NO_CORNER:
            option = option_by_id[answer.option_id]
            yield _Corner(
                question=answer.question,
                bounds=_bounds(answer.question, option, limits_of(brief)),
                subtotal_minor=option.quote.subtotal_minor,
                total_minor=option.quote.total_minor,
            )


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


def _outdated(answer: Answer, waiting: set[str]) -> bool:
    """Whether the design of an answer uses nothing any more that is still to be placed."""
    return answer.priced is not None and not _uses(answer.priced.design) & waiting


def _best(corners: Sequence[_Corner], nearest: dict[Question, Answer]) -> tuple[_Corner, Design, int] | None:
    """The question that the nearest device comes nearest to, the design with it, and the extra price."""
    found = [
        (priced.price_minor - corner.total_minor, number, corner, priced.design)
        for number, corner in enumerate(corners)
        if (priced := nearest[corner.question].priced) is not None
    ]
    over, _, corner, design = min(found, default=(0, 0, None, None), key=lambda entry: entry[:2])
    return None if corner is None or design is None else (corner, design, over)


def _uses(design: Design) -> set[str]:
    return {unit.sku for unit in design.units}


def _entry(sku: str, corner: _Corner, answer: Answer, prices: LeastPrices) -> LeftOut:
    assert answer.priced is not None
    count = Counter(unit.sku for unit in answer.priced.design.units)[sku]
    price = prices.demand.shelf.unit_minor(sku)
    return LeftOut(
        sku=sku,
        question=corner.question,
        count=count,
        over_minor=answer.priced.price_minor - corner.total_minor,
        price_minor=price,
        cut_minor=_cut(sku, corner, answer, prices, price),
    )


def _cut(sku: str, corner: _Corner, answer: Answer, prices: LeastPrices, price: int) -> int | None:
    """The least cut on each unit at which some design with it costs no more: fewer or more of it may need less.

    At each cut the design that gains most from it is found; it never needs more than the one
    before, and where it needs no less the cut is the least.
    """
    cut: int | None = None
    while answer.priced is not None:
        count = Counter(unit.sku for unit in answer.priced.design.units)[sku]
        needed = -(-(answer.priced.quote.subtotal_minor - corner.subtotal_minor) // count)
        if cut is not None and needed >= cut:
            break
        cut = max(needed, 0)
        if cut == 0:
            break
        answer = prices.gaining_most(corner.bounds, sku, cut - 1)
    return cut if cut is not None and cut <= price else None
