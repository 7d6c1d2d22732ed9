"""The links that a brief could need, each with the leads worth considering for it.

A link is one connection between two kinds of jack at one length. Most parts have one price
whatever the number bought; a link made of such parts has a price of its own, known before
any search. The rest (owned, scarce, sold in lots, or one half of a cut lead) is *coupled*:
its price depends on the other links, so it stays a choice in the search. What can never be
chosen is dropped first, see `planner.demand.link_pruning`.

Of each kind the shortest lead that suffices is cut. Where a longer one is cut for a link that
needs its length, and that link leaves a half over, a shorter link may take the half: it is *spare*.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import product

from planner.costing import PriceList
from planner.demand.isolation import Isolated, Isolation
from planner.demand.kinds import Kinds
from planner.demand.leads import Kind, LeadMaker
from planner.demand.passive_feeds import Cables
from planner.demand.shelf import Shelf
from planner.design import LeadBuild, LeadMethod
from planner.house import Task


@dataclass(frozen=True, slots=True, order=True)
class LinkKey:
    """A link to be made: two kinds of jack, a length, line level or speaker level; whether it may be isolated."""

    source: Kind
    sink: Kind
    length_m: float
    speaker: bool = False
    isolable: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class LinkOption:
    """One way to make a link. `isolated`: an isolator stands in it, and `build` is the lead up to there.

    `fixed_minor` covers labour and every part of one price; `coupled` the counts of the
    others; `tail` the lead and the end kept, where this is half of a cut lead. `joints`
    counts mated pairs. `spare`: a half of a longer lead than the link needs, no reason to cut
    one; `lends`: half of a lead whose other half may be spare for another link.
    """

    build: LeadBuild
    fixed_minor: int
    coupled: tuple[tuple[str, int], ...] = ()
    tail: tuple[str, str] | None = None
    spare: bool = False
    lends: bool = False
    joints: int = 2
    isolated: Isolated | None = None

    @property
    def free(self) -> bool:
        """Whether the price is known without looking at other links."""
        return not self.coupled and self.tail is None


class LinkTable:
    """All links that a brief could need, each with the options that can matter."""

    def __init__(
        self, keys: Iterable[LinkKey], maker: LeadMaker, shelf: Shelf, prices: PriceList, cables: Cables, kinds: Kinds,
        isolation: Isolation, internal_m: float,
    ) -> None:  # fmt: skip
        self._shelf, self._prices, self._cables, self._kinds = shelf, prices, cables, kinds
        self._isolation, self._internal_m = isolation, internal_m
        needed = {key: tuple(self._options(key, maker)) for key in sorted(set(keys))}
        self._table: Mapping[LinkKey, tuple[LinkOption, ...]] = self._with_spare_halves(needed, maker)
        self._price = _known_prices(self._table)

    def keep(self, table: Mapping[LinkKey, tuple[LinkOption, ...]]) -> None:
        """Replaces the options by those that pruning has left."""
        self._table, self._price = table, _known_prices(table)

    def table(self) -> Mapping[LinkKey, tuple[LinkOption, ...]]:
        """All links with their options."""
        return self._table

    def options(self, key: LinkKey) -> tuple[LinkOption, ...]:
        """What may be chosen for this link; empty where it cannot be made."""
        return self._table.get(key, ())

    def price_minor(self, key: LinkKey) -> int | None:
        """The price of a link that is not a choice: one option, and that one free."""
        return self._price.get(key)

    def _options(self, key: LinkKey, maker: LeadMaker) -> list[LinkOption]:
        if key.speaker:
            load_ohm = self._kinds.cable_load_ohm(key.sink)
            cables = maker.speaker(key.source.contact, key.sink.contact, key.length_m)
            builds = [cable for cable in cables if self._cables.allowed(cable, load_ohm)]
        else:
            builds = list(maker.line(key.source, key.sink, key.length_m))
        options = [self._priced(build) for build in builds]
        return sorted([*options, *(self._isolated(key, maker) if key.isolable else ())], key=rank)

    def _with_spare_halves(
        self, needed: Mapping[LinkKey, tuple[LinkOption, ...]], maker: LeadMaker
    ) -> dict[LinkKey, tuple[LinkOption, ...]]:
        """Also the halves of longer leads, of which another link that needs the length may take the other end."""
        reasons = {option.tail for options in needed.values() for option in options if option.tail is not None}
        spare = {
            key: [half for half in self._longer(key, maker) if half.tail and _other_end(half.tail) in reasons]
            for key in needed
        }
        lending = {half.tail[0] for halves in spare.values() for half in halves if half.tail}
        found = {}
        for key, options in needed.items():
            own = (replace(o, lends=True) if o.tail and o.tail[0] in lending else o for o in options)
            found[key] = tuple(sorted((*own, *spare[key]), key=rank))
        return found

    def _longer(self, key: LinkKey, maker: LeadMaker) -> list[LinkOption]:
        builds = () if key.speaker else maker.longer_halves(key.source, key.sink, key.length_m)
        return [replace(self._priced(build), spare=True) for build in builds]

    def _isolated(self, key: LinkKey, maker: LeadMaker) -> Iterator[LinkOption]:
        """The link by way of each isolator that fits, and of every two leads worth considering."""
        for isolator in self._isolation.between(key.source, key.sink):
            entry = Kind(isolator.input, isolator.input_balanced)
            leaving = Kind(isolator.output, isolator.output_balanced)
            befores = self._whole(maker.line(key.source, entry, key.length_m))
            behinds = self._whole(maker.line(leaving, key.sink, self._internal_m))
            for before, behind in product(befores, behinds):
                yield self._with_isolator(isolator.sku, before, behind)

    def _with_isolator(self, sku: str, before: LinkOption, behind: LinkOption) -> LinkOption:
        simple = self._shelf.simple(sku)
        coupled = Counter(dict(before.coupled)) + Counter(dict(behind.coupled)) + Counter([] if simple else [sku])
        return LinkOption(
            build=before.build,
            fixed_minor=before.fixed_minor + behind.fixed_minor + (self._shelf.unit_minor(sku) if simple else 0),
            coupled=tuple(sorted(coupled.items())),
            joints=before.joints + behind.joints + 1,
            isolated=Isolated(sku, behind.build),
        )

    def _whole(self, builds: Iterable[LeadBuild]) -> list[LinkOption]:
        """Leads that are not cut; of those with the same parts of open price and as many joints, the cheapest."""
        best: dict[object, LinkOption] = {}
        for option in sorted(map(self._priced, builds), key=rank):
            if option.tail is None:
                best.setdefault((option.coupled, option.joints), option)
        return list(best.values())

    def _priced(self, build: LeadBuild) -> LinkOption:
        cut = build.method is LeadMethod.CUT
        ends = {LeadMethod.MADE_UP: 2, LeadMethod.CUT: 1}.get(build.method, 0)
        fixed = self._prices.labour_minor(Task.LEAD) + ends * self._prices.labour_minor(Task.TERMINATION)
        coupled: Counter[str] = Counter()
        for part in () if cut else build.parts:
            if self._shelf.simple(part.sku):
                fixed += part.count * self._shelf.unit_minor(part.sku)
            else:
                coupled[part.sku] += part.count
        adapters = len(build.parts) - 1 if build.method is LeadMethod.ADAPTED else 0
        return LinkOption(
            build=build,
            fixed_minor=fixed,
            coupled=tuple(sorted(coupled.items())),
            tail=(build.parts[0].sku, build.cut_end or "a") if cut else None,
            joints=2 + adapters,
        )


def rank(option: LinkOption) -> tuple[int, int, str, str, str]:
    """A fixed order, so that equal prices never depend on the order of rows."""
    build = option.build
    return option.fixed_minor, option.joints, build.method.value, repr(build.parts), repr(option.isolated)


def _other_end(tail: tuple[str, str]) -> tuple[str, str]:
    """The tail that the other half of the same lead gives."""
    sku, end = tail
    return sku, "a" if end == "b" else "b"


def _known_prices(table: Mapping[LinkKey, tuple[LinkOption, ...]]) -> dict[LinkKey, int]:
    """Links with one option of one price; an isolated one stays a choice, since it is counted (M7)."""
    return {k: o[0].fixed_minor for k, o in table.items() if len(o) == 1 and o[0].free and o[0].isolated is None}
