"""E4: the changes that mend a brief without a design, priced, and ranked by how little they give up.

A requirement is given up whole; where it is one of degree, the slightest change that still
mends is offered too, and before it. The price comes after what is given up: leaving a set out is
seldom dear, and never what was asked.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from planner.brief.records import Brief
from planner.explain.clock import Clock
from planner.explain.conflicts import Conflicts, without
from planner.explain.least import Answer, LeastPrices, Settled
from planner.requirements import Requirement, Sacrifice, requirements

MOST_CHANGES = 2

Ask = Callable[[Brief, Clock], LeastPrices]


@dataclass(frozen=True, kw_only=True, slots=True)
class Mend:
    """Changes that leave a design, in words, what was asked for instead, and the least price then.

    `whole`: given up altogether, not by degree. `sacrifice` is the greatest of what is lost.
    """

    changes: tuple[str, ...]
    instead_of: tuple[str, ...]
    whole: bool
    sacrifice: Sacrifice
    answer: Answer


@dataclass(frozen=True, kw_only=True, slots=True)
class SingleChanges:
    """The single changes that mend a brief; `unsettled` are those of which time did not tell whether they do."""

    mends: tuple[Mend, ...]
    unsettled: tuple[str, ...]


def mends(brief: Brief, found: Conflicts, ask: Ask, clock: Clock) -> tuple[Mend, ...]:
    """Every single change and pair of changes known to mend, what gives up least first.

    None gives up what keeps gear safe.
    """
    offered = [each for each in found.mends if len(each) <= MOST_CHANGES and not any(r.safety for r in each)]
    offered.sort(key=lambda given_up: (len(given_up), max(r.sacrifice for r in given_up)))
    priced: list[Mend] = []
    for number, given_up in enumerate(offered, 1):
        clock.tell(f"pricing what would mend it: {number} of {len(offered)}")
        priced += _ways(brief, given_up, partial(_within, ask, clock))
    return tuple(sorted(priced, key=_rank))


def single_changes(brief: Brief, conflict: Sequence[str], ask: Ask, clock: Clock) -> SingleChanges:
    """The single changes that mend, what gives up least first, without a search for all conflicts.

    A change that mends resolves every conflict, so it is one of any: only the requirements that
    `conflict` names are tried, or all where it was counted and names none. Each gets its part of
    the time that is left.
    """
    asked = [requirement for requirement in requirements(brief) if not requirement.safety]
    named = [requirement for requirement in asked if requirement.sentence in conflict]
    tried = sorted(named or asked, key=lambda requirement: requirement.sacrifice)
    found: list[Mend] = []
    unsettled: list[str] = []
    for number, requirement in enumerate(tried):
        clock.tell(f"what would mend it: {number + 1} of {len(tried)}, {given_up_words(requirement)}")
        share = clock.within(clock.left_s / (len(tried) - number))
        mending = ask(requirement.without(brief), share).exists() if share.left_s else None
        if mending is None:
            unsettled.append(given_up_words(requirement))
        elif mending:
            found += _ways(brief, (requirement,), partial(_within, ask, share))
    return SingleChanges(mends=tuple(sorted(found, key=_rank)), unsettled=tuple(unsettled))


def _within(ask: Ask, clock: Clock, changed: Brief) -> LeastPrices:
    return ask(changed, clock)


def given_up_words(requirement: Requirement) -> str:
    """What giving it up means."""
    return requirement.given_up or f"not: {requirement.sentence}"


def _rank(mend: Mend) -> tuple[int, int, bool, bool, int, tuple[str, ...]]:
    price = mend.answer.price_minor
    return len(mend.changes), mend.sacrifice, mend.whole, price is None, price or 0, mend.changes


def _ways(brief: Brief, given_up: tuple[Requirement, ...], ask: Callable[[Brief], LeastPrices]) -> Iterator[Mend]:
    """By degree first, so that it is told where time runs out over the price of giving up the whole."""
    if len(given_up) == 1:
        yield from _slightest(brief, given_up[0], ask)
    yield Mend(
        changes=tuple(map(given_up_words, given_up)),
        instead_of=tuple(r.sentence for r in given_up),
        whole=True,
        sacrifice=max(r.sacrifice for r in given_up),
        answer=ask(without(brief, given_up)).least(),
    )


def _slightest(brief: Brief, requirement: Requirement, ask: Callable[[Brief], LeastPrices]) -> Iterator[Mend]:
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
            yield Mend(
                changes=(step.sentence,),
                instead_of=(requirement.sentence,),
                whole=False,
                sacrifice=requirement.sacrifice,
                answer=answer,
            )
