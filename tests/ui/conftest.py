"""What the form's tests share: in Streamlit's harness a search only where a test wants it; one server, one Chromium."""

from collections.abc import Iterator
from pathlib import Path
from threading import Event

import pytest
from playwright.sync_api import BrowserContext

from tests.ui.browser import Watched, artefacts_folder, browsing, serving, watched
from ui.answers import Question, Verdict
from ui.search import VERDICTS, Stopped


@pytest.fixture(scope="package")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Where the form is served for all browser tests."""
    with serving(tmp_path_factory.mktemp("projects")) as found:
        yield found


@pytest.fixture(scope="package")
def browser() -> Iterator[BrowserContext]:
    """The one browser. It ends with these tests: while it is there, an event loop runs in their thread."""
    with browsing() as found:
        yield found


@pytest.fixture
def form(browser: BrowserContext, address: str, tmp_path: Path) -> Iterator[Watched]:
    """A new user's window."""
    with watched(browser, address, artefacts_folder(tmp_path)) as page:
        yield page


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
