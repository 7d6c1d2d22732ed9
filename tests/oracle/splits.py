"""Passive splitters on one jack, read straight (R8 and "Splitters")."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.catalogue.records import Splitter
from planner.contacts import Contact, mates
from tests.oracle.leads import Plug

Pattern = tuple[Contact, Contact, bool]


def pattern(kind: Splitter) -> Pattern:
    """The contacts and balance that all splitters of one split have in common."""
    return (kind.input, kind.leg, kind.balanced)


@dataclass(frozen=True, slots=True, order=True)
class Tree:
    """Splitters plugged together on one jack: their skus, and the splitter of each leg with a feed."""

    pattern: Pattern
    splitters: tuple[str, ...] = ()
    legs: tuple[str, ...] = ()
    conversions: int = 0


def trees(kinds: tuple[Splitter, ...], jack: Plug, most_feeds: int) -> set[Tree]:
    """Every tree on a jack for up to so many feeds; all its splitters are of one pattern.

    Fewest are used: each splitter has two legs in use, by feeds or further splitters, or it
    would be left out. So N legs from two-way splitters take N - 1 of them.
    """
    found: set[Tree] = set()
    for kind in kinds:
        if most_feeds >= 2 and mates(kind.input, jack.contact):
            alike = tuple(other for other in kinds if pattern(other) == pattern(kind))
            inner = trees(alike, Plug(kind.leg, kind.balanced), most_feeds - 1)
            root = Tree(pattern(kind), (kind.sku,), (), int(kind.balanced is not jack.balanced))
            found |= set(_grown(root, kind, sorted(inner), kind.legs, 0, most_feeds))
    return found


def _grown(tree: Tree, kind: Splitter, inner: list[Tree], legs_left: int, used: int, most_feeds: int) -> Iterator[Tree]:
    """The tree with each of the remaining legs of its root free, with a feed, or with a splitter."""
    if len(tree.legs) > most_feeds:
        return
    if used >= 2:
        yield tree
    if legs_left:
        for branch in (Tree(tree.pattern, (), (kind.sku,)), *inner):
            grown = Tree(
                tree.pattern,
                tuple(sorted(tree.splitters + branch.splitters)),
                tuple(sorted(tree.legs + branch.legs)),
                tree.conversions + branch.conversions,
            )
            yield from _grown(grown, kind, inner, legs_left - 1, used + 1, most_feeds)
