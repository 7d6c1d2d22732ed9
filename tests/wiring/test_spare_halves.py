"""The fewest leads to cut, against a brute force over every way to make the tails, with a matching of networkx."""

import random
from itertools import combinations

import networkx as nx
import pytest

from planner.contacts import Connector, Contact, Gender
from planner.wiring.cut_list import CutLead, CutList, Tail, cut_list
from planner.wiring.spare_halves import savings
from tests.checks import good_designs
from tests.checks.gear import CATALOGUE

SOCKET, PINS = Contact(Connector.XLR, Gender.FEMALE), Contact(Connector.XLR, Gender.MALE)
PLUG = Contact(Connector.RCA, Gender.MALE)


def lead(
    sku: str,
    number: int,
    length_m: float,
    a: float | None,
    b: float | None,
    ends: tuple[Contact, Contact] = (SOCKET, PINS),
) -> CutLead:
    """A lead cut for tails of these lengths; None is a spare half."""

    def tail(plug: Contact, end: str, wanted_m: float | None) -> Tail:
        mark = None if wanted_m is None else f"{sku}-{number}{end}"
        return Tail(plug=plug, half_m=length_m / 2, wanted_m=wanted_m or 0.0, mark=mark)

    return CutLead(
        sku=sku, name=sku, number=number, length_m=length_m, balanced=ends != (PLUG, PLUG),
        end_a=tail(ends[0], "a", a), end_b=tail(ends[1], "b", b),
    )  # fmt: skip


def cuts(*leads: CutLead) -> CutList:
    return CutList(leads=leads, cables=())


def test_a_spare_female_half_serves_the_short_tail_in_the_rack() -> None:
    """Out to a far subwoofer from half of 10 m, in from half of 2 m: one lead of 10 m gives both. Common practice."""
    found = savings(cuts(lead("xlr-10", 1, 10.0, None, 4.0), lead("xlr-2", 1, 2.0, 1.0, None)))
    assert [(one.sku, one.number) for one in found.whole] == [("xlr-2", 1)]
    assert [(move.mark, move.sku, move.half_m) for move in found.moves] == [("xlr-2-1a", "xlr-10", 5.0)]


@pytest.mark.parametrize(
    "other",
    [
        lead("xlr-2", 1, 2.0, None, 1.0),  # the same half is wanted of both
        lead("xlr-rca-12", 1, 12.0, 5.5, None, (SOCKET, PLUG)),  # the spare half is too short
        lead("rca-2", 1, 2.0, 1.0, None, (PLUG, PLUG)),  # another plug
    ],
)
def test_what_does_not_fit_saves_nothing(other: CutLead) -> None:
    found = savings(cuts(lead("xlr-10", 1, 10.0, None, 4.0), other))
    assert (found.whole, found.moves) == ((), ())


def test_the_longer_lead_stays_whole_where_either_could() -> None:
    found = savings(cuts(lead("long", 1, 12.0, 1.0, None), lead("short", 1, 10.0, None, 1.0)))
    assert [one.sku for one in found.whole] == ["long"]


def test_others_move_up_where_that_is_what_it_takes() -> None:
    """The spare half of 6 m takes the tail of 5 m, whose half takes the tail of 3 m."""
    found = savings(cuts(lead("c", 1, 12.0, None, 5.5), lead("b", 1, 10.0, 5.0, 4.5), lead("a", 1, 6.0, 3.0, None)))
    assert [one.sku for one in found.whole] == ["a"]
    assert len(found.moves) in (1, 2)


def test_leads_of_one_sku_are_alike() -> None:
    """Three spare female halves of 10 m leads serve all three tails of 2 m leads."""
    far = [lead("xlr-10", number, 10.0, None, 4.0) for number in (1, 2, 3)]
    near = [lead("xlr-2", number, 2.0, 1.0, None) for number in (1, 2, 3)]
    found = savings(cuts(*far, *near))
    assert [(one.sku, one.number) for one in found.whole] == [("xlr-2", 1), ("xlr-2", 2), ("xlr-2", 3)]
    assert [move.number for move in found.moves] == [1, 2, 3]


def test_thirty_leads_of_one_end_take_no_time() -> None:
    assert savings(cuts(*(lead(f"xlr-{n}", 1, 2.0 + n, 1.0 + n / 2, None) for n in range(30)))).whole == ()


def test_a_design_whose_halves_are_all_of_one_end_saves_nothing() -> None:
    design, _ = good_designs.by_dsp_unit()
    assert savings(cut_list(design, CATALOGUE)).whole == ()


def fewest(listed: CutList) -> int:
    """The fewest leads that give all tails: every subset of the leads, smallest first, by a bipartite matching."""
    halves = [(one, end) for one in listed.leads for end in (one.end_a, one.end_b)]
    tails = [(one, end) for one, end in halves if end.mark is not None]
    for count in range(len(listed.leads) + 1):
        for kept in combinations(listed.leads, count):
            graph = nx.Graph()
            graph.add_nodes_from(("tail", at) for at in range(len(tails)))
            for at, (owner, tail) in enumerate(tails):
                for half, (one, end) in enumerate(halves):
                    fits = end.plug == tail.plug and end.half_m >= tail.wanted_m and one.balanced is owner.balanced
                    if one in kept and fits:
                        graph.add_edge(("tail", at), ("half", half))
            matching = nx.bipartite.maximum_matching(graph, top_nodes=[("tail", at) for at in range(len(tails))])
            if sum(node[0] == "tail" for node in matching) == len(tails):
                return count
    raise AssertionError("the list as it is gives all tails")


@pytest.mark.parametrize("seed", range(40))
def test_no_fewer_leads_do(seed: int) -> None:
    rng = random.Random(seed)
    listed = []
    for number in range(rng.randint(2, 7)):
        length_m = rng.choice([2.0, 4.0, 6.0, 10.0])
        a, b = (rng.choice([None, round(rng.uniform(0.2, length_m / 2), 1)]) for _ in range(2))
        ends = rng.choice([(SOCKET, PINS), (PLUG, PLUG)])
        sku = f"{ends[0].connector}-{length_m:g}-{number}"
        listed.append(lead(sku, 1, length_m, length_m / 2 if a is b is None else a, b, ends))
    found = savings(cuts(*listed))
    assert len(listed) - len(found.whole) == fewest(cuts(*listed))
    assert all(move.half_m <= 5.0 for move in found.moves)
    gone = {f"{one.sku}-1{end}" for one in found.whole for end in "ab"}
    kept = {one.sku for one in listed} - {one.sku for one in found.whole}
    moved = {move.mark for move in found.moves}
    assert {mark for mark in gone if any(mark in (t.end_a.mark, t.end_b.mark) for t in listed)} <= moved
    assert {move.sku for move in found.moves} <= kept
    assert len({(move.sku, move.mark) for move in found.moves}) == len(found.moves)
