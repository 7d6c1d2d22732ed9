"""Decides which member of a class takes which of the flows counted for it."""

from collections import defaultdict
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
        used = [chain for chain, n in zip(demand.chains, counts.chain, strict=True) if n]
        self._headed = {chain.members[0]: chain for chain in used}
        self._fed = {member for chain in used for member in chain.members[1:]}

    def fed(self, member: MemberKey) -> bool:
        """Whether a link output feeds the member."""
        return member in self._fed

    def size(self, member: MemberKey) -> int:
        """How many subwoofers the chain has that the member heads; 1 where it heads none."""
        return 1 + len(self.links(member))

    def strain(self, member: MemberKey) -> int:
        """The strain of the chain that the member heads; 0 where it heads none."""
        return self._headed[member].strain if member in self._headed else 0

    def links(self, head: MemberKey) -> tuple[ChainLink, ...]:
        """The links of the chain that a member heads, in order."""
        return self._headed[head].links if head in self._headed else ()


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
    headed = (chains.size(member), chains.strain(member))
    for position, flow in enumerate(slots):
        heads = (flow.size, flow.strain) if flow.mode is Mode.CHAIN else (1, 0)
        if heads == headed and (member not in unit_of or unit_of[member] == flow.unit):
            return slots.pop(position)
    raise PlannerBug(f"no flow is left for {member}")
