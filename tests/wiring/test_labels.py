"""Lead marks: one for each lead, in the order of the flow, whatever order the design lists its leads in."""

import random
from dataclasses import replace
from typing import Any

import pytest

from planner.design import Connection, Design, Jack, LeadMethod, Unit, UnitKind
from planner.result_json import result_tree
from planner.wiring.labels import lead_labels, lead_marks
from tests.checks import good_designs
from tests.checks.drawing import Drawing, stocked
from tests.checks.good_designs import ALL, Drawn
from tests.plan.demo import demo_brief, demo_catalogue, demo_result


def by_jacks(design: Design) -> dict[str, str]:
    return {mark: f"{each.source} -> {each.sink}" for each, mark in lead_marks(design).items()}


@pytest.mark.parametrize("drawn", ALL)
def test_every_lead_has_a_mark_of_its_own_and_what_plugs_on_directly_has_none(drawn: Drawn) -> None:
    design, _ = drawn()
    marks = lead_marks(design)
    assert set(marks) == {each for each in design.connections if each.lead.method is not LeadMethod.DIRECT}
    assert list(marks.values()) == sorted(set(marks.values()))


def test_marks_follow_the_signal_device_by_device() -> None:
    design, _ = good_designs.amplified()
    assert by_jacks(design) == {
        "L001": "Proc / MAIN 1 -> Amp 1 / BAL 1",
        "L002": "Proc / MAIN 2 -> Amp 1 / BAL 2",
        "L003": "Proc / MAIN 3 -> Amp 2 / BAL 1",
        "L004": "Proc / SUB 1 -> Amp 2 / UNBAL 2",
        "L005": "Amp 1 / POST 1 -> Left / POST 1",
        "L006": "Amp 1 / POST 2 -> Right / POST 1",
        "L007": "Amp 2 / POLE 2 -> Sub 1 / POLE 1",
        "L008": "Amp 2 / POST 1 -> Centre / POST 1",
    }


def test_legs_of_splitters_count_with_the_jack_they_are_plugged_onto() -> None:
    design, _ = good_designs.split()
    assert list(by_jacks(design).values())[3:] == [
        "Splitter 1 / LEG 1 -> Sub 1 / RCA 1",
        "Splitter 2 / LEG 1 -> Sub 2 / RCA 1",
        "Splitter 2 / LEG 2 -> Sub 3 / RCA 1",
    ]


def test_link_outputs_come_last() -> None:
    design, _ = good_designs.daisy_chain()
    assert list(by_jacks(design).values())[-2:] == [
        "Sub 1 / LINK 1 -> Sub 2 / XLR 1",
        "Sub 2 / LINK 1 -> Sub 3 / XLR 1",
    ]


@pytest.mark.parametrize("drawn", ALL)
def test_the_order_in_which_connections_are_listed_does_not_matter(drawn: Drawn) -> None:
    design, _ = drawn()
    shuffled = list(design.connections)
    random.Random(4).shuffle(shuffled)
    assert lead_marks(replace(design, connections=tuple(shuffled))) == lead_marks(design)


def test_marks_sort_as_text_also_beyond_a_thousand_and_the_tenth_device() -> None:
    drawing = Drawing()
    for unit in range(1, 12):
        drawing.unit(UnitKind.AMPLIFIER, f"Amp {unit}", "A")
        for n in range(1, 101):
            drawing.link("M+030", f"Amp {unit}/OUT/{n}", f"Far {unit}/IN/{n}", stocked("W", 1.0))
    marks = lead_marks(drawing.design())
    assert list(marks.values()) == sorted(marks.values())
    assert len(set(map(len, marks.values()))) == 1
    assert [each.source.unit for each in marks][:101:100] == ["Amp 1", "Amp 2"]


def test_a_spoiled_design_with_splitters_in_a_ring_still_has_marks() -> None:
    ring = tuple(
        Connection(channel="LFE1", source=Jack(one, "LEG", 1), sink=Jack(other, "IN", 1), lead=stocked("W", 1.0))
        for one, other in (("S1", "S2"), ("S2", "S1"))
    )
    units = tuple(Unit(id=name, sku="Y", kind=UnitKind.SPLITTER) for name in ("S1", "S2"))
    design = Design(units=units, connections=ring, routes=(), purchases=(), labour=(), currency="EUR")
    assert sorted(lead_marks(design).values()) == ["L001", "L002"]


def test_labels_name_both_ends_and_what_is_carried() -> None:
    design, _ = good_designs.crossed()
    label = lead_labels(design)[2]
    assert (label.mark, label.source, label.sink) == ("L003", "DSP 1 / OUT 1", "Amp 1 / BAL 1")
    assert label.carries == "M+000 centre, way 1"


def test_the_result_as_json_has_the_same_marks() -> None:
    result = demo_result("stereo-one-sub")
    tree: Any = result_tree(result, demo_brief("stereo-one-sub"), demo_catalogue())
    for option, told in zip(result.options, tree["options"], strict=True):
        marks = lead_marks(option.design)
        assert [line["mark"] for line in told["connections"]] == [marks.get(each) for each in option.design.connections]


@pytest.mark.parametrize("name", ["stereo-one-sub", "small-5-1-2-two-subs"])
def test_the_marks_of_the_demo_are_one_for_each_lead(name: str) -> None:
    for option in demo_result(name).options:
        (runs,) = [line.count for line in option.design.labour if line.task.value == "run_lead"]
        assert len(lead_marks(option.design)) == runs
