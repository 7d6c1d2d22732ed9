"""Leads and pictures of one option, each drawn by itself for a design of the tests."""

import re
from base64 import b64decode
from dataclasses import replace
from typing import Any
from xml.etree import ElementTree

from streamlit.testing.v1 import AppTest

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.design import LeadPart, Measures
from planner.drawings.signal_flow import signal_flow
from planner.house import House
from planner.options import Option, Quote
from planner.wiring.labels import lead_marks
from tests.checks import good_designs
from tests.checks.drawing import both, lead_to
from tests.checks.gear import CATALOGUE, HOUSE
from tests.checks.good_designs import Drawn
from tests.ui.app import shown, sound


# Streamlit runs these by their source, where no name of this file is known.
def leads_of(option: "Option", catalogue: "Catalogue", house: "House") -> None:
    from ui.widgets.lead_view import lead_view

    lead_view(option, catalogue, house)


def pictures_of(option: "Option", brief: "Brief", catalogue: "Catalogue") -> None:
    from ui.widgets.pictures import room_pictures, signal_flow_picture

    signal_flow_picture(option, brief, catalogue)
    room_pictures(option, brief)


def option_of(drawn: Drawn) -> Option:
    return Option(
        id="7",
        design=drawn()[0],
        measures=Measures(
            price_minor=0, independent_subs=0, control_groups=0, spare_outputs=0, joints=0, subs_lost_worst=0,
            conversions=0,
        ),
        quote=Quote(currency="NZD", gear_minor=0, labour_minor=0, subtotal_minor=0, tax_minor=0, total_minor=0),
        ledger=(),
        findings=(),
        proven=True,
    )  # fmt: skip


def drawn(script: Any, *args: object) -> AppTest:
    return sound(AppTest.from_function(script, args=args, default_timeout=60).run())


def columns(app: AppTest, heading: str) -> list[list[str]]:
    """That column of every table that has it."""
    found = [element.value for element in app.table if heading in element.value.columns]
    return [[str(cell).replace("\\", "") for cell in table[heading]] for table in found]


def test_every_lead_stands_with_its_mark_and_both_lengths() -> None:
    option = option_of(good_designs.by_dsp_unit)
    app = drawn(leads_of, option, CATALOGUE, HOUSE)
    marks = lead_marks(option.design)
    assert columns(app, "Mark") == [list(marks.values())]
    assert [float(cell) for cell in columns(app, "Wanted, m")[0]] == [each.lead.length_m for each in marks]
    assert columns(app, "Sold, m")[0][0] in ("2.5", "2.50")  # half of a lead of 5 m


def test_one_lead_is_told_pin_by_pin_and_another_can_be_picked() -> None:
    app = drawn(leads_of, option_of(good_designs.by_dsp_unit), CATALOGUE, HOUSE)
    assert columns(app, "Pin") == [["1", "2", "3"], ["+", "-", "shield"]]
    assert columns(app, "Joined to")[1] == ["hot core", "cold core", "shield"]
    assert "colours are not standardised" in shown(app)
    sound(app.selectbox(key="lead.7").set_value(1).run())
    assert columns(app, "Pin") == [["1", "2", "3"], ["1", "2", "3"]]


def test_what_is_cut_from_what_is_listed() -> None:
    app = drawn(leads_of, option_of(good_designs.by_dsp_unit), CATALOGUE, HOUSE)
    assert columns(app, "One tail")[0] == ["XLR female, 5 m", "XLR female, 7.5 m", "XLR female, 2.5 m"]
    assert columns(app, "Becomes")[0][:2] == ["spare", "spare"]
    assert columns(app, "Pieces") == [["L008 8.20 m"]]


def test_spare_halves_that_would_do_are_told() -> None:
    """The way in by half of 15 m: the spare half of the lead to subwoofer 2, 5 m, would do as well."""
    option = option_of(good_designs.by_dsp_unit)
    dearer = lead_to("DSP 1/IN/1", parts=(LeadPart(sku="L-XLR-15", count=1),))
    shorter = lead_to("Sub 3/XLR/1", parts=(LeadPart(sku="L-XLR-10", count=1),), length_m=5.0)
    design = both(dearer, shorter)(option.design)
    app = drawn(leads_of, replace(option, design=design), CATALOGUE, HOUSE)
    assert "Spare halves would do in place of L-XLR-15 no. 1" in shown(app)
    assert "Spare halves" not in shown(drawn(leads_of, option, CATALOGUE, HOUSE))


def test_the_pictures_are_those_of_the_planner_and_have_words() -> None:
    option, brief = option_of(good_designs.split), good_designs.split()[1]
    app = drawn(pictures_of, option, brief, CATALOGUE)
    html = [element.proto.body for element in app.get("html")]
    assert len(html) == 3
    for text in html:
        assert re.search(r'<img alt="[^"]{10,}" src="data:image/svg\+xml;base64,', text)
    flow = b64decode(re.findall(r"base64,([^\"]+)", html[0])[0]).decode()
    assert flow == signal_flow(
        option.design, CATALOGUE, "Test: signal flow", "Invented Client, T-1, 2026-11-25, option 7"
    )
    assert ElementTree.fromstring(flow).tag.endswith("svg")
    assert len(app.get("download_button")) == 3
