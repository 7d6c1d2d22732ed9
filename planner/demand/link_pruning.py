"""Drops, exactly, the leads that no best design needs.

Every step is an exchange: whatever design holds what is dropped, another of no higher price,
equal in every other measure, does not. With joints weighed, only a rival of no more joints
counts; and only one that has an isolator as well, or has none either.
`ceiling` is a price at which an option can always be had, `fixed_minor` a price that
it cannot undercut even if all its coupled parts are left over from elsewhere.

Where one link's lead may lend its other half to another link (`lends`, `spare`), the links are not
priced apart from each other: taking such a lead's tail out of a design, or one more into it, may
leave a spare tail without a half, and what makes that link then may cost more than the lead did.
So an option that lends is no rival and has no ceiling, and only step 3 may drop it, which drops
every tail of its lead at once, the spare ones too. Taking a spare tail out leaves no other without
a half, and saves nothing but its fixed price: it is dropped like any other option, and has no
ceiling, since it may not be had.

1. Option against option: one whose fixed price is no less than a rival's ceiling.
2. Cut leads of which no half is spare: lead Y, where lead X is no dearer and gives a tail for
   every end that Y's tails are used for. Replacing all of Y's tails by X's takes no more leads,
   since max(a + c, b + d) <= max(a, b) + max(c, d). (With spare tails it would not do: one lead for
   an `a` and one for a `b` leave a half of either end, both in one lead leave none.)
3. Lots and scarce parts: a sku of which all that could ever be saved by it, were it free, is
   no more than the least that can be paid for any of it. Parts already judged useless count
   at their floor price, others as free; skus leave the useless set until nothing changes.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping

from planner.demand.links import LinkKey, LinkOption, rank
from planner.demand.shelf import Shelf

Table = Mapping[LinkKey, tuple[LinkOption, ...]]


class LinkPruning:
    """Prunes the options of one brief's links.

    `most_uses` bounds how often each link can occur in a design.
    """

    def __init__(self, shelf: Shelf, most_uses: Mapping[LinkKey, int], weigh_joints: bool) -> None:
        self._shelf, self._most_uses, self._weigh_joints = shelf, most_uses, weigh_joints

    def pruned(self, table: Table) -> Table:
        """The options that remain, in the same order."""
        table = {key: self._unbeaten(options) for key, options in table.items()}
        table = self._without_dear_cuts(table)
        return self._without_useless_parts(table)

    def least_minor(self, options: Iterable[LinkOption]) -> int | None:
        """A price that a link with these options cannot undercut; None where it cannot be made."""
        return min((option.fixed_minor for option in options), default=None)

    def sure_minor(self, options: Iterable[LinkOption]) -> int | None:
        """A price at which a link with these options can always be made, or None."""
        ceilings = [ceiling for option in options if (ceiling := self._ceiling(option)) is not None]
        return min(ceilings, default=None)

    def _ceiling(self, option: LinkOption) -> int | None:
        """What the option costs at the most, or None where its parts may not be had."""
        if option.free:
            return option.fixed_minor
        if option.tail is not None and not _shared(option) and self._shelf.simple(option.tail[0]):
            return option.fixed_minor + self._shelf.unit_minor(option.tail[0])
        return None

    def _kept_anyway(self, option: LinkOption) -> bool:
        return option.lends or any(self._shelf.must_use(sku) for sku in _skus(option))

    def _unbeaten(self, options: Iterable[LinkOption]) -> tuple[LinkOption, ...]:
        """Step 1, and of options with the same coupled parts only the cheapest."""
        kept: list[LinkOption] = []
        seen: set[object] = set()
        ranked = sorted(options, key=lambda o: (not o.free, rank(o)))
        for option in ranked:
            alike = (option.coupled, option.tail, option.joints, option.isolated is None)
            rivals = [o for o in ranked if o is not option and self._ceiling(o) is not None]
            beaten = any(self._beats(rival, option) for rival in rivals)
            if (self._kept_anyway(option) or not beaten) and alike not in seen:
                seen.add(alike)
                kept.append(option)
        return tuple(kept)

    def _beats(self, rival: LinkOption, option: LinkOption) -> bool:
        """Whether the rival at its worst is no dearer than the option at its best; never both ways."""
        ceiling = self._ceiling(rival)
        if ceiling is None or not self._no_worse(rival, option) or ceiling > option.fixed_minor:
            return False
        mutual = self._ceiling(option) == rival.fixed_minor and self._no_worse(option, rival)
        return not mutual or rank(rival) < rank(option)

    def _no_worse(self, rival: LinkOption, option: LinkOption) -> bool:
        alike = (rival.isolated is None) is (option.isolated is None)
        return alike and (not self._weigh_joints or rival.joints <= option.joints)

    def _without_dear_cuts(self, table: Table) -> Table:
        """Step 2."""
        uses: dict[str, dict[str, set[LinkKey]]] = defaultdict(lambda: defaultdict(set))
        for key, options in table.items():
            for option in options:
                if option.tail is not None and not _shared(option):
                    uses[option.tail[0]][option.tail[1]].add(key)
        simple = sorted((sku for sku in uses if self._shelf.simple(sku)), key=lambda s: (self._shelf.unit_minor(s), s))
        kept: list[str] = []
        for sku in simple:
            if not any(_serves(uses[other], uses[sku]) for other in kept):
                kept.append(sku)
        dropped = set(simple) - set(kept)
        return {
            key: tuple(o for o in options if o.tail is None or o.tail[0] not in dropped)
            for key, options in table.items()
        }

    def _without_useless_parts(self, table: Table) -> Table:
        """Step 3."""
        coupled = {sku for options in table.values() for o in options for sku in _skus(o)}
        useless = {sku for sku in coupled if not self._shelf.must_use(sku)}
        changed = True
        while changed:
            worth = self._worth(table, useless)
            needed = {sku for sku in useless if self._pays(sku, worth.get(sku, 0))}
            changed = bool(needed)
            useless -= needed
        return {key: tuple(o for o in options if not _skus(o) & useless) for key, options in table.items()}

    def _pays(self, sku: str, worth: int | None) -> bool:
        """Whether what could be saved by a sku may exceed what it costs to have any; None: it is needed."""
        return worth is None or worth > self._least_outlay(sku)

    def _worth(self, table: Table, useless: set[str]) -> dict[str, int | None]:
        """The most that each sku could save, were it free; None where a link needs it."""
        worth: dict[str, int | None] = defaultdict(int)
        for key, options in table.items():
            best: dict[str, int | None] = {}
            for option in options:
                for sku in _skus(option) & useless:
                    saving = self._saving(option, options, sku, useless)
                    known = best.get(sku, 0)
                    best[sku] = None if saving is None or known is None else max(known, saving)
            for sku, saving in best.items():
                total = worth[sku]
                worth[sku] = None if saving is None or total is None else total + saving * self._most_uses[key]
        return worth

    def _saving(self, option: LinkOption, options: Iterable[LinkOption], sku: str, useless: set[str]) -> int | None:
        """What one link saves by this option with `sku` free, against the best without it."""
        price = option.fixed_minor
        price += sum(n * self._shelf.floor_minor(s) for s, n in option.coupled if s in useless and s != sku)
        rivals = [
            ceiling
            for other in options
            if not _skus(other) & useless and self._no_worse(other, option)
            and (ceiling := self._ceiling(other)) is not None
        ]  # fmt: skip
        return max(0, min(rivals) - price) if rivals else None

    def _least_outlay(self, sku: str) -> int:
        """The least that is paid where any of a sku is used at all."""
        if self._shelf.owned(sku):
            return 0
        return min((price * max(offer.least_order, 1) for price, offer in self._shelf.offers(sku)), default=0)


def _shared(option: LinkOption) -> bool:
    """Whether it is a tail of a lead of which one link may take what another leaves over."""
    return option.lends or option.spare


def _skus(option: LinkOption) -> set[str]:
    """The coupled skus of an option."""
    skus = {sku for sku, _ in option.coupled}
    return skus | {option.tail[0]} if option.tail is not None else skus


def _serves(one: Mapping[str, set[LinkKey]], other: Mapping[str, set[LinkKey]]) -> bool:
    """Whether the tails of one lead can stand in for all the tails of another, end for end."""
    return any(
        all(other[end] <= one[stand_in] for end, stand_in in zip("ab", ends, strict=True) if other.get(end))
        for ends in ("ab", "ba")
        if all(stand_in in one for end, stand_in in zip("ab", ends, strict=True) if other.get(end))
    )
