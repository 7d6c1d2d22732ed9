"""One to all subwoofers: what each further one does, and where the fewer would best stand.

For each count, all sets of the positions given are compared, those that are mirror images of one another once:
on one signal exactly, and each on its own by a quick search, of which the best is then searched fully.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from planner.bass.best_settings import Best, best_settings, quick_settings
from planner.bass.groupings import Permutation
from planner.bass.ways import Search, Way

Members = tuple[int, ...]

MOST_CHOICES = 300
"""Beyond so many ways to choose the positions of one count they are not compared."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Count:
    """So many subwoofers: in the brief's order, and at the best of its positions.

    Each result is with one signal to all, or with each on its own. The best are None where there are too many
    ways to choose. `choices` is how many there are, mirror images counted.
    """

    subwoofers: int
    choices: int
    in_order_one_signal: Best
    in_order_own: Best
    best_one_signal: Best | None
    best_own: Best | None


@dataclass(frozen=True, kw_only=True, slots=True)
class Positions:
    """The field's subwoofers as positions to choose from.

    `set_of` is the set that each belongs to, `most` how many of each set may be chosen; `symmetries`
    are of all positions.
    """

    set_of: tuple[int, ...]
    most: tuple[int, ...]
    symmetries: Sequence[Permutation] = ()

    def choices(self, count: int) -> Iterator[Members]:
        """Every choice of so many positions that no set has too many of."""
        for members in combinations(range(len(self.set_of)), count):
            chosen = [self.set_of[n] for n in members]
            if all(chosen.count(one) <= most for one, most in enumerate(self.most)):
                yield members

    def unlike(self, choices: Sequence[Members]) -> list[Members]:
        """One of each family of mirror images, the first of it."""
        seen: set[Members] = set()
        kept: list[Members] = []
        for members in choices:
            if members not in seen:
                kept.append(members)
                seen.update(tuple(sorted(image[n] for n in members)) for image in self.symmetries)
        return kept


def counts(search: Search, positions: Positions, ways: Sequence[Way]) -> tuple[Count, ...]:
    """One entry for each count, one subwoofer first. `ways` are those of all subwoofers in use."""
    found: list[Count] = []
    known = [way.best for way in ways]
    for count in range(search.subwoofers, 0, -1):
        entry, known_here = _count(search, positions, count, known)
        found.append(entry)
        known = [*(way.best for way in ways), *known_here]
    return tuple(reversed(found))


def _count(search: Search, positions: Positions, count: int, known: Sequence[Best]) -> tuple[Count, list[Best]]:
    """One count, and what was found on the way: starting points for one fewer."""
    in_order = tuple(range(count))
    first = _own(search, in_order, known)
    possible = math.comb(len(positions.set_of), count)
    choices = list(positions.choices(count)) if possible <= MOST_CHOICES else []
    unlike = positions.unlike(choices)
    together = _best([best_settings(search.task((members,))) for members in unlike])
    ranked = [quick_settings(search.task(_singles(members)), known) for members in unlike]
    likely = [_own(search, _members(best), known) for best in (_best(ranked),) if best is not None]
    own = _best([first, *likely, *([_apart(together)] if together else [])])
    entry = Count(
        subwoofers=count,
        choices=len(choices) or possible,
        in_order_one_signal=best_settings(search.task((in_order,))),
        in_order_own=first,
        best_one_signal=together,
        best_own=own if choices else None,
    )
    return entry, [first, *ranked, *([own] if own else [])]


def _best(found: Sequence[Best]) -> Best | None:
    return min(found, key=lambda one: one.variance_db2, default=None)


def _own(search: Search, members: Members, known: Sequence[Best]) -> Best:
    """Each of these on its own; taken as it is where it is known already."""
    for best in known:
        if best.grouping == _singles(members):
            return best
    return best_settings(search.task(_singles(members)), known)


def _apart(together: Best) -> Best:
    """The same subwoofers each on an output of its own, set all alike: no worse than on one signal."""
    (group,) = together.groups
    return replace(
        together,
        groups=tuple(replace(group, members=(member,)) for member in group.members),
        settings=together.settings * len(group.members),
    )


def _singles(members: Members) -> tuple[Members, ...]:
    return tuple((n,) for n in members)


def _members(best: Best) -> Members:
    return tuple(n for group in best.grouping for n in group)
