"""What the form's tests in Streamlit's harness share: nothing is searched for unless a test wants it."""

from collections.abc import Iterator
from pathlib import Path
from threading import Event

import pytest

from ui.answers import Question, Verdict
from ui.search import VERDICTS, Stopped


@pytest.fixture(autouse=True)
def projects(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """An empty folder of projects."""
    monkeypatch.setenv("PLANNER_PROJECTS", str(tmp_path / "projects"))
    return tmp_path / "projects"


@pytest.fixture(autouse=True)
def no_search(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The planner ponders until the test is over."""
    over = Event()

    def ponder(question: Question, **_: object) -> Verdict:
        over.wait(60)
        raise Stopped

    monkeypatch.setattr("ui.search.ask", ponder)
    monkeypatch.setattr("ui.search.A_MOMENT_S", 0.0)
    VERDICTS.clear()
    yield
    over.set()
    VERDICTS.clear()
