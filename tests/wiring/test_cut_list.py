"""What is cut from what: as a person would cut it, and no more or less than the bill buys."""

from collections import Counter
from collections.abc import Iterator

import pytest

from planner.brief.records import Drive
from planner.catalogue.records import Catalogue, PortRole
from planner.design import Design
from planner.wiring.cut_list import CutList, cut_list
from planner.wiring.labels import lead_marks
from planner.wiring.spare_halves import savings
from tests.checks import good_designs
from tests.checks.gear import CATALOGUE
from tests.checks.good_designs import ALL, Drawn
from tests.demand.shop import BLOCK, RCA, RCA_PLUG, XLR, XLR_PINS, XLR_SOCKET, Shop, brief, ins, limits, outs, subs
from tests.plan.demo import demo_catalogue, demo_result
from tests.plan.systems import PRICE_ONLY, cheapest


def cut(found: CutList) -> Counter[str]:
    return Counter(lead.sku for lead in found.leads)


def as_bought(design: Design, catalogue: Catalogue) -> Iterator[tuple[str, int, int]]:
    """(sku, used, bought) of all that is cut, and of what is used whole of the same kind."""
    found = cut_list(design, catalogue)
    taken = cut(found) + Counter({cable.sku: cable.steps for cable in found.cables})
    whole = Counter(
        part.sku
        for connection in design.connections
        for part in connection.lead.parts
        if connection.lead.method.value in ("stocked", "adapted")
    )
    for sku, count in taken.items():
        yield sku, count + whole[sku], sum(line.count for line in design.purchases if line.sku == sku)


def test_four_rca_tails_and_one_xlr_tail_on_a_terminal_block_unit() -> None:
    """As a person would: two RCA leads halved give four tails, one XLR lead the fifth. Common practice, no source."""
    shop = Shop()
    shop.processor("P", 1000, outs("SUB", XLR, 1, PortRole.FIXED_SUB))
    shop.dsp("D", 300, ins("IN", BLOCK, 1), outs("OUT", BLOCK, 4))
    shop.sub("S", 300, ins("IN", RCA))
    shop.lead("xlr-2", 10, XLR_SOCKET, XLR_PINS, 2.0)
    shop.lead("rca-10", 12, RCA_PLUG, RCA_PLUG, 10.0, balanced=False)
    shop.lead("rca-20", 20, RCA_PLUG, RCA_PLUG, 20.0, balanced=False)
    found = cheapest(brief(subs("S", 3.0, 4.0, 4.5, 5.0), measures=PRICE_ONLY), shop)
    listed = cut_list(found.design, shop.catalogue())
    assert cut(listed) == {"rca-10": 2, "xlr-2": 1}
    *rca, xlr = listed.leads
    assert [lead.spares for lead in rca] == [0, 0]
    assert (xlr.end_a.plug, xlr.end_a.mark) == (XLR_SOCKET, "L001")  # an XLR output shows pins, and takes a socket
    assert (xlr.end_b.plug, xlr.end_b.mark, xlr.spares) == (XLR_PINS, None, 1)
    assert sorted(tail.mark or "" for lead in rca for tail in (lead.end_a, lead.end_b)) == [
        "L002",
        "L003",
        "L004",
        "L005",
    ]
    assert sorted(tail.wanted_m for lead in rca for tail in (lead.end_a, lead.end_b)) == [3.0, 4.0, 4.5, 5.0]
    assert [(sku, used) for sku, used, bought in as_bought(found.design, shop.catalogue()) if used == bought] == [
        ("rca-10", 2),
        ("xlr-2", 1),
    ]


def test_a_half_left_over_is_the_short_tail_in_the_rack() -> None:
    """As a person would: the far subwoofer takes half of 10 m, the unit beside the processor the other half."""
    shop = Shop()
    shop.processor("P", 1000, outs("SUB", XLR, 1, PortRole.FIXED_SUB))
    shop.dsp("D", 300, ins("IN", BLOCK, 1), outs("OUT", BLOCK, 1))
    shop.sub("S", 300, ins("IN", XLR))
    shop.lead("xlr-2", 10, XLR_SOCKET, XLR_PINS, 2.0)
    shop.lead("xlr-10", 12, XLR_SOCKET, XLR_PINS, 10.0)
    asked = brief(subs("S", 4.5), measures=PRICE_ONLY, limits=limits(drives=frozenset({Drive.DSP})))
    found = cheapest(asked, shop)
    listed = cut_list(found.design, shop.catalogue())
    assert [(lead.sku, lead.end_a.wanted_m, lead.end_b.wanted_m) for lead in listed.leads] == [("xlr-10", 1.0, 4.5)]
    assert savings(listed).whole == ()
    assert [(sku, used, bought) for sku, used, bought in as_bought(found.design, shop.catalogue())] == [
        ("xlr-10", 1, 1)
    ]


def test_one_lead_gives_a_tail_of_either_end() -> None:
    design, _ = good_designs.by_dsp_unit()
    listed = cut_list(design, CATALOGUE)
    five, ten, fifteen = (next(lead for lead in listed.leads if lead.sku == f"L-XLR-{m}") for m in (5, 10, 15))
    assert (five.end_a.mark, five.end_b.mark, five.spares) == ("L001", "L005", 0)
    assert (ten.end_a.mark, ten.spares, fifteen.spares) == (None, 1, 1)
    assert [lead.end_b.half_m for lead in (five, ten, fifteen)] == [2.5, 5.0, 7.5]


def test_cable_is_told_by_the_piece_with_what_is_left() -> None:
    design, _ = good_designs.receiver()
    (cable,) = cut_list(design, CATALOGUE).cables
    # 8, 12 and 10 steps of 0.5 m for 3.80, 6.00 and 4.90 m: 15 m sold, 14.70 m wanted.
    assert [(piece.wanted_m, piece.steps, piece.sold_m) for piece in cable.pieces] == [
        (3.8, 8, 4.0),
        (6.0, 12, 6.0),
        (4.9, 10, 5.0),
    ]
    assert (cable.steps, cable.sold_m, cable.left_m) == (30, 15.0, 0.3)


@pytest.mark.parametrize("drawn", ALL)
def test_no_more_and_no_less_is_cut_than_the_bill_buys(drawn: Drawn) -> None:
    design, _ = drawn()
    for _, used, bought in as_bought(design, CATALOGUE):
        assert used == bought or bought == 6  # six of one lead are that supplier's least order


def test_every_tail_of_the_demo_is_cut_once_and_bought() -> None:
    tails = 0
    for option in demo_result("reference-9-1-6-crossed-fronts").options:
        listed = cut_list(option.design, demo_catalogue())
        marks = [tail.mark for lead in listed.leads for tail in (lead.end_a, lead.end_b) if tail.mark]
        wanted = [mark for each, mark in lead_marks(option.design).items() if each.lead.method.value == "cut"]
        assert sorted(marks) == wanted
        assert all(lead.spares < 2 for lead in listed.leads)
        tails += len(marks)
        for sku, used, bought in as_bought(option.design, demo_catalogue()):
            assert used == bought, sku
    assert tails > 0


def test_a_design_without_cuts_has_an_empty_list() -> None:
    design, _ = good_designs.dedicated()
    assert cut_list(design, CATALOGUE) == CutList(leads=(), cables=())
