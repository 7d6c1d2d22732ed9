"""Every daisy chain worth having (rule R9): its members in order, and the leads between them.

A chain is named by its members and its head; between equals of these only the cheapest order
of the others can matter, and heads of one feed class are interchangeable to whatever feeds
them. So for every set of up to the largest number that may share an output, and every class
of head, the best order is found by dynamic programming over subsets, kept apart only where
two orders differ in price one way and in conversions or joints the other.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace

from planner.demand.flows import Chain, ChainLink, Cost
from planner.demand.line_levels import ChainStep

Member = tuple[str, str, int]  # set name, model sku, index in the set


StrainOf = Callable[[Chain], int]


def chains(
    links: Iterable[ChainLink], class_of: Mapping[Member, int], largest: int, weigh_joints: bool,
    strain_of: StrainOf = lambda chain: 0,
) -> tuple[Chain, ...]:  # fmt: skip
    """All chains of 2 to `largest` subwoofers that can matter, in a fixed order.

    `class_of` gives the feed class of every member that may be fed directly, `strain_of` the
    number of what levels tell apart: only chains of one number stand in for each other.
    """
    by_channel: dict[str, list[ChainLink]] = defaultdict(list)
    for link in links:
        by_channel[link.channel].append(link)
    found: list[Chain] = []
    for channel in sorted(by_channel):
        found += _of_channel(channel, by_channel[channel], class_of, largest, weigh_joints, strain_of)
    return tuple(found)


def _of_channel(
    channel: str, links: list[ChainLink], class_of: Mapping[Member, int], largest: int, weigh_joints: bool,
    strain_of: StrainOf,
) -> Iterator[Chain]:  # fmt: skip
    onward: dict[Member, list[ChainLink]] = defaultdict(list)
    for link in links:
        onward[link.source].append(link)
    best: dict[tuple[frozenset[Member], int, int], list[Chain]] = defaultdict(list)
    for head in sorted(m for m in onward if m in class_of):
        grown = [Chain(channel=channel, members=(head,), links=(), cost=Cost())]
        for _ in range(1, largest):
            grown = _longer(grown, onward, weigh_joints)
            for chain in (replace(chain, strain=strain_of(chain)) for chain in grown):
                best[frozenset(chain.members), class_of[head], chain.strain].append(chain)
    for rivals in best.values():
        yield from _undominated(rivals, weigh_joints)


def _longer(grown: list[Chain], onward: Mapping[Member, list[ChainLink]], weigh_joints: bool) -> list[Chain]:
    """Every chain with one more subwoofer; of equal members and end only those not beaten."""
    best: dict[tuple[frozenset[Member], Member, tuple[ChainStep, ...]], list[Chain]] = defaultdict(list)
    for chain in grown:
        for link in onward.get(chain.members[-1], ()):
            if _fits(chain.members, link.sink):
                longer = Chain(
                    channel=chain.channel,
                    members=(*chain.members, link.sink),
                    links=(*chain.links, link),
                    cost=_sum(chain.cost, link.cost),
                    steps=chain.steps if link.step is None else (*chain.steps, link.step),
                )
                best[frozenset(longer.members), link.sink, longer.steps].append(longer)
    return [chain for rivals in best.values() for chain in _undominated(rivals, weigh_joints)]


def _fits(members: tuple[Member, ...], joining: Member) -> bool:
    """Whether it is not there yet, and its set is not there as another model."""
    return all(
        (name, index) != (joining[0], joining[2]) and (name != joining[0] or sku == joining[1])
        for name, sku, index in members
    )


def _sum(one: Cost, other: Cost) -> Cost:
    return Cost(
        price_minor=one.price_minor + other.price_minor,
        open_links=tuple(sorted(one.open_links + other.open_links)),
        conversions=one.conversions + other.conversions,
        joints=one.joints + other.joints,
    )


def _undominated(rivals: list[Chain], weigh_joints: bool) -> list[Chain]:
    """The chains that no other beats; links still to be chosen compare only with the same ones."""
    kept: list[Chain] = []
    for chain in sorted(rivals, key=_rank):
        if not any(_covers(other.cost, chain.cost, weigh_joints) for other in kept):
            kept.append(chain)
    return kept


def _rank(chain: Chain) -> tuple[int, int, int, tuple[Member, ...]]:
    return chain.cost.price_minor, chain.cost.conversions, chain.cost.joints, chain.members


def _covers(other: Cost, cost: Cost, weigh_joints: bool) -> bool:
    return (
        other.open_links == cost.open_links
        and other.price_minor <= cost.price_minor
        and other.conversions <= cost.conversions
        and (not weigh_joints or other.joints <= cost.joints)
    )
