"""E4: the cheapest single changes and pairs of changes that mend a brief without a design, priced and ranked.

A requirement is given up whole; where it is one of degree, the slightest change that still
mends is offered too, and never costs less.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from planner.brief.records import Brief
from planner.explain.conflicts import Conflicts, without
from planner.explain.least import Answer, LeastPrices, Settled
from planner.requirements import Requirement

MOST_CHANGES = 2

Ask = Callable[[Brief], LeastPrices]


@dataclass(frozen=True, kw_only=True, slots=True)
class Mend:
    """Changes that leave a design, in words, what was asked for instead, and the least price then.

    `whole`: given up altogether, not by degree.
    """

    changes: tuple[str, ...]
    instead_of: tuple[str, ...]
    whole: bool
    answer: Answer


def mends(brief: Brief, found: Conflicts, ask: Ask) -> tuple[Mend, ...]:
    """Every single change and pair of changes known to mend, cheapest first; those not priced in time last.

    None gives up what keeps gear safe.
    """
    offered = [each for each in found.mends if len(each) <= MOST_CHANGES and not any(r.safety for r in each)]
    priced = [mend for given_up in offered for mend in _ways(brief, given_up, ask)]
    return tuple(sorted(priced, key=_rank))


def _rank(mend: Mend) -> tuple[bool, int, int, tuple[str, ...]]:
    price = mend.answer.price_minor
    return price is None, price or 0, len(mend.changes), mend.changes


def _ways(brief: Brief, given_up: tuple[Requirement, ...], ask: Ask) -> Iterator[Mend]:
    yield Mend(
        changes=tuple(r.given_up or f"not: {r.sentence}" for r in given_up),
        instead_of=tuple(r.sentence for r in given_up),
        whole=True,
        answer=ask(without(brief, given_up)).least(),
    )
    if len(given_up) == 1:
        yield from _slightest(brief, given_up[0], ask)


def _slightest(brief: Brief, requirement: Requirement, ask: Ask) -> Iterator[Mend]:
    """The slightest of the looser ways that leaves a design: each leaves no fewer than the one before."""
    low, high = 0, len(requirement.looser)
    while low < high:
        middle = (low + high) // 2
        possible = ask(requirement.looser[middle].change(brief)).exists()
        if possible is None:
            return
        low, high = (low, middle) if possible else (middle + 1, high)
    if low < len(requirement.looser):
        step = requirement.looser[low]
        answer = ask(step.change(brief)).least()
        if answer.settled is not Settled.NONE:
            yield Mend(changes=(step.sentence,), instead_of=(requirement.sentence,), whole=False, answer=answer)
