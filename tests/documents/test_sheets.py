"""The sheets for bench and site: every lead is on them, with the readings that a meter must give."""

import re

import networkx as nx
import pytest

from planner.documents.commissioning_sheet import commissioning_sheet
from planner.documents.continuity import continuity
from planner.documents.job import Job
from planner.documents.lead_test_sheet import lead_test_data, lead_test_sheet
from planner.documents.make_up_sheet import make_up_data, make_up_sheet
from planner.documents.wiring_paper import wiring_paper
from planner.wiring.labels import lead_marks
from planner.wiring.make_up import MakeUp, make_ups
from tests.documents.jobs import LARGE, NONE, QUICK, SMALL, demo_job
from tests.documents.pages import pages, text_of
from tests.wiring.leads import net_of

SHEETS = {"make-up": make_up_sheet, "tests": lead_test_sheet}
ALL = {**SHEETS, "commissioning": commissioning_sheet, "wiring": wiring_paper}


@pytest.mark.parametrize("name", [NONE, "upgrade-around-owned-gear"])
@pytest.mark.parametrize("sheet", SHEETS)
def test_every_lead_is_on_the_sheet_with_both_its_ends(sheet: str, name: str) -> None:
    job = demo_job(name)
    text = text_of(SHEETS[sheet](job)).replace("- ", "-")
    for connection, mark in lead_marks(job.option.design).items():
        assert mark in text
        for jack in (connection.source, connection.sink):
            assert str(jack) in text, jack


@pytest.mark.parametrize(
    ("sheet", "name"), [("make-up", LARGE), ("tests", LARGE), ("commissioning", SMALL), ("wiring", SMALL)]
)
def test_every_page_says_whose_it_is_of_which_option_and_its_number(sheet: str, name: str) -> None:
    job = demo_job(name)
    read = pages(ALL[sheet](job))
    for number, page in enumerate(read, start=1):
        assert f"{number} / {len(read)}" in page
        assert job.brief.project.name in page
        assert f"option {job.option.id}" in page


def test_the_first_page_of_the_wiring_says_where_everything_is() -> None:
    read = pages(wiring_paper(demo_job(SMALL)))
    told = dict(re.findall(r"(Which output drives what|Lead schedule|Labels) (\d+)", read[0]))
    assert len(told) == 3
    for words, number in told.items():
        assert words in read[int(number) - 1]


def test_cautions_stand_on_the_sheets_and_defer_to_local_codes() -> None:
    tests = text_of(lead_test_sheet(demo_job(SMALL)))
    assert "Never put a 250, 500 or 1000 V insulation tester on a signal lead" in tests
    assert "A protective earth is never lifted" in tests
    assert "Hearing." in tests
    for name, sheet in ALL.items():
        assert "Local codes" in text_of(sheet(demo_job(SMALL)), 4 if name == "wiring" else 1)


def test_a_straight_xlr_lead_has_nine_readings_three_of_them_closed() -> None:
    # XLR: 1 to 1, 2 to 2, 3 to 3 (AES14, IEC 60268-12); 9 readings, n x n.
    job = demo_job(LARGE)
    xlr = [lead for lead in make_ups(job.option.design, job.catalogue, job.house) if len(lead.source.pins) == 3]
    assert xlr
    for lead in xlr:
        expected = continuity(lead)
        assert expected.closed == (("1", "1"), ("2", "2"), ("3", "3"))
        assert expected.readings == 9
        assert expected.bridged == ()


@pytest.mark.parametrize("name", QUICK)
def test_what_a_meter_finds_is_what_a_graph_of_pins_and_cores_joins(name: str) -> None:
    for lead in leads_of(demo_job(name)):
        net = net_of(lead)
        expected = continuity(lead)
        closed = {
            (a.pin, b.pin)
            for a in lead.source.pins
            for b in lead.sink.pins
            if nx.has_path(net, ("source", a.pin), ("sink", b.pin))
        }
        assert set(expected.closed) == closed


def leads_of(job: Job) -> tuple[MakeUp, ...]:
    return make_ups(job.option.design, job.catalogue, job.house)


def test_a_loudspeaker_cable_may_read_its_own_resistance_and_half_an_ohm() -> None:
    # IEC 60228 class 5, 1.5 mm2: 13.3 ohm/km at most (read at second hand).
    job = demo_job(SMALL)
    rows = {row["mark"]: row for row in lead_test_data(job)["leads"]}  # type: ignore[attr-defined]
    cables = [lead for lead in leads_of(job) if lead.cable == "bulk-speaker-1.5"]
    assert cables
    for lead in cables:
        exact = 0.0133 * lead.sold_m + 0.5
        assert exact <= float(rows[lead.mark]["most_ohm"]) < exact + 0.1


def test_leads_made_alike_stand_under_one_table_and_each_once() -> None:
    job = demo_job("upgrade-around-owned-gear")
    data = make_up_data(job)
    marks = [lead["mark"] for kind in data["kinds"] for lead in kind["leads"]]  # type: ignore[attr-defined]
    marks += [lead["mark"] for lead in data["ready"]]  # type: ignore[attr-defined]
    assert sorted(marks) == sorted(lead_marks(job.option.design).values())
    assert len(data["kinds"]) == 1  # type: ignore[arg-type]  # seven loudspeaker cables, all bare to bare


def test_every_subwoofer_is_tried_alone_with_those_that_share_its_output() -> None:
    # Option 1 of the demo: two dedicated, and two that share an output by a splitter.
    rows = lead_test_data(demo_job(LARGE))["subwoofers"]
    together = {row["unit"]: row["with"] for row in rows}  # type: ignore[attr-defined]
    assert len(together) == 4
    assert sorted(bool(others) for others in together.values()) == [False, False, True, True]
    for unit, others in together.items():
        if others:
            assert together[others] == unit


def test_a_system_without_subwoofers_has_none_to_try() -> None:
    assert re.search(r"4\. Subwoofers This system has none", text_of(lead_test_sheet(demo_job(NONE))))


@pytest.mark.parametrize("sheet", ALL)
def test_the_same_job_gives_the_same_bytes(sheet: str) -> None:
    assert ALL[sheet](demo_job(SMALL)) == ALL[sheet](demo_job(SMALL))


def test_the_diagram_stands_in_the_wiring_paper_with_its_words() -> None:
    job = demo_job(SMALL)
    first = pages(wiring_paper(job))[0]
    for unit in job.option.design.units:
        assert unit.id in first, unit.id
    for mark in lead_marks(job.option.design).values():
        assert mark in first


def test_a_starting_value_stands_for_every_subwoofer_output_and_a_delay_for_every_loudspeaker() -> None:
    job = demo_job(LARGE, "4")
    text = text_of(commissioning_sheet(job))
    for value in job.starting_values:
        assert value.output in text
        assert value.polarity in text
        assert f"{value.delay_ms:.1f}" in text
    for line in job.examination.delays:
        assert line.control in text
    for one in job.starting_values[0].filters:
        assert f"{one.gain_db:+.1f}" in text
    assert "must" not in text  # starting points, not orders


def test_what_a_device_cannot_set_is_said() -> None:
    # The demo's two subwoofers on mirrored jacks of a receiver: one level, no polarity.
    job = demo_job("small-5-1-2-two-subs")
    assert [value.inverted for value in job.starting_values] == [None]
    assert "no control" in text_of(commissioning_sheet(job))
