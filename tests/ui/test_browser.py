"""The form as its users meet it, in Chromium."""

import json
import re
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from playwright.sync_api import BrowserContext

from planner.brief import parse_brief, read_brief
from planner.catalogue import read_catalogue
from planner.house_file import read_house
from planner.plan import options
from planner.result_json import result_tree
from planner.tables.amounts import amount
from tests.documents.pages import text_of
from tests.price_lists.lists import FAULTY
from tests.ui.browser import Watched, load_example, watched

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "catalogue_demo"
SMALL = DEMO / "briefs" / "small-5-1-2-two-subs.toml"

HAS_THE_KEYBOARD = """() => {
    const e = document.activeElement, line = getComputedStyle(e).outlineStyle !== "none";
    const label = e.labels && e.labels.length && e.labels[0].innerText;
    const passes = ["BODY", "MAIN"].includes(e.tagName);
    const typed = ["INPUT", "TEXTAREA"].includes(e.tagName) && !["radio", "checkbox"].includes(e.type);
    const name = passes ? "" : e.getAttribute("aria-label") || label || e.innerText;
    return {name, passes, seen: line || typed, html: e.outerHTML.slice(0, 200)};
}"""

pytestmark = pytest.mark.browser


def saved(form: Watched, button: str) -> str:
    with form.page.expect_download() as download:
        form.page.get_by_role("button", name=button).locator("visible=true").first.click()
    return Path(download.value.path()).read_text(encoding="utf-8")


def planned(brief: Path) -> Any:
    """What the command writes for a demo brief."""
    catalogue = read_catalogue(DEMO)
    result = options(read_brief(brief), catalogue, read_house(DEMO))
    return result_tree(result, read_brief(brief), catalogue)


def test_from_an_example_to_one_option_with_the_command_s_figures(form: Watched) -> None:
    load_example(form, "Small 5.1.2 two subs")
    assert parse_brief(saved(form, "Save the brief as a file")) == read_brief(SMALL)
    form.click("See the options")
    form.page.get_by_text("Proven:").wait_for()
    wanted = planned(SMALL)
    form.open_tab("Whole set")
    found = json.loads(saved(form, "Save the whole answer as JSON"))
    form.open_tab("Shortlist")
    schema = json.loads((ROOT / "planner" / "result.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator(schema).validate(found)
    assert {**found, "seconds": 0} == {**wanted, "seconds": 0}
    for option in wanted["shortlist"].values():
        prices = [one["price_minor"] for one in wanted["options"] if one["id"] == option]
        assert all(amount(price, "EUR") in form.text() for price in prices)
    form.click(f"Open option {wanted['options'][1]['id']}")
    assert amount(wanted["options"][1]["price_minor"], "EUR") in form.text()
    form.open_tab("Wiring")
    for line in wanted["options"][1]["output_map"]:
        assert f"{line['to_device']} / {line['to_port']}" in form.text()
    form.open_tab("Levels")
    least_db = min(chain["least_margin_db"] for chain in wanted["options"][1]["figures"]["chains"])
    assert f"Least margin {least_db:.1f} dB" in form.text()
    diagram = form.page.locator('[data-testid="stVegaLiteChart"] svg:visible').first
    diagram.wait_for()
    drawn = diagram.text_content() or ""
    assert f"least margin {least_db:.1f} dB" in drawn
    assert all(
        name in drawn for name in ("Ceiling of the jack", "Greatest level", "Level at full output", "Noise floor")
    )
    form.picture("level-diagram")


def test_the_pictures_of_an_option_are_drawn_and_saved(form: Watched) -> None:
    load_example(form, "Stereo one sub")
    form.click("See the options")
    form.page.get_by_text("Proven:").wait_for()
    form.open_tab("One option")
    form.open_tab("Wiring")
    for tab, count in (("Signal flow", 1), ("Room", 2)):
        form.open_tab(tab)
        pictures = form.page.locator('img[src^="data:image/svg+xml"]:visible')
        assert pictures.count() == count
        assert all(one.evaluate("e => e.complete && e.naturalWidth > 300") for one in pictures.all())
        assert saved(form, "Save as SVG").startswith("<svg ")
        form.picture(tab.lower().replace(" ", "-"))


def test_an_edit_made_just_before_another_screen_is_opened_is_kept(form: Watched) -> None:
    form.open_tab("Project")
    form.field("Project").fill("Attic *cinema* <b>")
    form.open_tab("Gear")
    assert "Attic *cinema* <b>" in form.text()
    form.open_tab("Brief")
    assert form.field("Project").input_value() == "Attic *cinema* <b>"


def test_a_page_loaded_anew_in_the_middle_has_everything(browser: BrowserContext, form: Watched, address: str) -> None:
    form.open_tab("Project")
    form.field("Project").fill("Attic cinema")
    form.open_tab("Room")
    form.field("Length, m").fill("0.2")
    form.open_tab("Limits")
    form.page.get_by_text("1 thing to mend").first.wait_for()
    form.page.reload()
    form.page.get_by_role("tab", name="Brief", exact=True).wait_for()
    form.settle()
    assert "Attic cinema" in form.text()
    assert "1 thing to mend" in form.text()
    form.click("Undo")
    form.page.get_by_text("The brief is complete.").wait_for()
    with watched(browser, address, form.artefacts) as other:
        assert "Attic cinema" not in other.text(), "another window begins anew"
    assert "Attic cinema" in form.text()


def test_a_cell_typed_over_is_in_the_brief(form: Watched) -> None:
    form.open_tab("Room")
    table = form.page.locator('[data-testid="stDataFrame"]:visible').first
    box = table.bounding_box()
    assert box is not None
    table.dblclick(position={"x": box["width"] * 0.35, "y": 52})
    cell = form.page.locator("#portal input")
    cell.fill("99")
    cell.press("Enter")
    form.settle()
    form.page.get_by_text("1 thing to mend").first.wait_for()
    assert "Seats 1: x, y, z" in form.text()


def test_a_broken_price_list_is_told_row_by_row(form: Watched, tmp_path: Path) -> None:
    broken = tmp_path / "prices.csv"
    lines = (DEMO / "prices.csv").read_text(encoding="utf-8").splitlines()
    broken.write_text("\n".join([lines[0], *(line.replace(".00,", ",00,") for line in lines[1:])]), encoding="utf-8")
    form.open_tab("Gear")
    form.page.get_by_text("Files kept with the project").click()
    form.settle()
    others = [path for path in sorted(DEMO.glob("*.csv")) if path.name != "prices.csv"]
    form.page.locator("input[type=file][multiple]").last.set_input_files([*others, broken])
    form.page.get_by_text("faults found").wait_for()
    form.settle()
    assert "prices.csv row 2" in form.text()
    form.picture("faults")
    form.open_tab("Options")
    assert "There is something to mend first" in form.text()


def test_a_new_user_gets_from_an_empty_room_to_the_proposal(form: Watched) -> None:
    """Seven presses besides what is typed: layout (2), begin, options, one of them, its papers, the proposal."""
    form.page.get_by_role("combobox", name="Layout").locator("visible=true").click()
    form.page.get_by_role("option", name=re.compile("0[+]5[+]0")).first.click()
    for label, typed in (("Length, m", "5.20"), ("Width, m", "4.10"), ("Subwoofers", "1")):
        form.field(label).fill(typed)
        form.page.keyboard.press("Tab")
        form.settle()
    form.click("Begin with this room")
    form.field("Project").fill("Garden room")
    form.field("Client").fill("The Meadow household")
    form.click("See the options")
    form.page.get_by_text("Proven:").wait_for(timeout=120_000)
    form.page.get_by_role("button", name=re.compile("Open option")).first.click()
    form.settle()
    price = form.page.locator('[data-testid="stMetricValue"]:visible').first.inner_text().strip()
    form.click("To its papers")
    with form.page.expect_download() as download:
        form.page.get_by_role("button", name=re.compile("proposal")).first.click()
    told = text_of(Path(download.value.path()).read_bytes())
    for words in ("Garden room", "The Meadow household", price, "5.20 m", "4.10 m"):
        assert words in told, words


def test_the_keyboard_alone_leads_from_the_brief_to_the_papers(form: Watched) -> None:
    """Whatever has the keyboard has a name, and unless words are typed into it a line around it."""
    form.page.get_by_text("proven").first.wait_for()
    for wanted in ("See the options", "Open option", "To its papers", "Save all as ZIP"):
        for _ in range(60):
            form.page.keyboard.press("Tab")
            has_it = form.page.evaluate(HAS_THE_KEYBOARD)
            assert has_it["passes"] or (has_it["name"] and has_it["seen"]), has_it
            if wanted in has_it["name"]:
                break
        else:
            raise AssertionError(f"the keyboard never comes to {wanted!r}")
        if wanted != "Save all as ZIP":
            form.page.keyboard.press("Enter")
            form.settle()


def test_a_supplier_s_list_with_faults_is_told_row_by_row_and_its_sound_rows_taken(form: Watched) -> None:
    form.open_tab("Gear")
    form.open_tab("Price list")
    form.page.get_by_role("combobox", name="Supplier").fill("Tallow & Sons")
    form.page.keyboard.press("Enter")
    form.settle()
    upload = form.page.locator('[data-testid="stFileUploader"]:visible input[type=file]').last
    upload.set_input_files({"name": "list.csv", "mimeType": "text/csv", "buffer": FAULTY})
    form.page.get_by_text("Which column is what").wait_for()
    form.settle()
    form.open_tab("Refused")
    for row in (2, 3, 4, 5, 7, 9, 10, 11):
        assert f"list.csv row {row}" in form.text()
    form.picture("price-list")
    form.click("Use 1 price of Tallow & Sons")
    form.page.get_by_text("1 price of Tallow & Sons taken.").wait_for()
    form.click("Undo")
    assert form.page.get_by_role("radio", name="The demo catalogue").is_checked()


def test_a_file_that_is_none_leaves_the_brief_alone(form: Watched, tmp_path: Path) -> None:
    binary = tmp_path / "brief *.toml"
    binary.write_bytes(bytes(range(256)) * 20)
    form.page.locator("input[type=file]").first.set_input_files(binary)
    form.page.get_by_text("was not taken up").wait_for()
    form.settle()
    assert "The brief is complete." in form.text()


def test_the_impossible_brief_names_what_cannot_hold_together(form: Watched) -> None:
    load_example(form, "Impossible balanced with RCA subs")
    form.click("See the options")
    form.page.get_by_text("These requirements cannot hold together").wait_for()
    form.picture("impossible")
