"""Which passive splitters make so many legs out of one jack (rule R8)."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations_with_replacement

from planner.catalogue.records import Catalogue, Splitter
from planner.contacts import Contact, mates
from planner.demand.kinds import Kinds
from planner.demand.leads import Kind
from planner.demand.shelf import Shelf


@dataclass(frozen=True, kw_only=True, slots=True)
class Split:
    """`legs` of kind `leg` from one jack: the splitters (sku, count), and what they cost.

    `price_minor` covers splitters of one known price, `coupled` the others. Each splitter is
    one plug and one box; the first is a conversion where its balance is not the jack's.
    """

    leg: Kind
    legs: int
    splitters: tuple[tuple[str, int], ...]
    price_minor: int
    coupled: tuple[tuple[str, int], ...]
    conversions: int

    @property
    def boxes(self) -> int:
        """How many splitters there are."""
        return sum(count for _, count in self.splitters)


def splits_of(
    source: Kind, largest: int, balanced_only: bool, kinds: Kinds, catalogue: Catalogue, shelf: Shelf
) -> tuple[Split, ...]:
    """Every split of a jack into 2 to `largest` legs that can matter, in a fixed order."""
    families: dict[tuple[Contact, Contact, bool], list[Splitter]] = {}
    for splitter in catalogue.splitters:
        fits = shelf.usable(splitter.sku) and mates(splitter.input, source.contact)
        if fits and (not balanced_only or (splitter.balanced and source.balanced)):
            families.setdefault((splitter.input, splitter.leg, splitter.balanced), []).append(splitter)
    found: list[Split] = []
    for family in families.values():
        for legs in range(2, largest + 1):
            leg = kinds.leg(source, family[0].leg, family[0].balanced, legs)
            found += _cheapest([_priced(source, leg, legs, chosen, shelf) for chosen in _makeups(family, legs)])
    return tuple(found)


def _makeups(family: list[Splitter], legs: int) -> Iterator[tuple[Splitter, ...]]:
    """Sets of splitters that give at least `legs` legs, none of them to spare."""
    stackable = mates(family[0].input, family[0].leg)
    for number in range(1, legs if stackable else 2):
        for chosen in combinations_with_replacement(family, number):
            gained = sum(s.legs - 1 for s in chosen)
            if gained >= legs - 1 > gained - min(s.legs - 1 for s in chosen):
                yield chosen


def _priced(source: Kind, leg: Kind, legs: int, chosen: tuple[Splitter, ...], shelf: Shelf) -> Split:
    counts = Counter(s.sku for s in chosen)
    return Split(
        leg=leg,
        legs=legs,
        splitters=tuple(sorted(counts.items())),
        price_minor=sum(n * shelf.unit_minor(sku) for sku, n in counts.items() if shelf.simple(sku)),
        coupled=tuple(sorted((sku, n) for sku, n in counts.items() if not shelf.simple(sku))),
        conversions=int(chosen[0].balanced is not source.balanced),
    )


def _cheapest(splits: list[Split]) -> list[Split]:
    """The splits that are not beaten on price and boxes by one of known price."""
    known = sorted((s for s in splits if not s.coupled), key=lambda s: (s.price_minor, s.boxes, s.splitters))
    kept: list[Split] = []
    for split in known:
        if not kept or split.boxes < kept[-1].boxes:
            kept.append(split)
    return kept + [s for s in splits if s.coupled]
