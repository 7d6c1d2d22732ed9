"""Rule R3: which leads join two jacks, method by method.

That an XLR output shows male pins and an input female sockets is the practice of AES14 and
IEC 60268-12 (from memory); RCA and TRS jacks on equipment are sockets, and a terminal block
takes bare tails (common practice, no published source). The tables below are written from
that by hand and do not ask the planner what mates.
"""

from collections.abc import Iterable
from decimal import ROUND_CEILING, Decimal
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.catalogue.records import BulkCable, CableKind
from planner.contacts import BARE_TAIL, Connector, Contact, Direction, Gender, jack
from planner.demand.leads import Kind, LeadMaker, steps_of
from planner.design import LeadBuild, LeadMethod
from tests.demand.shop import (
    BLOCK,
    POLE,
    POLE_PLUG,
    POST,
    RCA,
    RCA_PLUG,
    RCA_SOCKET,
    TAIL,
    TRS,
    XLR,
    XLR_PINS,
    XLR_SOCKET,
    Shop,
)

TRS_PLUG = Contact(TRS, Gender.MALE)
# What a lead must show to each jack, by hand.
MATES_OUTPUT = {XLR: XLR_SOCKET, RCA: RCA_PLUG, TRS: TRS_PLUG}
MATES_INPUT = {XLR: XLR_PINS, RCA: RCA_PLUG, TRS: TRS_PLUG}
PAIRS = list(product(MATES_OUTPUT, MATES_INPUT))


def output(connector: Connector, balanced: bool | None = None) -> Kind:
    return Kind(jack(connector, Direction.OUT), connector is not RCA if balanced is None else balanced)


def entry(connector: Connector, balanced: bool | None = None) -> Kind:
    return Kind(jack(connector, Direction.IN), connector is not RCA if balanced is None else balanced)


def maker(shop: Shop) -> LeadMaker:
    catalogue = shop.catalogue()
    return LeadMaker(catalogue, frozenset(item.sku for item in catalogue.items()))


def lines(
    shop: Shop, source: Kind, sink: Kind, length_m: float = 3.0, method: LeadMethod | None = None
) -> list[LeadBuild]:
    """The leads that the shop's stock allows, of one method or of all."""
    builds = maker(shop).line(source, sink, length_m)
    return [build for build in builds if method in (None, build.method)]


def skus(builds: Iterable[LeadBuild]) -> list[tuple[str, ...]]:
    """The parts of each lead, from source to sink."""
    return sorted(tuple(part.sku for part in build.parts) for build in builds)


# Stocked


def every_lead() -> Shop:
    """A lead for every pair of ends, named "end A/end B"."""
    ends = [Contact(connector, gender) for connector in (XLR, RCA, TRS) for gender in Gender] + [TAIL]
    shop = Shop()
    for one, other in product(ends, ends):
        shop.lead(f"{one}/{other}", 1, one, other, 3.0)
    return shop


@pytest.mark.parametrize(("source", "sink"), PAIRS, ids=lambda c: c.value)
def test_a_stocked_lead_mates_with_both_jacks_either_way_round(source: Connector, sink: Connector) -> None:
    near, far = MATES_OUTPUT[source], MATES_INPUT[sink]
    found = lines(every_lead(), output(source), entry(sink), method=LeadMethod.STOCKED)
    expected = {(f"{near}/{far}", False), (f"{far}/{near}", True)} if near != far else {(f"{near}/{near}", False)}
    assert {(build.parts[0].sku, build.flipped) for build in found} == expected
    assert len(found) == len(expected)


@pytest.mark.parametrize("connector", MATES_INPUT, ids=lambda c: c.value)
def test_a_bare_tail_goes_into_a_terminal_block(connector: Connector) -> None:
    far = MATES_INPUT[connector]
    found = lines(every_lead(), output(BLOCK), entry(connector), method=LeadMethod.STOCKED)
    assert {build.parts[0].sku for build in found} == {f"{TAIL}/{far}", f"{far}/{TAIL}"}


@pytest.mark.parametrize(("length_m", "found"), [(2.99, 1), (3.0, 1), (3.01, 0)])
def test_a_stocked_lead_is_long_enough(length_m: float, found: int) -> None:
    shop = Shop()
    shop.lead("L", 1, XLR_SOCKET, XLR_PINS, 3.0)
    assert len(lines(shop, output(XLR), entry(XLR), length_m)) == found


@pytest.mark.parametrize(
    ("from_balanced", "to_balanced", "expected"),
    [(True, True, {"two-core"}), (True, False, {"two-core", "one-core"}), (False, True, {"two-core", "one-core"})],
)
def test_only_a_balanced_lead_joins_two_balanced_jacks(
    from_balanced: bool, to_balanced: bool, expected: set[str]
) -> None:
    shop = Shop()
    shop.lead("two-core", 1, TRS_PLUG, TRS_PLUG, 3.0)
    shop.lead("one-core", 1, TRS_PLUG, TRS_PLUG, 3.0, balanced=False)
    found = lines(shop, output(TRS, from_balanced), entry(TRS, to_balanced))
    assert {build.parts[0].sku for build in found} == expected


# Adapted


def with_adapters() -> Shop:
    """An RCA lead, and adapters by which its plugs reach XLR jacks: one sold each way round."""
    shop = Shop()
    shop.lead("rca", 1, RCA_PLUG, RCA_PLUG, 3.0, balanced=False)
    shop.adapter("to-input", 1, XLR_PINS, RCA_SOCKET)
    shop.adapter("to-output", 1, RCA_SOCKET, XLR_SOCKET)
    return shop


@pytest.mark.parametrize(
    ("source", "sink", "expected"),
    [
        (output(RCA), entry(RCA), ("rca",)),
        (output(RCA), entry(XLR), ("rca", "to-input")),
        (output(XLR), entry(RCA), ("to-output", "rca")),
        (output(XLR, False), entry(XLR), ("to-output", "rca", "to-input")),
    ],
    ids=["none", "at the sink", "at the source", "at each end"],
)
def test_an_adapter_stands_at_either_end_and_is_listed_in_its_place(
    source: Kind, sink: Kind, expected: tuple[str, ...]
) -> None:
    found = lines(with_adapters(), source, sink)
    assert skus(found) == [expected]
    assert found[0].method is (LeadMethod.STOCKED if len(expected) == 1 else LeadMethod.ADAPTED)


def test_a_lead_with_adapters_is_no_more_balanced_than_without() -> None:
    assert lines(with_adapters(), output(XLR), entry(XLR)) == []


def test_two_adapters_never_stand_at_one_end() -> None:
    """TRS output, RCA input: TRS to XLR, XLR to RCA would do it, but only with two adapters on top of each other."""
    shop = Shop()
    shop.lead("rca", 1, RCA_PLUG, RCA_PLUG, 3.0, balanced=False)
    shop.adapter("trs-xlr", 1, TRS_PLUG, XLR_PINS)
    shop.adapter("xlr-rca", 1, XLR_SOCKET, RCA_SOCKET)
    assert lines(shop, output(TRS), entry(RCA)) == []


def test_an_adapted_lead_may_be_turned_too() -> None:
    """The lead is sold with its XLR pins as end A; they go to the adapter at the source."""
    shop = Shop()
    shop.lead("turned", 1, XLR_PINS, RCA_PLUG, 3.0)
    shop.adapter("to-rca", 1, XLR_SOCKET, RCA_PLUG)
    found = lines(shop, output(RCA), entry(RCA))
    assert {build.method for build in found} == {LeadMethod.ADAPTED}
    assert {(*skus([build]), build.flipped) for build in found} == {
        (("turned", "to-rca"), True),
        (("to-rca", "turned"), False),
    }


# Cut


def test_either_half_of_a_lead_keeps_its_own_connector() -> None:
    shop = Shop()
    shop.lead("xlr", 1, XLR_SOCKET, XLR_PINS, 6.0)
    out_of_block = lines(shop, output(BLOCK), entry(XLR), method=LeadMethod.CUT)
    into_block = lines(shop, output(XLR), entry(BLOCK), method=LeadMethod.CUT)
    assert [(b.parts[0].sku, b.cut_end, b.parts[0].count) for b in out_of_block] == [("xlr", "b", 1)]
    assert [(b.parts[0].sku, b.cut_end, b.parts[0].count) for b in into_block] == [("xlr", "a", 1)]


def test_a_lead_with_two_like_ends_gives_two_like_tails() -> None:
    shop = Shop()
    shop.lead("rca", 1, RCA_PLUG, RCA_PLUG, 6.0, balanced=False)
    found = lines(shop, output(BLOCK), entry(RCA), method=LeadMethod.CUT)
    assert sorted(b.cut_end or "" for b in found) == ["a", "b"]


@pytest.mark.parametrize(("length_m", "found"), [(3.0, 1), (3.01, 0)])
def test_half_the_lead_is_long_enough(length_m: float, found: int) -> None:
    shop = Shop()
    shop.lead("xlr", 1, XLR_SOCKET, XLR_PINS, 6.0)
    assert len(lines(shop, output(BLOCK), entry(XLR), length_m, LeadMethod.CUT)) == found


def test_nobody_cuts_a_longer_lead_than_is_needed() -> None:
    shop = Shop()
    for length_m in (2.0, 6.0, 10.0):
        shop.lead(f"xlr {length_m:g}", 1, XLR_SOCKET, XLR_PINS, length_m)
    shop.lead("rca-xlr 15", 1, RCA_PLUG, XLR_PINS, 15.0)
    found = lines(shop, output(BLOCK), entry(XLR), 3.0, LeadMethod.CUT)
    assert skus(found) == [("rca-xlr 15",), ("xlr 6",)]  # the shortest of each kind of lead


def test_longer_leads_of_a_kind_may_give_what_they_leave_over() -> None:
    """Never the shortest that suffices, nor one that is too short; kept apart by ends and balance."""
    shop = Shop()
    for length_m in (2.0, 6.0, 10.0):
        shop.lead(f"xlr {length_m:g}", 1, XLR_SOCKET, XLR_PINS, length_m)
    shop.lead("turned 12", 1, XLR_PINS, XLR_SOCKET, 12.0)
    shop.lead("rca-xlr 15", 1, RCA_PLUG, XLR_PINS, 15.0)
    found = list(maker(shop).longer_halves(output(BLOCK), entry(XLR), 3.0))
    assert [(b.parts[0].sku, b.cut_end) for b in found] == [("turned 12", "a"), ("xlr 10", "b")]
    assert list(maker(shop).longer_halves(output(XLR), entry(XLR), 3.0)) == []


@pytest.mark.parametrize(
    ("source", "sink"),
    [(output(XLR), entry(XLR)), (output(BLOCK), entry(BLOCK))],
    ids=["no terminal block", "two terminal blocks"],
)
def test_a_cut_lead_has_a_terminal_block_at_one_end_only(source: Kind, sink: Kind) -> None:
    assert lines(every_lead(), source, sink, 1.0, LeadMethod.CUT) == []


def test_between_balanced_jacks_a_balanced_lead_is_cut() -> None:
    shop = Shop()
    shop.lead("one-core", 1, XLR_SOCKET, XLR_PINS, 6.0, balanced=False)
    assert lines(shop, output(BLOCK), entry(XLR)) == []
    assert skus(lines(shop, output(BLOCK, False), entry(XLR))) == [("one-core",)]


def test_a_bare_end_is_not_worth_keeping() -> None:
    """A lead with a bare tail already: its connector half is a tail, its bare half is nothing."""
    shop = Shop()
    shop.lead("tail", 1, TAIL, XLR_PINS, 6.0)
    assert [b.cut_end for b in lines(shop, output(BLOCK), entry(XLR), method=LeadMethod.CUT)] == ["b"]


# Made up


def bulk() -> Shop:
    shop = Shop()
    shop.cable("two-core", 1, CableKind.LINE_BALANCED)
    shop.cable("one-core", 1, CableKind.LINE_UNBALANCED)
    shop.cable("speaker", 1, CableKind.SPEAKER, step_m=0.5)
    for name, contact in (("xf", XLR_SOCKET), ("xm", XLR_PINS), ("rm", RCA_PLUG), ("tm", TRS_PLUG), ("4p", POLE_PLUG)):
        shop.part(name, 1, contact)
    return shop


PART = {XLR_SOCKET: "xf", XLR_PINS: "xm", RCA_PLUG: "rm", TRS_PLUG: "tm"}


@pytest.mark.parametrize(("source", "sink"), PAIRS, ids=lambda c: c.value)
def test_a_made_up_lead_has_the_connector_that_each_jack_asks_for(source: Connector, sink: Connector) -> None:
    near, far = PART[MATES_OUTPUT[source]], PART[MATES_INPUT[sink]]
    both_balanced = RCA not in (source, sink)
    expected = [(near, "two-core", far)] + ([] if both_balanced else [(near, "one-core", far)])
    found = lines(bulk(), output(source), entry(sink))
    assert skus(found) == sorted(expected)
    assert {build.method for build in found} == {LeadMethod.MADE_UP}


def test_a_terminal_block_takes_the_bare_cable() -> None:
    assert skus(lines(bulk(), output(BLOCK), entry(XLR))) == [("two-core", "xm")]
    assert skus(lines(bulk(), output(BLOCK), entry(BLOCK))) == [("two-core",)]


def test_no_lead_is_made_up_without_its_connector() -> None:
    shop = Shop()
    shop.cable("two-core", 1, CableKind.LINE_BALANCED)
    shop.part("xf", 1, XLR_SOCKET)
    assert lines(shop, output(XLR), entry(XLR)) == []


@pytest.mark.parametrize(
    ("source", "sink", "expected"),
    [
        (jack(POST, Direction.OUT), jack(POST, Direction.IN), ("speaker",)),
        (jack(POST, Direction.OUT), jack(POLE, Direction.IN), ("speaker", "4p")),
        (jack(POLE, Direction.OUT), jack(POLE, Direction.IN), ("4p", "speaker", "4p")),
    ],
)
def test_speaker_level_takes_speaker_cable_and_nothing_else(
    source: Contact, sink: Contact, expected: tuple[str, ...]
) -> None:
    shop = bulk()
    shop.lead("made", 1, BARE_TAIL, BARE_TAIL, 3.0)
    catalogue = shop.catalogue()
    found = list(LeadMaker(catalogue, frozenset(i.sku for i in catalogue.items())).speaker(source, sink, 3.2))
    assert skus(found) == [expected]
    assert next(p.count for p in found[0].parts if p.sku == "speaker") == 7  # 3.2 m in steps of half a metre


def test_only_what_may_be_used_is_used() -> None:
    shop = bulk()
    shop.lead("xlr", 1, XLR_SOCKET, XLR_PINS, 3.0)
    allowed = LeadMaker(shop.catalogue(), frozenset({"two-core", "xf", "xm"}))
    assert skus(allowed.line(output(XLR), entry(XLR), 3.0)) == [("xf", "two-core", "xm")]


def cable(step_m: float) -> BulkCable:
    return BulkCable(sku="c", name="c", kind=CableKind.SPEAKER, step_m=step_m)


@pytest.mark.parametrize(
    ("step_m", "length_m", "steps"),
    [(1.0, 5.0, 5), (1.0, 5.01, 6), (0.1, 0.3, 3), (0.1, 0.31, 4), (5.0, 0.01, 1), (0.5, 3.2, 7), (1.0, 0.0, 1)],
)
def test_bulk_cable_is_bought_in_whole_steps(step_m: float, length_m: float, steps: int) -> None:
    assert steps_of(cable(step_m), length_m) == steps


@given(step_cm=st.integers(1, 10000), length_cm=st.integers(1, 10000))
def test_steps_are_those_of_exact_decimals(step_cm: int, length_cm: int) -> None:
    exact = (Decimal(length_cm) / Decimal(step_cm)).to_integral_value(rounding=ROUND_CEILING)
    assert steps_of(cable(step_cm / 100), length_cm / 100) == exact
