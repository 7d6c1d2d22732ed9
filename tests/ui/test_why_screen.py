"""The Why screen in Streamlit's harness, on a bench system that takes a moment to explain."""

import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from threading import Event
from typing import Any

import pytest

from planner.explain.explanation import Explanation, explained
from planner.options import Result
from planner.plan import options
from planner.projects import Demo, ProjectStore, Work
from tests.demand.shop import HOUSE
from tests.explain.test_stages import two_sizes
from tests.plan.test_conflict import CASES
from tests.ui.app import answer_by, open_screen, shown, sound, started
from ui.answers import Answered, Question, Verdict
from ui.session import Screen

SUPPLIER = next(iter(two_sizes().catalogue.offers.values()))[0].supplier


def answering(monkeypatch: pytest.MonkeyPatch, *, possible: bool) -> None:
    """Has the planner answer another brief than that in the form: one that is soon explained."""
    instance = two_sizes()
    found, sold, _ = CASES["one output too few"]
    brief, catalogue = (instance.brief, instance.catalogue) if possible else (found, sold.catalogue())

    def ask(question: Question, **_: object) -> Verdict:
        result: Result = options(brief, catalogue, HOUSE)
        gear = replace(question.gear, catalogue=catalogue, house=HOUSE)
        return Answered(question=replace(question, brief=brief, gear=gear), result=result)

    answer_by(monkeypatch, ask)


def test_an_option_is_explained_once_it_is_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    answering(monkeypatch, possible=True)
    app = sound(open_screen(started(), Screen.WHY))
    assert "One more subwoofer costs" not in shown(app)
    app = sound(app.button(key="explain").click().run())
    text = shown(app)
    for part in ("One more loudspeaker channel costs", "Without proc:", "Planned ahead: now EUR", "Bands:"):
        assert part in text
    app = sound(app.selectbox(key="why_drives").select_index(1).run())
    assert "every subwoofer on a processor output of its own" in shown(app)


def test_a_brief_without_a_design_has_its_conflicts_and_what_mends_it(monkeypatch: pytest.MonkeyPatch) -> None:
    answering(monkeypatch, possible=False)
    app = sound(open_screen(started(), Screen.WHY))
    text = shown(sound(app.button(key="explain").click().run()))
    assert "Conflict 1: these cannot hold together" in text
    assert "What would mend it, what gives up least first" in text


def test_without_an_answer_there_is_a_way_to_one() -> None:
    app = sound(open_screen(started(), Screen.WHY))
    assert "There is no answer to explain yet." in shown(app)


def test_prices_that_move_and_the_worth_of_later_money_are_as_wished(monkeypatch: pytest.MonkeyPatch) -> None:
    answering(monkeypatch, possible=True)
    app = sound(open_screen(started(), Screen.WHY))
    app.session_state["why_bands"] = {
        "edited_rows": {},
        "added_rows": [{"name": SUPPLIER, "low": -2.5, "high": 12}],
        "deleted_rows": [],
    }
    sound(app.number_input(key="why_discount").set_value(7.0).run())
    text = shown(sound(app.button(key="explain").click().run()))
    assert f"Bands: prices of {SUPPLIER} from -2.5 % to +12 %" in text
    assert "counts for less by 7 % a year" in text.replace("7.0 %", "7 %")


def test_a_row_that_is_no_band_is_told_and_nothing_is_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    answering(monkeypatch, possible=True)
    app = sound(open_screen(started(), Screen.WHY))
    rows = [{"name": SUPPLIER, "low": 5, "high": -5}]
    app.session_state["why_bands"] = {"edited_rows": {}, "added_rows": rows, "deleted_rows": []}
    app = sound(app.run())
    assert f"found {SUPPLIER}, 5 %, -5 %" in shown(app)
    assert "explain" not in {button.key for button in app.button}


def test_another_project_is_a_room_of_the_same_order(monkeypatch: pytest.MonkeyPatch, projects: Path) -> None:
    brief = two_sizes().brief
    other = replace(brief, project=replace(brief.project, name="Den"), layout="0+5+0", later=())
    kept = ProjectStore(projects).create(Work(brief=other, gear=Demo()))
    answering(monkeypatch, possible=True)
    app = sound(open_screen(started(), Screen.WHY))
    sound(app.multiselect(key="why_rooms").select(kept.project).run())
    text = shown(sound(app.button(key="explain").click().run()))
    assert "2 rooms in one order" in text
    assert "Den alone: EUR" in text
    (table,) = [element.value for element in app.table if "Supplier" in element.value.columns]
    assert list(table["Item"])[-4:] == ["Goods", "Labour", "Tax", "Total"]


def test_stopped_it_shows_what_it_knows_by_then(monkeypatch: pytest.MonkeyPatch) -> None:
    answering(monkeypatch, possible=True)
    begun = Event()

    def waiting(*asked: Any, stopped: Callable[[], bool], **options: Any) -> Explanation:
        """Explains nothing before it is told to stop."""
        begun.set()
        while not stopped():
            time.sleep(0.01)
        return explained(*asked, stopped=stopped, **options)

    monkeypatch.setattr("planner.explain.explanation.explained", waiting)
    app = sound(open_screen(started(), Screen.WHY))
    monkeypatch.setattr("ui.explaining.A_MOMENT_S", 0.0)
    app = sound(app.button(key="explain").click().run())
    assert begun.wait(30)
    monkeypatch.setattr("ui.explaining.A_MOMENT_S", 30.0)
    app = sound(app.button(key="stop_explaining").click().run())
    assert "Not all was settled" in shown(sound(app.run()))
    assert app.button(key="explain").label == "Explain again"
