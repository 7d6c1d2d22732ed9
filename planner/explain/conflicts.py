"""E4: why there is no valid design: all smallest sets of requirements that cannot hold together.

Whatever mends the brief has to give up one requirement of every such set at least. So the
smallest choices that do so for the sets known are tried, smallest first: one that leaves a
design mends the brief; where one leaves none, another conflict is among the requirements that
are left, and is found by giving up one after another. When every smallest choice mends, no
conflict is unknown.
"""

from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass

from planner.brief.records import Brief
from planner.requirements import Requirement, requirements

MOST_CONFLICTS = 6
MOST_GIVEN_UP = 3
"""How many requirements are given up at once at most in the search for conflicts."""

Exists = Callable[[Brief], bool | None]
Chosen = frozenset[int]


@dataclass(frozen=True, kw_only=True, slots=True)
class Conflicts:
    """Each set cannot hold together, and would if any one of it were given up. `mends` are the smallest choices
    of requirements without which there is a design, of up to `MOST_GIVEN_UP`.

    `complete`: there is no other conflict, and no other mend so small.
    """

    sets: tuple[tuple[Requirement, ...], ...]
    mends: tuple[tuple[Requirement, ...], ...]
    complete: bool


def without(brief: Brief, given_up: tuple[Requirement, ...]) -> Brief:
    """The brief, no longer asking for these, which are in the order of `requirements`.

    From the last on: what is there for a loudspeaker is known by its model, until that is given up.
    """
    for requirement in reversed(given_up):
        brief = requirement.without(brief)
    return brief


def conflicts(brief: Brief, exists: Exists) -> Conflicts:
    """All conflicts of a brief that has no design; `exists` tells whether another has one, None: not known in time."""
    return _Search(brief, exists).run()


class _OutOfTime(Exception):
    """The question was not settled."""


class _Search:
    def __init__(self, brief: Brief, exists: Exists) -> None:
        self._brief, self._exists = brief, exists
        self._asked = requirements(brief)
        self._conflicts: list[Chosen] = []
        self._mends: list[Chosen] = []

    def run(self) -> Conflicts:
        complete = False
        with suppress(_OutOfTime):
            complete = self._settle()
        return Conflicts(
            sets=tuple(self._named(found) for found in sorted(self._conflicts, key=lambda c: (len(c), sorted(c)))),
            mends=tuple(self._named(found) for found in self._mends),
            complete=complete,
        )

    def _settle(self) -> bool:
        """Whether every smallest choice that hits all conflicts mends."""
        while len(self._conflicts) < MOST_CONFLICTS:
            untried = [choice for choice in hitting_sets(self._conflicts) if choice not in self._mends]
            if not untried:
                return True
            choice = min(untried, key=lambda c: (len(c), sorted(c)))
            if len(choice) > MOST_GIVEN_UP:
                return False
            if self._possible(choice):
                self._mends.append(choice)
            else:
                self._conflicts.append(self._smallest_without(choice))
        return False

    def _smallest_without(self, given_up: Chosen) -> Chosen:
        """A conflict among the other requirements; the limits are blamed before the layout is."""
        everything = frozenset(range(len(self._asked)))
        needed = everything - given_up
        for number in sorted(needed, reverse=True):
            fewer = needed - {number}
            if any(known <= fewer for known in self._conflicts) or not self._possible(everything - fewer):
                needed = fewer
        return needed

    def _possible(self, given_up: Chosen) -> bool:
        if any(mend <= given_up for mend in self._mends):
            return True
        found = self._exists(without(self._brief, self._named(given_up)))
        if found is None:
            raise _OutOfTime
        return found

    def _named(self, chosen: Chosen) -> tuple[Requirement, ...]:
        return tuple(self._asked[number] for number in sorted(chosen))


def hitting_sets(sets: list[Chosen]) -> Iterator[Chosen]:
    """The smallest choices with something of every set: none holds another; of no sets, the empty one.

    Set by set, after Berge: what hits the new one stays, the rest grow by each of its members.
    """
    found: set[Chosen] = {frozenset()}
    for each in sets:
        grown = {choice if choice & each else choice | {member} for choice in found for member in each}
        found = {choice for choice in grown if not any(other < choice for other in grown)}
    yield from found
