"""The brief's screen: filled, mended, begun anew, opened from a file."""

import re
from datetime import date
from decimal import Decimal

import pytest

from planner.brief import parse_brief, read_brief, write_brief
from planner.brief.records import Drive, Measure, Point
from tests.ui.app import DEMO, key, session, shown, sound, started

SMALL = DEMO / "briefs" / "small-5-1-2-two-subs.toml"
EXAMPLES = sorted((DEMO / "briefs").glob("*.toml"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: str(path.stem))
def test_an_example_fills_every_input_without_changing_the_brief(path: object) -> None:
    app = started()
    app.selectbox(key="example").set_value(path)
    sound(app.button(key="load_example").click().run())
    assert isinstance(path, type(SMALL))
    assert session(app).draft == read_brief(path)
    assert "The brief is complete." in shown(app)


def test_what_is_typed_is_in_the_brief() -> None:
    app = started()
    app.text_input(key=key(app, "project_name")).set_value("Attic cinema")
    app.date_input(key=key(app, "project_dated")).set_value(date(2027, 1, 2))
    app.number_input(key=key(app, "project_tax_percent")).set_value(21.5)
    app.number_input(key=key(app, "room_length_m")).set_value(7.25)
    app.number_input(key=key(app, "rack_units")).set_value(24)
    app.number_input(key=key(app, "limits_budget")).set_value(12345.67)
    app.number_input(key=key(app, "limits_most_subwoofers_lost")).set_value(1)
    app.toggle(key=key(app, "limits_balanced_only")).set_value(True)
    app.multiselect(key=key(app, "limits_drives")).set_value([Drive.DEDICATED, Drive.DSP])
    app.multiselect(key=key(app, "measures")).set_value([Measure.PRICE, Measure.JOINTS])
    sound(app.run())
    brief = session(app).draft
    assert (brief.project.name, brief.project.dated) == ("Attic cinema", date(2027, 1, 2))
    assert brief.project.tax_percent == Decimal("21.5")
    assert (brief.room.length_m, brief.rack.units) == (7.25, 24)
    assert brief.limits.budget == Decimal("12345.67")
    assert (brief.limits.most_subwoofers_lost, brief.limits.balanced_only) == (1, True)
    assert brief.limits.drives == {Drive.DEDICATED, Drive.DSP}
    assert brief.measures == (Measure.PRICE, Measure.JOINTS)
    assert parse_brief(write_brief(brief)) == brief


def test_tables_give_rows_back_as_they_were_left() -> None:
    app = started()
    seats = session(app).draft.seats
    app.session_state[key(app, "seats")] = {
        "edited_rows": {0: {"x_m": 2.5}},
        "added_rows": [{"name": "Stool", "x_m": 3.0, "y_m": 1.0, "z_m": 1.1, "primary": False}, {}],
        "deleted_rows": [1],
    }
    sound(app.run())
    found = session(app).draft.seats
    assert len(found) == len(seats)
    assert found[0].position.x_m == 2.5
    assert found[1] == seats[2]
    assert (found[-1].name, found[-1].position) == ("Stool", Point(3.0, 1.0, 1.1))


def test_a_fault_names_its_input_and_loses_nothing() -> None:
    app = started()
    app.number_input(key=key(app, "room_length_m")).set_value(0.2)
    app.text_input(key=key(app, "project_currency")).set_value("euro")
    sound(app.run())
    assert "2 things to mend" in shown(app)
    assert "Room: Length, m: found 0.2; expected a number from 1 to 100 m" in shown(app).replace("*", "")
    assert "Project: Quoting currency: found" in shown(app).replace("*", "")
    assert (session(app).draft.room.length_m, session(app).draft.project.currency) == (0.2, "euro")
    app.number_input(key=key(app, "room_length_m")).set_value(6.8)
    app.text_input(key=key(app, "project_currency")).set_value("EUR")
    sound(app.run())
    assert "The brief is complete." in shown(app)


def test_an_empty_cell_is_told_and_its_row_is_kept() -> None:
    app = started()
    app.session_state[key(app, "seats")] = {"edited_rows": {0: {"x_m": None}}, "added_rows": [], "deleted_rows": []}
    sound(app.run())
    assert "Seats 1: x, y, z" in shown(app)
    assert session(app).draft.seats[0].position.y_m > 0


@pytest.mark.parametrize("length", [1e300, -1e300, 0.0, 1e-300])
def test_no_number_breaks_the_form(length: float) -> None:
    app = started()
    for name in ("room_length_m", "rack_x_m", "project_tax_percent", "limits_budget"):
        app.number_input(key=key(app, name)).set_value(length)
    for name in ("limits_largest_split", "rack_units"):
        app.number_input(key=key(app, name)).set_value(int(length))
    app.session_state[key(app, "subwoofer_sets")] = {
        "edited_rows": {0: {"least": length, "most": length}},
        "added_rows": [{"name": "x", "least": length}],
        "deleted_rows": [],
    }
    sound(app.run())
    assert "to mend" in shown(app)


@pytest.mark.parametrize(
    "text", ["", "   ", "*a* <b>b</b> $c$ [d](e) :red[f] |", "日本語 Ωß", "\x07\x7f", '"""\n[room]\n', "x" * 5000]
)
def test_no_text_breaks_the_form(text: str) -> None:
    app = started()
    for name in ("project_name", "project_client", "project_reference", "project_currency"):
        app.text_input(key=key(app, name)).set_value(text)
    for table, column in (("loudspeaker_placements", "channel"), ("subwoofer_positions", "set")):
        app.session_state[key(app, table)] = {
            "edited_rows": {0: {column: text}},
            "added_rows": [],
            "deleted_rows": [],
        }
    sound(app.run())
    assert "to mend" in shown(app)
    assert session(app).draft.project.name == text


@pytest.mark.parametrize("table", ["seats", "loudspeaker_sets", "loudspeaker_placements", "subwoofer_sets"])
def test_an_emptied_table_does_not_break_the_form(table: str) -> None:
    app = started()
    (editor,) = [editor for editor in app.data_editor if editor.key == key(app, table)]
    rows = list(range(len(editor.value)))
    app.session_state[key(app, table)] = {"edited_rows": {}, "added_rows": [], "deleted_rows": rows}
    sound(app.run())


def test_a_loudspeaker_of_an_unknown_set_is_kept_in_a_set_of_its_own() -> None:
    app = started()
    app.session_state[key(app, "loudspeaker_placements")] = {
        "edited_rows": {0: {"set": "Typing error"}},
        "added_rows": [],
        "deleted_rows": [],
    }
    sound(app.run())
    draft = session(app).draft
    assert draft.loudspeakers[-1].name == "Typing error"
    assert "a model, candidates, or a level to reach" in shown(app)


def test_a_new_room_is_begun_and_the_brief_before_brought_back() -> None:
    app = started()
    before = session(app).draft
    app.selectbox(key="new_layout").set_value("2+5+0")
    app.number_input(key="new_length_m").set_value(5.5)
    app.number_input(key="new_subwoofers").set_value(2)
    sound(app.button(key="new_room").click().run())
    draft = session(app).draft
    assert (draft.layout, draft.room.length_m, draft.subwoofers[0].most) == ("2+5+0", 5.5, 2)
    assert "The brief is complete." in shown(app)
    sound(app.button(key="undo").click().run())
    assert session(app).draft == before


def test_a_sound_file_fills_the_inputs() -> None:
    app = started()
    content = SMALL.read_bytes()
    app.file_uploader(key="brief_file").set_value(("mine.toml", content, "application/toml"))
    sound(app.run())
    assert session(app).draft == read_brief(SMALL)
    app.text_input(key=key(app, "project_name")).set_value("Renamed")
    sound(app.run())
    assert session(app).draft.project.name == "Renamed", "the file in the field must not be read twice"


@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-31"])
def test_a_file_of_any_date_fills_the_inputs(day: str) -> None:
    app = started()
    content = re.sub(r"dated = .*", f"dated = {day}", SMALL.read_text(encoding="utf-8"))
    app.file_uploader(key="brief_file").set_value(("mine.toml", content.encode(), "application/toml"))
    sound(app.run())
    assert session(app).draft.project.dated.isoformat() == day


@pytest.mark.parametrize("size", [1e300, -1.0, 0.0])
def test_a_new_room_of_any_size_is_told_of_not_refused(size: float) -> None:
    app = started()
    for name in ("new_length_m", "new_width_m", "new_height_m"):
        app.number_input(key=name).set_value(size)
    sound(app.button(key="new_room").click().run())
    assert session(app).draft.room.length_m == size
    assert "to mend" in shown(app)


def test_a_file_with_faults_is_kept_to_be_mended() -> None:
    app = started()
    before = session(app).draft
    broken = SMALL.read_text(encoding="utf-8").replace("length_m = ", "length_m = -")
    app.file_uploader(key="brief_file").set_value(("mine.toml", broken.encode(), "application/toml"))
    sound(app.run())
    assert "mine.toml" in shown(app)
    assert session(app).draft == before
    (text,) = [area for area in app.text_area if area.value == broken]
    text.set_value(broken.replace("length_m = -", "length_m = "))
    (submit,) = [button for button in app.button if button.label == "Read it again"]
    submit.click()
    sound(app.run())
    assert session(app).draft == read_brief(SMALL)


@pytest.mark.parametrize(
    "content",
    [b"", b"\x00\x01\x02", b"\xff\xfe\x00", b"a = [" * 3000, b"[project", b"x" * 900_000, "日本".encode("utf-16")],
)
def test_no_file_breaks_the_form(content: bytes) -> None:
    app = started()
    before = session(app).draft
    app.file_uploader(key="brief_file").set_value(("odd *name*.toml", content, "application/toml"))
    sound(app.run())
    assert "was not taken up" in shown(app)
    assert session(app).draft == before
    sound(app.button(key="put_aside").click().run())
    assert "was not taken up" not in shown(app)
