"""Valid designs pass, and their measures, prices and ledgers are those worked out by hand.

The sums are in the comments; the counts follow "Measures" and "Price" in DEVELOPERS.md.
"""

import networkx as nx
import pytest

from planner.checks import Verifier, verify
from planner.design import Design, LedgerLine, Measures, UnitKind
from planner.options import Quote
from tests.checks import good_designs
from tests.checks.gear import CATALOGUE, HOUSE
from tests.checks.good_designs import ALL, Drawn


@pytest.mark.parametrize("drawn", ALL)
def test_a_good_design_has_no_findings(drawn: Drawn) -> None:
    design, brief = drawn()
    verdict = verify(design, brief, CATALOGUE, HOUSE)
    assert verdict.findings == ()
    assert verdict.is_valid


def _quote(gear: int, labour: int, tax: int) -> Quote:
    subtotal = gear + labour
    return Quote(
        currency="NZD",
        gear_minor=gear,
        labour_minor=labour,
        subtotal_minor=subtotal,
        tax_minor=tax,
        total_minor=subtotal + tax,
    )


@pytest.mark.parametrize(
    ("drawn", "quote"),
    [
        # Gear 5000 + 3 x 1500 + 2 x 1200 + 3 x 40 + 60 + 20 = 12100.
        # Labour 120 + 3 x 60 + 2 x 40 + 5 x 20 = 480. Tax 15 % of 12580 = 1887.
        (good_designs.dedicated, _quote(1210000, 48000, 188700)),
        # Gear 5000 + 1000 + 4500 + 4800 + 3 x 40 + 2 x 60 + 80 + 9 x 5 + 10 = 15675.
        # Labour 120 + 90 + 180 + 160 + 8 x 20 + (4 cut + 2 made up) x 12 = 782. 15 % of 16457 = 2468.55.
        (good_designs.by_dsp_unit, _quote(1567500, 78200, 246855)),
        # Gear 5000 + 4500 + 3600 + 2 x 15 + 2 x 40 + 60 + 2 x 20 + 30 = 13340.
        # Labour 120 + 180 + 120 + 6 x 20 = 540. 15 % of 13880 = 2082.
        (good_designs.split, _quote(1334000, 54000, 208200)),
        # Gear 5000 + 4500 + 3600 + 4 x 40 + 2 x 60 = 13380. Labour as above. 15 % of 13920 = 2088.
        (good_designs.daisy_chain, _quote(1338000, 54000, 208800)),
        # Gear 2000 + 1800 + 3600 + 15 + 30 x 3 + 2 x 20 + 30 = 7575.
        # Labour 120 + 180 + 120 + 6 x 20 + 3 x 2 x 12 = 612. 15 % of 8187 = 1228.05.
        (good_designs.receiver, _quote(757500, 61200, 122805)),
        # Gear 5000 + 1600 + 1800 + 700 + 3 x 40 + 20 + 34 x 3 + 2 x 15 = 9372.
        # Labour 120 + 80 + 180 + 40 + 8 x 20 + 4 x 2 x 12 = 676. 15 % of 10048 = 1507.20.
        (good_designs.amplified, _quote(937200, 67600, 150720)),
        # Gear 5000 + 1000 + 800 + 900 + 1200 + 3 x 5 + 3 x 10 + 20 x 3 + 20 + 10 = 9035.
        # Labour 120 + 90 + 40 + 60 + 40 + 6 x 20 + 5 x 2 x 12 = 590. 15 % of 9625 = 1443.75.
        (good_designs.crossed, _quote(903500, 59000, 144375)),
        # Gear 3000 + 666.67 + 800 + 900 + 1200 + 3 x 40 + 20 x 3 = 6746.67.
        # Labour 120 + 30 + 40 + 60 + 40 + 5 x 20 + 2 x 2 x 12 = 438. 15 % of 7184.67 = 1077.7005.
        (good_designs.crossed_by_processor, _quote(674667, 43800, 107770)),
        # Gear 3000 + 666.67 + 4500 + 0 (owned) + 1200 + 6 x 30 + 60 = 9606.67.
        # Labour 120 + 30 + 180 + 80 + 5 x 20 = 510. 10 % of 10116.67, agreed in the brief, = 1011.667.
        (good_designs.with_card, _quote(960667, 51000, 101167)),
        # Gear 5000 + 800 + 4500 + 3600 + 6 x 40 + 2 x 60 = 14260.
        # Labour 120 + 90 + 180 + 120 + 8 x 20 = 670. 15 % of 14930 = 2239.50.
        (good_designs.fixed_routing, _quote(1426000, 67000, 223950)),
    ],
)
def test_the_price_is_worked_out_afresh(drawn: Drawn, quote: Quote) -> None:
    design, brief = drawn()
    verdict = verify(design, brief, CATALOGUE, HOUSE)
    assert verdict.quote == quote
    assert verdict.measures.price_minor == quote.total_minor


@pytest.mark.parametrize(
    ("drawn", "independent", "groups", "spare", "joints", "lost", "conversions"),
    [
        # Free: SUB 1, AUX 3; processed 8 - 5 = 3. Two leads.
        (good_designs.dedicated, 2, 2, 3, 4, 1, 0),
        # Free: SUB 2, AUX 3; processed 8 - 4 = 4. Five leads and the DSP unit, which all four hang on.
        (good_designs.by_dsp_unit, 4, 4, 4, 11, 4, 0),
        # Free: SUB 1, AUX 4; processed 4. Three leads, two plugs, two splitters; the first serves three.
        (good_designs.split, 0, 1, 4, 10, 3, 0),
        # Free: SUB 2, AUX 3; processed 4. Three leads; the first carries three.
        (good_designs.daisy_chain, 0, 1, 4, 6, 3, 0),
        # Free: nothing. Three leads, one plug, one splitter with two subwoofers on it.
        (good_designs.receiver, 0, 1, 0, 8, 2, 0),
        # Free: SUB 1, AUX 4; processed 4. Two leads and the amplifier.
        (good_designs.amplified, 1, 1, 4, 5, 1, 0),
        # Free: MAIN 2 (left and right are not in the brief), SUB 1, AUX 4; processed 6; ceiling 4.
        # One lead with one adapter, RCA to XLR.
        (good_designs.crossed, 1, 1, 4, 3, 1, 1),
        # Free: MAIN 2, AUX 2, EXP 1; processed 7 - 3 = 4. One lead.
        (good_designs.crossed_by_processor, 1, 1, 4, 2, 1, 0),
        # Free: AUX 2 (two listed channels are not in the brief), EXP 2; processed 3 + 4 - 5 = 2. Two leads.
        (good_designs.with_card, 2, 2, 2, 4, 1, 0),
        # Free: SUB 2, AUX 2; processed 8 - 5 = 3. Five leads and the DSP unit.
        (good_designs.fixed_routing, 3, 3, 3, 11, 3, 0),
    ],
)
def test_measures_are_counted_afresh(
    drawn: Drawn, independent: int, groups: int, spare: int, joints: int, lost: int, conversions: int
) -> None:
    design, brief = drawn()
    verdict = verify(design, brief, CATALOGUE, HOUSE)
    assert verdict.measures == Measures(
        price_minor=verdict.quote.total_minor,
        independent_subs=independent,
        control_groups=groups,
        spare_outputs=spare,
        joints=joints,
        subs_lost_worst=lost,
        conversions=conversions,
    )


@pytest.mark.parametrize(
    ("drawn", "dedicated", "dsp", "split", "chained"),
    [
        (good_designs.dedicated, 2, 0, 0, 0),
        (good_designs.by_dsp_unit, 0, 4, 0, 0),
        (good_designs.split, 0, 0, 3, 0),
        (good_designs.daisy_chain, 1, 0, 0, 2),
        (good_designs.receiver, 0, 0, 3, 0),
        (good_designs.amplified, 1, 0, 0, 0),
    ],
)
def test_subwoofers_are_counted_by_drive(drawn: Drawn, dedicated: int, dsp: int, split: int, chained: int) -> None:
    design, brief = drawn()
    assert verify(design, brief, CATALOGUE, HOUSE).drives == {
        "dedicated": dedicated,
        "dsp": dsp,
        "split": split,
        "daisy_chained": chained,
    }


@pytest.mark.parametrize("drawn", ALL)
def test_subwoofers_lost_agree_with_a_graph_library(drawn: Drawn) -> None:
    """M5 against reachability in networkx, each box and connection a node that can be taken out."""
    design, brief = drawn()
    graph = _as_networkx(design)
    subwoofers = {unit.id for unit in design.units if unit.kind is UnitKind.SUBWOOFER}
    fixed = {unit.id for unit in design.units if unit.kind in (UnitKind.PROCESSOR, UnitKind.CARD)}
    loudspeakers = {unit.id for unit in design.units if unit.kind is UnitKind.LOUDSPEAKER}
    worst = 0
    for node in set(graph) - fixed - loudspeakers - {"source"}:
        cut = graph.subgraph(set(graph) - {node})
        worst = max(worst, len(subwoofers - nx.descendants(cut, "source")))
    assert verify(design, brief, CATALOGUE, HOUSE).measures.subs_lost_worst == worst


def _as_networkx(design: Design) -> "nx.DiGraph[str]":
    """Good enough where no amplifier or DSP unit serves both a subwoofer and a stranger to it."""
    graph: nx.DiGraph[str] = nx.DiGraph()
    for unit in design.units:
        if unit.kind in (UnitKind.PROCESSOR, UnitKind.CARD):
            graph.add_edge("source", unit.id)
    for number, connection in enumerate(design.connections):
        graph.add_edge(connection.source.unit, f"connection {number}")
        graph.add_edge(f"connection {number}", connection.sink.unit)
    return graph


def test_the_ledger_of_a_processor() -> None:
    design, brief = good_designs.dedicated()
    assert verify(design, brief, CATALOGUE, HOUSE).ledger == (
        LedgerLine(device="Proc", group="rendered channels", have=4, used=4, spare=0),
        LedgerLine(device="Proc", group="processed outputs", have=8, used=5, spare=3),
        LedgerLine(device="Proc", group="MAIN", have=3, used=3, spare=0),
        LedgerLine(device="Proc", group="SUB", have=2, used=1, spare=1),
        LedgerLine(device="Proc", group="AUX", have=4, used=1, spare=3),
        LedgerLine(device="Proc", group="NET", have=1, used=0, spare=1),
    )


def test_the_ledger_counts_cards_with_their_processor_and_amplifiers_both_ways() -> None:
    design, brief = good_designs.crossed_by_processor()
    assert verify(design, brief, CATALOGUE, HOUSE).ledger == (
        LedgerLine(device="Proc", group="rendered channels", have=4, used=2, spare=2),
        LedgerLine(device="Proc", group="processed outputs", have=7, used=3, spare=4),
        LedgerLine(device="Proc", group="MAIN", have=3, used=0, spare=3),
        LedgerLine(device="Proc", group="AUX", have=2, used=0, spare=2),
        LedgerLine(device="Card 1", group="EXP", have=4, used=3, spare=1),
        LedgerLine(device="Amp 1", group="BAL", have=2, used=2, spare=0),
        LedgerLine(device="Amp 1", group="UNBAL", have=2, used=0, spare=2),
        LedgerLine(device="Amp 1", group="POST", have=2, used=2, spare=0),
        LedgerLine(device="Amp 1", group="POLE", have=2, used=0, spare=2),
    )


def test_a_verifier_serves_many_designs_of_one_brief() -> None:
    design, brief = good_designs.split()
    other, _ = good_designs.daisy_chain()
    verifier = Verifier(brief, CATALOGUE, HOUSE)
    alone = [verify(each, brief, CATALOGUE, HOUSE) for each in (design, other, design)]
    assert [verifier.verify(each) for each in (design, other, design)] == alone
