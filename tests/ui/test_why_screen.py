"""The Why screen in Streamlit's harness, on a bench system that takes a moment to explain."""

from dataclasses import replace

import pytest

from planner.options import Result
from planner.plan import options
from tests.demand.shop import HOUSE
from tests.explain.test_stages import two_sizes
from tests.plan.test_conflict import CASES
from tests.ui.app import answer_by, open_screen, shown, sound, started
from ui.answers import Answered, Question, Verdict
from ui.session import Screen


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
