"""Daisy chains worth having: of every set of subwoofers and head the best order, against all orders."""

from itertools import combinations, pairwise, permutations

from hypothesis import given
from hypothesis import strategies as st

from planner.contacts import Direction, jack
from planner.demand.chains import Member, chains
from planner.demand.feeds import Inlet
from planner.demand.flows import Chain, ChainLink, Cost
from planner.demand.leads import Kind
from tests.demand.shop import XLR

XLR_IN = Kind(jack(XLR, Direction.IN), True)
Figures = tuple[int, int, int]  # price, conversions, joints


def member(number: int) -> Member:
    return ("Subs", "S", number)


def link(source: int, sink: int, figures: Figures) -> ChainLink:
    cost = Cost(price_minor=figures[0], conversions=figures[1], joints=figures[2])
    return ChainLink(
        channel="LFE1", source=member(source), sink=member(sink), output="LINK", inlet=Inlet(XLR_IN), length_m=1.0,
        cost=cost,
    )  # fmt: skip


def figures(chain: Chain) -> Figures:
    return chain.cost.price_minor, chain.cost.conversions, chain.cost.joints


COUNT = 4
PAIRS = [(a, b) for a in range(COUNT) for b in range(COUNT) if a != b]
TABLES = st.fixed_dictionaries(
    {pair: st.tuples(st.integers(1, 5), st.integers(0, 1), st.integers(2, 3)) for pair in PAIRS}
)


def every_order(table: dict[tuple[int, int], Figures], chosen: tuple[int, ...], heads: set[int]) -> list[Figures]:
    """The figures of every chain of these members that one of the heads begins."""
    orders = [order for order in permutations(chosen) if order[0] in heads]
    sums = []
    for order in orders:
        steps = [table[pair] for pair in pairwise(order)]
        sums.append((sum(s[0] for s in steps), sum(s[1] for s in steps), sum(s[2] for s in steps)))
    return sums


@given(
    table=TABLES, classes=st.tuples(*[st.integers(0, 1)] * COUNT), largest=st.integers(2, COUNT), joints=st.booleans()
)
def test_no_order_of_any_set_beats_those_that_are_kept(
    table: dict[tuple[int, int], Figures], classes: tuple[int, ...], largest: int, joints: bool
) -> None:
    """For every set of members and every class of head; an order beats where it is nowhere worse."""
    links = [link(a, b, found) for (a, b), found in table.items()]
    found = chains(links, {member(n): classes[n] for n in range(COUNT)}, largest, joints)
    assert all(2 <= len(chain.members) <= largest for chain in found)
    for size in range(2, largest + 1):
        for chosen in combinations(range(COUNT), size):
            for head_class in {classes[n] for n in chosen}:
                heads = {n for n in chosen if classes[n] == head_class}
                kept = [
                    figures(chain)
                    for chain in found
                    if {m[2] for m in chain.members} == set(chosen) and classes[chain.members[0][2]] == head_class
                ]
                possible = every_order(table, chosen, heads)
                assert set(kept) <= set(possible)
                for order in possible:
                    assert any(beats_or_equals(one, order, joints) for one in kept)


def beats_or_equals(one: Figures, other: Figures, joints: bool) -> bool:
    return one[0] <= other[0] and one[1] <= other[1] and (not joints or one[2] <= other[2])


def test_links_of_a_chain_follow_one_another() -> None:
    table: dict[tuple[int, int], Figures] = dict.fromkeys(PAIRS, (1, 0, 2))
    found = chains([link(a, b, f) for (a, b), f in table.items()], {member(n): 0 for n in range(COUNT)}, 4, False)
    for chain in found:
        assert [step.source for step in chain.links] == list(chain.members[:-1])
        assert [step.sink for step in chain.links] == list(chain.members[1:])


def test_a_subwoofer_that_no_lead_reaches_directly_heads_no_chain() -> None:
    found = chains([link(0, 1, (1, 0, 2)), link(1, 0, (1, 0, 2))], {member(1): 0}, 4, False)
    assert [chain.members for chain in found] == [(member(1), member(0))]


def test_two_models_of_one_set_are_never_in_one_chain() -> None:
    step = link(0, 1, (1, 0, 2))
    other = ChainLink(
        channel="LFE1", source=member(0), sink=("Subs", "T", 1), output="LINK", inlet=Inlet(XLR_IN), length_m=1.0,
        cost=Cost(price_minor=0),
    )  # fmt: skip
    found = chains([step, other], {member(0): 0}, 4, False)
    assert [chain.members for chain in found] == [(member(0), member(1))]
