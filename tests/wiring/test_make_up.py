"""How each lead is made: cores and pins for every build of output, against handbooks and by continuity."""

from collections.abc import Iterator
from dataclasses import replace

import networkx as nx
import pytest

from planner.catalogue.records import CableKind, Lead, OutputStage, Splitter
from planner.checks.case import Case
from planner.checks.known import Known
from planner.contacts import Connector, Contact, Direction, Gender, PinRole
from planner.design import LeadMethod, UnitKind
from planner.physics.earth_graph import Join, earth_edges
from planner.wiring.cores import Core
from planner.wiring.ends import LeadEnd
from planner.wiring.make_up import MakeUp, ShieldJoin, make_ups
from tests.checks import good_designs
from tests.checks.drawing import DIRECT, adapted, cut, stocked
from tests.checks.gear import CATALOGUE, HOUSE
from tests.checks.good_designs import ALL, Drawn
from tests.physics.small_systems import System, catalogue, port, with_ports
from tests.plan.demo import NAMES, demo_catalogue, demo_house, demo_result
from tests.wiring.leads import BLOCK, ONE, RCA, TRS, TWO, XLR, Far, lead, made_lead, net_of

S, SERVO, TRANSFORMER = OutputStage.SYMMETRICAL, OutputStage.SERVO, OutputStage.TRANSFORMER
IMPEDANCE, UNKNOWN, PLAIN = OutputStage.IMPEDANCE_BALANCED, OutputStage.UNKNOWN, OutputStage.UNBALANCED
BALANCED_STAGES = (S, SERVO, TRANSFORMER, IMPEDANCE, UNKNOWN)


def joined(made: MakeUp) -> Iterator[tuple[str, str]]:
    """(source pin, sink pin) that the lead joins, by its cores and by what is joined within a connector."""
    net = net_of(made)
    for source in made.source.pins:
        for sink in made.sink.pins:
            if nx.has_path(net, ("source", source.pin), ("sink", sink.pin)):
                yield source.pin, sink.pin


def shorted(made: MakeUp, end: LeadEnd) -> bool:
    """Whether hot or cold of an end is joined to its shield by the lead."""
    both = {sink: {a for a, b in joined(made) if b == sink} for _, sink in joined(made)}
    shield = {pin.pin for pin in end.pins if pin.role is PinRole.SHIELD}
    cold = {pin.pin for pin in end.pins if pin.role is PinRole.COLD}
    own = any(pin.joined_to for pin in end.pins)
    return own or any(shield & group and cold & group for group in both.values())


# Against the handbooks


@pytest.mark.parametrize(
    ("stage", "pairs"),
    [
        # D. Self, Small Signal Audio Design, chapter on line outputs; an equipment installation manual: cold open.
        (S, {("2", "centre"), ("1", "shell")}),
        # B. Whitlock, J. Audio Eng. Soc. 43 (6), 1995, read at second hand: cold to the shell at the far end.
        (SERVO, {("2", "centre"), ("3", "shell"), ("1", "shell")}),
        (TRANSFORMER, {("2", "centre"), ("3", "shell"), ("1", "shell")}),
        # Open or joined are both safe for an impedance-balanced output; open harms none where it is unknown.
        (IMPEDANCE, {("2", "centre"), ("1", "shell")}),
        (UNKNOWN, {("2", "centre"), ("1", "shell")}),
    ],
)
def test_a_balanced_output_to_an_unbalanced_input(stage: OutputStage, pairs: set[tuple[str, str]]) -> None:
    assert set(joined(made_lead(XLR, stage, RCA, TWO))) == pairs


def test_an_unbalanced_output_to_a_balanced_input_with_two_cores() -> None:
    # D. Self, same chapter: cold joined to the shell at the source, so the receiver keeps its rejection.
    made = made_lead(RCA, PLAIN, XLR, TWO)
    assert set(joined(made)) == {("centre", "2"), ("shell", "3"), ("shell", "1")}
    assert {pin.pin: pin.cores for pin in made.source.pins} == {
        "centre": (Core.HOT,),
        "shell": (Core.COLD, Core.SHIELD),
    }
    assert all(pin.joined_to is None for pin in made.sink.pins)


def test_balanced_to_balanced_is_pin_to_its_like_with_the_shield_at_both_ends() -> None:
    # IEC 60268-12, AES48: 1-1, 2-2, 3-3.
    made = made_lead(XLR, S, XLR, TWO)
    assert set(joined(made)) == {("1", "1"), ("2", "2"), ("3", "3")}
    assert made.shield is ShieldJoin.BOTH_ENDS
    assert made.remarks == ()
    assert set(joined(made_lead(XLR, S, TRS, TWO))) == {("1", "sleeve"), ("2", "tip"), ("3", "ring")}


def test_a_terminal_block_stands_in_the_order_of_its_print() -> None:
    made = made_lead(XLR, S, BLOCK, TWO)
    assert [(pin.pin, pin.cores) for pin in made.sink.pins] == [
        ("-", (Core.COLD,)),
        ("shield", (Core.SHIELD,)),
        ("+", (Core.HOT,)),
    ]


# By continuity


@pytest.mark.parametrize("cable", [ONE, TWO])
@pytest.mark.parametrize("stage", BALANCED_STAGES)
@pytest.mark.parametrize("source", [XLR, TRS, BLOCK])
def test_no_driver_is_shorted_and_no_floating_winding_left_open(
    source: Far, stage: OutputStage, cable: CableKind
) -> None:
    made = made_lead(source, stage, RCA, cable)
    floating = stage in (SERVO, TRANSFORMER)
    assert shorted(made, made.source) is floating
    assert (made.shield is ShieldJoin.RETURN) is not (floating and cable is TWO)


@pytest.mark.parametrize("cable", [ONE, TWO])
@pytest.mark.parametrize("source", [XLR, TRS, BLOCK, RCA])
@pytest.mark.parametrize("sink", [XLR, TRS, BLOCK, RCA])
def test_hot_arrives_at_hot_and_every_core_is_joined_or_told_open(source: Far, sink: Far, cable: CableKind) -> None:
    if source.balanced and sink.balanced and cable is ONE:
        return  # never built: a line between two balanced jacks has a balanced cable
    made = made_lead(source, S if source.balanced else PLAIN, sink, cable)
    hot = [next(pin.pin for pin in end.pins if pin.role is PinRole.HOT) for end in (made.source, made.sink)]
    assert [pair for pair in joined(made) if hot[0] in pair[:1] or hot[1] in pair[1:]] == [tuple(hot)]
    for end in (made.source, made.sink):
        used = [core for pin in end.pins for core in pin.cores]
        assert sorted((*used, *end.open_cores)) == sorted(made.cores)
    if sink.balanced:  # a balanced input never has its cold floating
        assert any(pin.role is PinRole.COLD and (pin.cores or pin.joined_to) for pin in made.sink.pins)


def test_one_core_to_a_balanced_input_joins_cold_there_and_says_what_it_costs() -> None:
    made = made_lead(RCA, PLAIN, XLR, ONE)
    assert [(pin.pin, pin.joined_to) for pin in made.sink.pins] == [("1", None), ("2", None), ("3", "1")]
    assert "rejects no hum" in made.remarks[0]


@pytest.mark.parametrize(
    ("pins", "shield"), [(("+", "-", "shield"), ShieldJoin.BOTH_ENDS), (("+", "-"), ShieldJoin.SOURCE_ONLY)]
)
def test_a_block_without_a_place_for_the_shield(pins: tuple[str, ...], shield: ShieldJoin) -> None:
    made = made_lead(XLR, S, Far(connector=Connector.TERMINAL, balanced=True, pins=pins), TWO)
    assert made.shield is shield
    assert ("no place for the shield" in " ".join(made.remarks)) is (shield is ShieldJoin.SOURCE_ONLY)


def test_a_block_without_a_printed_order_sends_to_the_device() -> None:
    made = made_lead(XLR, S, Far(connector=Connector.TERMINAL, balanced=True), TWO)
    assert not made.sink.order_known
    assert made.remarks == ("The catalogue has no pin order for Speaker 1 / IN 1: read it on the device.",)


# Leads of each method


XLR_TO_RCA = Lead(
    sku="xr", name="XLR to RCA", balanced=True, length_m=4.0,
    end_a=Contact(Connector.XLR, Gender.FEMALE), end_b=Contact(Connector.RCA, Gender.MALE),
)  # fmt: skip


def test_a_ready_made_lead_that_converts_is_measured_first() -> None:
    made = lead(XLR, S, RCA, stocked("xr", 2.0), leads=(XLR_TO_RCA,))
    assert [end.to_make for end in (made.source, made.sink)] == [False, False]
    assert "measure its pins" in made.remarks[1]
    assert made.sold_m == 4.0


def test_the_tail_of_a_cut_lead_that_must_reach_the_shell_is_mended_at_the_block() -> None:
    made = lead(BLOCK, TRANSFORMER, RCA, cut("xr", "b", 2.0), leads=(XLR_TO_RCA,))
    assert (made.source.to_make, made.sink.to_make) == (True, False)
    assert made.remarks[-1].endswith("join - to shield at the terminal block.")
    assert made.sold_m == 2.0
    symmetrical = lead(BLOCK, S, RCA, cut("xr", "b", 2.0), leads=(XLR_TO_RCA,))
    assert Core.COLD in symmetrical.source.open_cores  # however the plug is wired, nothing is shorted
    assert all("join - to shield" not in text for text in symmetrical.remarks)


@pytest.mark.parametrize(
    ("stage", "inside"), [(S, "must be open inside"), (SERVO, "must be joined to the shell inside")]
)
def test_a_splitter_that_takes_balanced_unbalanced_is_measured_first(stage: OutputStage, inside: str) -> None:
    splitter = Splitter(
        sku="xy", name="XLR to two RCA", legs=2, balanced=False,
        input=Contact(Connector.XLR, Gender.FEMALE), leg=Contact(Connector.RCA, Gender.FEMALE),
    )  # fmt: skip
    shop = with_ports(catalogue(), port("proc", "XLR", Direction.OUT, Connector.XLR, output_stage=stage))
    system = System(shop=replace(shop, splitters=(splitter,)))
    system.unit(UnitKind.PROCESSOR, "Proc", "proc")
    system.unit(UnitKind.SPLITTER, "Y", "xy")
    system.subwoofer("sub", 2.0)
    system.run("Proc/XLR/1", "Y/IN/1", DIRECT)
    system.run("Y/LEG/1", "Sub 1/IN/1", stocked("rca", 1.0))
    (made,) = make_ups(system.design(), system.shop, HOUSE)
    assert [text for text in made.remarks if text.endswith(f"{inside}.")]
    assert set(joined(made)) == {("centre", "centre"), ("shell", "shell")}


def test_an_adapter_shows_the_side_that_faces_the_jack() -> None:
    design, _ = good_designs.crossed()
    made = make_ups(design, CATALOGUE, HOUSE)[1]
    assert made.method is LeadMethod.ADAPTED
    assert (made.sink.fitted, made.sink.plug) == ("AD-RX", Contact(Connector.XLR, Gender.MALE))
    assert adapted(1.0, "L-RCA-5", "AD-RX").parts == made.connection.lead.parts


# Whole designs


@pytest.mark.parametrize("drawn", ALL)
def test_work_and_parts_are_those_of_the_design(drawn: Drawn) -> None:
    design, _ = drawn()
    made = make_ups(design, CATALOGUE, HOUSE)
    for task, count in {
        line.task: line.count for line in design.labour if line.task.value.endswith(("lead", "end"))
    }.items():
        work = [each for one in made for each in one.work if each.task is task]
        assert sum(each.count for each in work) == count
        assert sum(each.minutes for each in work) == count * HOUSE.minutes[task]
    assert [[(part.sku, part.count) for part in each.parts] for each in made] == [
        [(part.sku, part.count) for part in each.connection.lead.parts] for each in made
    ]


@pytest.mark.parametrize("name", NAMES)
def test_every_lead_of_the_demo_can_be_made(name: str) -> None:
    for option in demo_result(name).options:
        for made in make_ups(option.design, demo_catalogue(), demo_house()):
            assert made.sold_m >= made.length_m - 1e-9
            for end in (made.source, made.sink):
                assert end.order_known
                assert all(pin.cores or pin.joined_to or pin.role in (PinRole.UNUSED, PinRole.COLD) for pin in end.pins)
            if Core.SHIELD in made.cores:
                assert made.shield in (ShieldJoin.BOTH_ENDS, ShieldJoin.RETURN)


@pytest.mark.parametrize("drawn", ALL)
def test_the_shields_are_those_that_the_earth_loops_are_counted_by(drawn: Drawn) -> None:
    design, brief = drawn()
    case = Case.of(design, Known(brief, CATALOGUE, HOUSE))
    joins = {edge.lead: edge.join for edge in earth_edges(case, CATALOGUE.ports) if edge.lead}
    said = {ShieldJoin.BOTH_ENDS: Join.BALANCED, ShieldJoin.RETURN: Join.UNBALANCED}
    for made in make_ups(design, CATALOGUE, HOUSE):
        lead = f"{made.connection.source} to {made.connection.sink}"
        assert joins.get(lead) is said.get(made.shield)
