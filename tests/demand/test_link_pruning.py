"""Leads that no best design needs are dropped; those that one might need are kept. Worked by hand.

That the pruning is exact is shown in `test_reductions`.
"""

from dataclasses import replace

from planner.brief.records import Brief, Drive, Measure, Owned
from planner.catalogue.records import CableKind, PortRole
from planner.contacts import Connector
from planner.demand.build import build_demand
from planner.demand.links import LinkOption
from tests.demand.shop import (
    BLOCK,
    HOUSE,
    RCA,
    RCA_PLUG,
    RCA_SOCKET,
    XLR,
    XLR_PINS,
    XLR_SOCKET,
    Shop,
    brief,
    ins,
    limits,
    outs,
    subs,
)


def shop(connector: Connector = XLR) -> Shop:
    """One kind of output, subwoofers with XLR inputs, a made lead of 10 m for 10."""
    found = Shop()
    found.processor("P", 1000, outs("A", connector, 4, PortRole.ASSIGNABLE))
    found.sub("S", 300, ins("IN", XLR))
    found.lead("W", 10, XLR_SOCKET, XLR_PINS, 10.0)
    return found


def kept(sold: Shop, asked: Brief | None = None) -> list[str]:
    """The leads that may still be chosen, by the sku of what they are made of, over all links."""
    found = build_demand(asked or brief(subs("S", 3.0, 3.0)), sold.catalogue(), HOUSE)
    return sorted({_named(option) for options in found.links.table().values() for option in options})


def _named(option: LinkOption) -> str:
    end = option.build.cut_end
    return "+".join(part.sku for part in option.build.parts) + (f":{end}" if end else "")


def test_of_leads_with_a_price_each_the_cheapest_is_kept() -> None:
    sold = shop()
    sold.lead("dear", 11, XLR_SOCKET, XLR_PINS, 5.0)
    sold.lead("cheap", 9, XLR_SOCKET, XLR_PINS, 5.0)
    assert kept(sold) == ["cheap"]


def test_of_equal_prices_one_is_kept_whatever_the_order() -> None:
    one, other = shop(), Shop()
    one.lead("V", 10, XLR_SOCKET, XLR_PINS, 10.0)
    other.lead("V", 10, XLR_SOCKET, XLR_PINS, 10.0)
    other.processor("P", 1000, outs("A", XLR, 4, PortRole.ASSIGNABLE))
    other.sub("S", 300, ins("IN", XLR))
    other.lead("W", 10, XLR_SOCKET, XLR_PINS, 10.0)
    assert kept(one) == kept(other) == ["V"]


def test_a_cheaper_lead_with_more_joints_leaves_both_where_joints_are_weighed() -> None:
    sold = Shop()
    sold.processor("P", 1000, outs("A", XLR, 4, PortRole.ASSIGNABLE))
    sold.sub("S", 300, ins("IN", RCA))
    sold.lead("straight", 10, XLR_SOCKET, RCA_PLUG, 10.0)
    sold.lead("rca", 4, RCA_PLUG, RCA_PLUG, 10.0, balanced=False)
    sold.adapter("turn", 3, XLR_SOCKET, RCA_SOCKET)
    weighing = brief(subs("S", 3.0), measures=(Measure.PRICE, Measure.JOINTS))
    assert kept(sold) == ["turn+rca"]
    assert kept(sold, weighing) == ["straight", "turn+rca"]


def test_a_lot_that_can_never_pay_is_dropped() -> None:
    """Two leads at most can save 10 each; a lot costs 50."""
    sold = shop()
    sold.lead("lot", 5, XLR_SOCKET, XLR_PINS, 10.0, least_order=10)
    assert kept(sold) == ["W"]


def test_a_lot_that_might_pay_is_kept() -> None:
    """Two at 4 are 8, one W is 10."""
    sold = shop()
    sold.lead("lot", 4, XLR_SOCKET, XLR_PINS, 10.0, least_order=2)
    assert kept(sold) == ["W", "lot"]


def test_a_scarce_lead_is_kept_only_if_it_might_save() -> None:
    """Were it free, it would save twice 10; one that costs more than that never pays."""
    sold = shop()
    sold.lead("few", 9, XLR_SOCKET, XLR_PINS, 10.0, stock=1)
    assert kept(sold) == ["W", "few"]
    dear = shop()
    dear.lead("few", 21, XLR_SOCKET, XLR_PINS, 10.0, stock=1)
    assert kept(dear) == ["W"]


def test_an_owned_lead_is_kept_and_so_is_the_one_to_buy() -> None:
    asked = replace(brief(subs("S", 3.0, 3.0)), owned=(Owned(sku="old", count=1),))
    sold = shop()
    sold.lead("old", None, XLR_SOCKET, XLR_PINS, 10.0)
    assert kept(sold, asked) == ["W", "old"]


def test_a_lead_that_must_be_used_is_kept_though_it_saves_nothing() -> None:
    """Bulk cable and connectors owned would be no use beside a free lead; but they must be used."""
    sold = shop()
    sold.cable("B", 5, CableKind.LINE_BALANCED)
    sold.part("xf", 5, XLR_SOCKET)
    sold.part("xm", 5, XLR_PINS)
    must = replace(brief(subs("S", 3.0, 3.0)), owned=(Owned(sku="B", count=3, must_use=True),))
    assert kept(sold) == ["W"]
    assert "xf+B+xm" in kept(sold, must)


def test_a_cut_lead_is_dropped_where_a_cheaper_one_gives_the_same_tails() -> None:
    sold = shop(BLOCK)
    sold.lead("dear", 30, RCA_PLUG, XLR_PINS, 10.0)
    assert kept(sold) == ["W:b"]


def test_a_cut_lead_stays_beside_a_made_up_one_only_if_its_tails_might_save_its_price() -> None:
    """3 m of cable and a connector cost 4, a lead to cut 10: two tails save 8 at most, three save 12."""
    sold = shop(BLOCK)
    sold.cable("B", 1, CableKind.LINE_BALANCED)
    sold.part("xm", 1, XLR_PINS)
    assert kept(sold) == ["B+xm"]
    assert kept(sold, brief(subs("S", 3.0, 3.0, 3.0))) == ["B+xm", "W:b"]


def by_terminal_blocks() -> tuple[Shop, Brief]:
    """A DSP unit a metre from the processor and 4.5 m from a subwoofer; W of 10 m, and a short lead of 2 m for 50."""
    sold = Shop()
    sold.processor("P", 1000, outs("A", XLR, 1, PortRole.ASSIGNABLE))
    sold.dsp("D", 100, ins("IN", BLOCK, 1), outs("OUT", BLOCK, 2))
    sold.sub("S", 300, ins("IN", XLR))
    sold.lead("W", 10, XLR_SOCKET, XLR_PINS, 10.0)
    sold.lead("short", 50, XLR_SOCKET, XLR_PINS, 2.0)
    return sold, brief(subs("S", 4.5), limits=limits(drives=frozenset({Drive.DSP})))


def halves(sold: Shop, asked: Brief) -> list[tuple[str, bool, bool]]:
    """Each tail that may be chosen, with whether it is spare and whether its lead lends the other half."""
    table = build_demand(asked, sold.catalogue(), HOUSE).links.table()
    return sorted((_named(o), o.spare, o.lends) for options in table.values() for o in options if o.tail is not None)


def test_the_other_half_of_a_longer_lead_may_be_spare() -> None:
    assert halves(*by_terminal_blocks()) == [("W:a", True, False), ("W:b", False, True), ("short:a", False, False)]


def test_no_half_is_spare_where_all_want_the_same_end() -> None:
    asked = brief(subs("S", 4.5, 1.0))
    sold = shop(BLOCK)
    sold.lead("short", 50, XLR_SOCKET, XLR_PINS, 2.0)
    assert halves(sold, asked) == [("W:b", False, False), ("short:b", False, False)]


def test_a_dearer_lead_alike_is_kept_where_its_halves_may_be_spare() -> None:
    """W:a and W:b of one lead leave nothing over; of W and of its like, a half of either end."""
    sold, asked = by_terminal_blocks()
    sold.lead("dear", 11, XLR_SOCKET, XLR_PINS, 10.0)
    assert {("W:b", False, True), ("dear:b", False, True)} <= set(halves(sold, asked))


def test_a_lead_that_lends_a_half_is_no_sure_price() -> None:
    """The tail that it gives may be the one that a spare one elsewhere was to be left by."""
    sold, asked = by_terminal_blocks()
    sold.cable("B", 20, CableKind.LINE_BALANCED, 5.0)
    sold.part("xm", 20, XLR_PINS)
    assert {"W:b", "B+xm"} <= set(kept(sold, asked))
