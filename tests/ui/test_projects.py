"""The work is kept by itself: reload, undo, two windows, several projects, a store that cannot be used."""

from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from planner.projects import ProjectStore
from planner.projects.store import FILE
from tests.ui.app import ROOT, key, open_screen, session, shown, sound, started
from ui.session import Screen


def rename(app: AppTest, name: str) -> AppTest:
    app.text_input(key=key(app, "project_name")).set_value(name)
    return sound(app.run())


def project(app: AppTest) -> str:
    kept = session(app).keeping.kept
    assert kept is not None
    assert kept.project in app.query_params["project"]
    return kept.project


def another_window(project: str) -> AppTest:
    app = AppTest.from_file(ROOT / "ui" / "app.py", default_timeout=60)
    app.query_params["project"] = project
    return sound(app.run())


def name(app: AppTest) -> str:
    return session(app).draft.project.name


def test_looking_alone_makes_no_project(projects: Path) -> None:
    app = sound(open_screen(started(), Screen.PROJECTS))
    assert "project" not in app.query_params
    assert ProjectStore(projects).projects() == ()


def test_a_change_is_kept_and_a_page_loaded_anew_goes_on_with_it() -> None:
    app = rename(started(), "Attic")
    app.number_input(key=key(app, "room_length_m")).set_value(0.2)
    sound(app.run())
    again = another_window(project(app))
    assert session(again).draft == session(app).draft
    assert "1 thing to mend" in shown(again), "what was at fault is there as well, to be mended"


def test_undo_and_redo_fill_the_inputs() -> None:
    app = started()
    before = name(app)
    app = rename(rename(app, "Attic"), "Cellar")
    sound(app.button(key="undo").click().run())
    assert (name(app), app.text_input(key=key(app, "project_name")).value) == ("Attic", "Attic")
    sound(app.button(key="undo").click().run())
    assert name(app) == before
    assert app.button(key="undo").disabled
    sound(app.button(key="redo").click().run())
    sound(app.button(key="redo").click().run())
    assert name(app) == "Cellar"


def test_two_windows_on_two_projects_never_mix() -> None:
    one, other = rename(started(), "One"), rename(started(), "Other")
    assert project(one) != project(other)
    assert (name(sound(one.run())), name(sound(other.run()))) == ("One", "Other")
    assert (name(another_window(project(one))), name(another_window(project(other)))) == ("One", "Other")


def test_a_second_window_on_a_project_is_told_and_can_go_its_own_way() -> None:
    one = rename(started(), "Attic")
    other = another_window(project(one))
    rename(one, "Mine")
    rename(other, "Yours")
    assert "changed in another window" in shown(other)
    assert name(another_window(project(one))) == "Mine"
    sound(other.button(key="part").click().run())
    assert project(other) != project(one)
    assert name(another_window(project(other))) == "Yours"


def test_a_second_window_on_a_project_can_take_what_the_first_has() -> None:
    one = rename(started(), "Attic")
    other = another_window(project(one))
    rename(one, "Mine")
    rename(other, "Yours")
    sound(other.button(key="follow").click().run())
    assert name(other) == "Mine"
    assert name(rename(other, "Both")) == "Both"


def test_a_project_that_is_not_here_is_said_to_be_missing() -> None:
    app = another_window("nosuchproject")
    assert "not kept on this machine" in shown(app)
    assert "project" not in app.query_params


def test_projects_are_opened_copied_put_away_and_deleted(projects: Path) -> None:
    app = rename(started(), "First")
    first = project(app)
    app = sound(open_screen(app, Screen.PROJECTS))
    sound(app.button(key="new_project").click().run())
    app = rename(app, "Second")
    second = project(app)
    assert first != second
    app = sound(open_screen(app, Screen.PROJECTS))
    sound(app.button(key=f"open_{first}").click().run())
    assert (project(app), name(app)) == (first, "First")
    app = sound(open_screen(app, Screen.PROJECTS))
    sound(app.button(key=f"copy_{second}").click().run())
    assert project(app) not in (first, second)
    assert name(app) == "Second"
    app = sound(open_screen(app, Screen.PROJECTS))
    sound(app.button(key=f"put_{first}").click().run())
    assert [one.id for one in ProjectStore(projects).projects(archived=True)] == [first]
    sound(app.button(key=f"delete_{first}").click().run())
    assert ProjectStore(projects).open(first) is None


def test_two_projects_are_compared_entry_by_entry() -> None:
    rename(started(), "First")
    app = started()
    app.number_input(key=key(app, "room_length_m")).set_value(6.75)
    app = rename(app, "Second")
    app = sound(open_screen(app, Screen.PROJECTS))
    (table,) = [element.value for element in app.table if "Entry" in element.value.columns]
    rows = {
        row["Entry"].replace("\\", ""): (row["This project"], row["With this one"]) for row in table.to_dict("records")
    }
    assert rows["Project: Project"] == ("Second", "First")
    assert rows["Room: Length, m"][0].replace("\\", "") == "6.75"


def test_a_store_that_cannot_be_used_is_told_and_the_form_goes_on(projects: Path) -> None:
    projects.mkdir()
    (projects / FILE).write_bytes(b"no database" * 100)
    app = rename(started(), "Attic")
    assert "Your work is not being kept" in shown(app)
    assert name(app) == "Attic"
    assert "cannot be used" in shown(sound(open_screen(app, Screen.PROJECTS)))


@pytest.mark.parametrize("odd", ["", "*A* <b>$x$ [y](z)", "x" * 500])
def test_odd_names_are_shown_as_they_are(odd: str) -> None:
    app = rename(started(), odd)
    app = sound(open_screen(app, Screen.PROJECTS))
    assert (odd or "A system without a name") in shown(app)
