"""The room seen at once as it is typed, its angles, and lengths in feet and inches."""

import pytest
from streamlit.testing.v1 import AppTest

from planner.brief.records import Point
from planner.lengths import LengthStyle
from planner.tables.angles import angle_rows
from tests.ui.app import ROOT, key, session, shown, sound, started


def section(app: AppTest, name: str) -> AppTest:
    app.session_state["section"] = name
    return sound(app.run())


def pictures(app: AppTest) -> list[str]:
    return [str(image.proto) for image in app.get("image")]


def test_the_room_is_drawn_in_plan_and_section_with_words() -> None:
    drawn = pictures(section(started(), "Room"))
    assert len(drawn) == 2
    assert "Plan of the room" in drawn[0]
    assert "Section of the room" in drawn[1]


def test_while_something_is_to_be_mended_the_picture_waits() -> None:
    app = section(started(), "Room")
    app.number_input(key=key(app, "room_length_m")).set_value(0.2)
    sound(app.run())
    assert "The picture follows" in shown(app)


def test_angles_are_those_of_the_package() -> None:
    app = section(started(), "Loudspeakers")
    (table,) = [one.value for one in app.table if "Deviation" in one.value.columns]
    rows = [str(row["Deviation"]).replace("\\", "") for row in table.to_dict("records")]
    assert rows == [row[-1] for row in angle_rows(session(app).draft)]


@pytest.fixture
def in_feet() -> AppTest:
    app = started()
    app.radio(key="lengths").set_value(LengthStyle.FEET)
    return sound(app.run())


def test_turning_to_feet_and_back_changes_no_length(in_feet: AppTest) -> None:
    before = session(started()).draft
    assert session(in_feet).draft == before
    in_feet.radio(key="lengths").set_value(LengthStyle.METRES)
    assert session(sound(in_feet.run())).draft == before


def test_feet_and_inches_and_metres_are_read(in_feet: AppTest) -> None:
    app = in_feet
    app.text_input(key=key(app, "room_length_m")).set_value("20' 6\"")
    app.text_input(key=key(app, "room_width_m")).set_value("4.1 m")
    seats = {"edited_rows": {0: {"x_m": "10'", "z_m": "44 in"}}, "added_rows": [], "deleted_rows": []}
    app.session_state[key(app, "seats")] = seats
    sound(app.run())
    draft = session(app).draft
    assert (draft.room.length_m, draft.room.width_m) == (6.248, 4.1)
    at = draft.seats[0].position
    assert at == Point(3.048, at.y_m, 1.118)


def test_what_is_no_length_is_told_and_nothing_else_is_lost(in_feet: AppTest) -> None:
    app = in_feet
    app.text_input(key=key(app, "room_length_m")).set_value("long")
    sound(app.run())
    assert "Room: Length, m" in shown(app)
    app.text_input(key=key(app, "room_length_m")).set_value("20'")
    sound(app.run())
    assert session(app).draft.room.length_m == 6.096


def test_a_page_loaded_anew_still_measures_in_feet(in_feet: AppTest) -> None:
    again = AppTest.from_file(ROOT / "ui" / "app.py", default_timeout=60)
    again.query_params["lengths"] = "feet"
    assert session(sound(again.run())).lengths is LengthStyle.FEET
    assert in_feet.query_params["lengths"] in ("feet", ["feet"])
