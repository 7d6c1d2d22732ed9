"""Every screen under axe-core for WCAG 2.1 A and AA, in the light and in the dark."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser

from tests.ui.browser import Watched, browsing, serving, watched
from ui.session import Screen

pytestmark = pytest.mark.browser

_RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa"]}
_GRAVE = ("serious", "critical")


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    with serving(tmp_path_factory.mktemp("projects")) as found:
        yield found


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with browsing() as found:
        yield found


def grave(form: Watched, where: str) -> list[str]:
    """What is serious or critical on the screen as it stands, with the elements that have it."""
    found = Axe().run(form.page, options=_RULES).response
    assert found["passes"], "axe-core ran on something"
    return [
        f"{where}: {one['id']}: {node['html'][:200]}"
        for one in found["violations"]
        if one["impact"] in _GRAVE
        for node in one["nodes"]
    ]


_SECTIONS = {
    Screen.BRIEF: ("Project", "Room", "Loudspeakers", "Subwoofers", "Limits", "Owned gear", "Later"),
    Screen.GEAR: ("What there is", "Price list", "Edit gear", "House settings"),
    Screen.OPTIONS: ("Shortlist", "Whole set", "Compare", "Price chart"),
}


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_no_screen_has_a_serious_finding(browser: Browser, address: str, tmp_path: Path, dark: bool) -> None:
    findings: list[str] = []
    with watched(browser, address, tmp_path, dark=dark) as form:
        form.page.get_by_text("proven").first.wait_for()
        for screen in (Screen.BRIEF, Screen.OPTIONS) if dark else Screen:
            form.open_tab(screen)
            findings += grave(form, screen)
            for section in ("Price chart",) if screen is Screen.OPTIONS and dark else _SECTIONS.get(screen, ()):
                form.open_tab(section)
                findings += grave(form, f"{screen}, {section}")
        form.open_tab(Screen.OPTIONS)
        form.open_tab("Compare")
        form.click("Show the client")
        findings += grave(form, "the client's screen")
    assert findings == []
