"""The papers in the form: each can be saved, and all together; what cannot be printed is told."""

from dataclasses import replace

import pytest
from streamlit.testing.v1 import AppTest

from planner.brief.records import Brief
from planner.documents.papers import PAPER_WORDS
from planner.explain.explanation import Wishes, explained
from tests.documents.jobs import SMALL
from tests.plan.demo import LONG_ENOUGH_S, demo_brief, demo_result
from tests.ui.app import answer_by, open_part, open_screen, session, shown, sound, started
from ui.answers import Answered, Question
from ui.explaining import EXPLANATIONS
from ui.session import Part, Screen


def papers_of(brief: Brief, monkeypatch: pytest.MonkeyPatch) -> AppTest:
    """The tab with the papers, of a demo brief's answer under another brief's names."""

    def ask(question: Question, **_: object) -> Answered:
        key = f"{question.key} {brief.project.client}"  # another brief, another key
        return Answered(question=replace(question, brief=brief, key=key), result=demo_result(SMALL))

    answer_by(monkeypatch, ask)
    app = sound(open_screen(sound(open_screen(started(), Screen.OPTIONS)), Screen.OPTION))
    return sound(open_part(app, Part.PAPERS))


def test_every_paper_and_all_as_zip_can_be_saved(monkeypatch: pytest.MonkeyPatch) -> None:
    app = papers_of(demo_brief(SMALL), monkeypatch)
    keys = {button.key for button in app.download_button}
    assert {"papers_zip", *(f"paper_{name}" for name in PAPER_WORDS)} <= keys
    for words in PAPER_WORDS.values():
        assert words in shown(app)


def test_they_are_one_press_away_from_any_part(monkeypatch: pytest.MonkeyPatch) -> None:
    app = sound(open_part(papers_of(demo_brief(SMALL), monkeypatch), Part.LEVELS))
    assert "papers_zip" not in {button.key for button in app.download_button}
    app = sound(app.button(key="to_papers").click().run())
    assert "papers_zip" in {button.key for button in app.download_button}


def test_letters_that_cannot_be_printed_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    brief = demo_brief(SMALL)
    app = papers_of(replace(brief, project=replace(brief.project, client="თბილისი")), monkeypatch)
    assert "U+10D7" in shown(app)
    assert "papers_zip" not in {button.key for button in app.download_button}


def test_pinned_options_stand_beside_it_in_the_proposal(monkeypatch: pytest.MonkeyPatch) -> None:
    app = papers_of(demo_brief(SMALL), monkeypatch)
    assert "Beside it in the proposal stand the options that the shortlist names." in shown(app)
    session(app).pinned = (demo_result(SMALL).options[-1].id,)
    assert "Beside it in the proposal stand the options that you pinned." in shown(sound(app.run()))


def test_what_the_screen_why_has_worked_out_goes_into_the_papers(monkeypatch: pytest.MonkeyPatch) -> None:
    app = papers_of(demo_brief(SMALL), monkeypatch)
    words = "They also tell what the screen Why has worked out."
    assert words not in shown(app)
    answered = session(app).shown
    assert answered is not None
    question, wishes = answered.question, Wishes(option_id=answered.result.options[0].id)
    found = explained(
        answered.result,
        question.brief,
        question.gear.catalogue,
        question.gear.house,
        wishes,
        time_limit_s=LONG_ENOUGH_S,
    )
    EXPLANATIONS.keep(answered, wishes, found)
    assert words in shown(sound(app.run()))
