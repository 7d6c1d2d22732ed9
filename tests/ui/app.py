"""The form in Streamlit's own test harness, with the planner's answer put in by hand where wanted."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from planner.brief.records import Brief
from planner.errors import Fault
from planner.options import Result
from planner.plan import Progress
from tests.cli.example import BRIEF, CATALOGUE, HOUSE
from ui.answers import Answered, Question, Verdict
from ui.session import PART_KEY, SCREEN_KEY, Part, Screen, Session

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "catalogue_demo"
FAULT = Fault(where="brief.toml room.length_m", value="0.2", expected="a number from 1 to 100 m", remedy="Measure it.")


def started() -> AppTest:
    """The form as a new user sees it."""
    return sound(AppTest.from_file(ROOT / "ui" / "app.py", default_timeout=60).run())


def sound(app: AppTest) -> AppTest:
    """The same form, after a look that neither an exception nor our own bug is on the screen."""
    assert not app.exception, app.exception
    assert not app.code, [code.value for code in app.code]
    return app


def session(app: AppTest) -> Session:
    kept = app.session_state["session"]
    assert isinstance(kept, Session)
    return kept


def key(app: AppTest, name: str) -> str:
    """The key of an input of the brief."""
    return f"{name}.{session(app).revision}"


def open_screen(app: AppTest, screen: Screen) -> AppTest:
    app.session_state[SCREEN_KEY] = screen.value
    return app.run()


def open_part(app: AppTest, part: Part) -> AppTest:
    """Opens a part of the option that is on show."""
    app.session_state[PART_KEY] = part.value
    return app.run()


def shown(app: AppTest) -> str:
    """All text on the screen, without the marks that keep Markdown plain."""
    parts = [*app.markdown, *app.caption, *app.error, *app.success, *app.warning, *app.info]
    text = "\n".join(str(part.value) for part in parts)
    return text.replace("\\", "").replace("\u2060", "")


def answer_by(monkeypatch: pytest.MonkeyPatch, ask: Callable[..., Verdict]) -> None:
    """Has this function answer, and every run of the script wait for it."""
    monkeypatch.setattr("ui.search.ask", ask)
    for work in ("search", "explaining"):
        monkeypatch.setattr(f"ui.{work}.A_MOMENT_S", 30.0)


def answer_with(monkeypatch: pytest.MonkeyPatch, *results: Result, brief: Brief = BRIEF) -> list[Question]:
    """Has the planner give these results in turn, the last one ever after; returns what it is asked.

    `brief` is what they are taken to answer, whatever was asked.
    """
    asked: list[Question] = []

    def ask(question: Question, *, time_limit_s: float, progress: Callable[[Progress], None]) -> Verdict:
        progress(Progress(1, 0, "looking at the DSP units"))
        asked.append(question)
        gear = replace(question.gear, catalogue=CATALOGUE, house=HOUSE)
        result = results[min(len(asked), len(results)) - 1]
        return Answered(question=replace(question, brief=brief, gear=gear), result=result)

    answer_by(monkeypatch, ask)
    return asked
