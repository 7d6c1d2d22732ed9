"""Decides which member of a class takes which of the flows counted for it."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from planner.demand.build import Demand
from planner.demand.counts import Counts
from planner.demand.feeds import FeedClass
from planner.demand.flows import ChainLink, FeedFlow, Mode
from planner.errors import PlannerBug

MemberKey = tuple[str, str, int]  # set name, model sku, index in the set


@dataclass(frozen=True, slots=True)
class Placed:
    """One feed of one member, and the flow that reaches it."""

    flow: FeedFlow
    member: MemberKey
    channel: str


class Chains:
    """The daisy chains that the counts contain."""

    def __init__(self, demand: Demand, counts: Counts) -> None:
        used = [link for link, n in zip(demand.chain_links, counts.chain, strict=True) if n]
        self._next = {link.source: link for link in used}
        self._fed = {link.sink for link in used}

    def fed(self, member: MemberKey) -> bool:
        """Whether a link output feeds the member."""
        return member in self._fed

    def size(self, member: MemberKey) -> int:
        """How many subwoofers there are from this one on."""
        return 1 + sum(1 for _ in self.behind(member))

    def behind(self, member: MemberKey) -> Iterator[ChainLink]:
        """The links from this member on, in order."""
        while member in self._next:
            link = self._next[member]
            yield link
            member = link.sink


def placed_feeds(demand: Demand, counts: Counts, chains: Chains) -> list[Placed]:
    """Every directly driven feed with its flow, in the demand's order of feeds."""
    families: dict[int, list[FeedClass]] = defaultdict(list)
    for feed in demand.feeds:
        families[feed.family].append(feed)
    channels = {(s.name, m.index): m.channel for s in demand.sets for m in s.members}
    slots = _slots(demand, counts)
    there = set(counts.present)
    placed = []
    for family in families.values():
        keys = [(family[0].set_name, family[0].sku, index) for index in family[0].members]
        members = [key for key in keys if key in there and not chains.fed(key)]
        unit_of: dict[MemberKey, int | None] = {}
        for feed in family:
            for member in members:
                flow = _take(slots[feed.index], member, unit_of, chains)
                placed.append(Placed(flow, member, channels[member[0], member[2]]))
                unit_of[member] = flow.unit
    return placed


def _slots(demand: Demand, counts: Counts) -> dict[int, list[FeedFlow]]:
    slots: dict[int, list[FeedFlow]] = defaultdict(list)
    for flow, n in zip(demand.feed_flows, counts.feed, strict=True):
        slots[flow.feed.index] += [flow] * n
    return slots


def _take(slots: list[FeedFlow], member: MemberKey, unit_of: dict[MemberKey, int | None], chains: Chains) -> FeedFlow:
    """The first flow left that suits the member: its chain, and the unit of its other ways."""
    size = chains.size(member)
    for position, flow in enumerate(slots):
        heads = flow.size if flow.mode is Mode.CHAIN else 1
        if heads == size and (member not in unit_of or unit_of[member] == flow.unit):
            return slots.pop(position)
    raise PlannerBug(f"no flow is left for {member}")
