"""How units are named, and that equal counts give the equal design."""

from planner.allocation.bounds import limits_of
from planner.allocation.parts import Parts
from planner.assembly.assemble import assemble
from planner.catalogue.records import PortRole
from planner.demand.build import build_demand
from tests.demand.shop import HOUSE, XLR, brief, ins, outs, speakers, subs
from tests.plan.systems import PRICE_ONLY, cheapest, shop


def test_loudspeakers_are_named_by_channel_and_subwoofers_by_number_in_the_brief_s_order() -> None:
    sets = (
        speakers("Mains", "L", "M+030 M-030", 3.0, 3.0), subs("S", 3.0, 3.0, name="Front"), subs("S", 3.0, name="Rear"),
    )  # fmt: skip
    found = cheapest(brief(*sets, measures=PRICE_ONLY), shop(8))
    names = {unit.id: unit.member for unit in found.design.units if unit.member}
    assert names == {
        "M+030": ("Mains", 0), "M-030": ("Mains", 1),
        "Sub 1": ("Front", 0), "Sub 2": ("Front", 1), "Sub 3": ("Rear", 0),
    }  # fmt: skip


def test_loudspeakers_of_one_channel_are_numbered_from_the_second_on() -> None:
    sets = (speakers("Side", "L", "M+090 M+090", 3.0, 3.0), speakers("More", "L", "M+090", 3.0))
    found = cheapest(brief(*sets, measures=PRICE_ONLY), shop(8))
    assert [unit.id for unit in found.design.units if unit.member] == ["M+090", "M+090 2", "M+090 3"]


def test_a_chain_runs_in_the_order_of_its_links() -> None:
    """On one output: the nearest heads, each next one is a short lead further."""
    sold = shop(1)
    sold.sub("linked", 300, ins("IN", XLR), outs("LINK", XLR, 1, PortRole.LINK))
    found = cheapest(brief(subs("linked", 9.0, 5.0, 1.0), measures=PRICE_ONLY), sold)
    path = [(c.source.unit, c.sink.unit) for c in found.design.connections]
    assert path[0][0] == "Processor"
    assert [source for source, _ in path[1:]] == [sink for _, sink in path[:-1]]
    assert {sink for _, sink in path} == {"Sub 1", "Sub 2", "Sub 3"}


def test_equal_counts_give_the_equal_design() -> None:
    asked, catalogue = brief(subs("S", 3.0, 4.0, 5.0), measures=PRICE_ONLY), shop(4).catalogue()
    demand = build_demand(asked, catalogue, HOUSE)
    counts = Parts(demand).attempt(limits_of(asked), 60.0).outcome.counts
    assert counts is not None
    assert assemble(demand, counts, catalogue) == assemble(demand, counts, catalogue)
