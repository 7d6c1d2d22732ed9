"""Every screen and every part of it: under axe-core for WCAG 2.1 A and AA, in light and dark, on desk and tablet.

One walk does it all, since the way to a screen costs more than a look at it. Its pictures are for people.
"""

from collections.abc import Mapping, Sequence
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import BrowserContext

from tests.ui.browser import DESKTOP, TABLET, Watched, artefacts_folder, load_example, watched
from ui.session import Part, Screen, Section

pytestmark = pytest.mark.browser

_ALL = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa"], "resultTypes": ["violations"]}
_COLOURS = {"runOnly": ["color-contrast"], "resultTypes": ["violations"]}
_GRAVE = ("serious", "critical")
_OVERFLOW = "document.documentElement.scrollWidth - document.documentElement.clientWidth"

_PARTS: Mapping[Screen, Sequence[str]] = {
    Screen.BRIEF: tuple(Section),
    Screen.GEAR: ("What there is", "Price list", "Edit gear", "House settings"),
    Screen.OPTIONS: ("Shortlist", "Whole set", "Compare", "Price chart"),
    Screen.OPTION: tuple(Part),
    Screen.WHY: ("Price steps", "Compared", "This gear", "If prices move"),
}
_WITHIN: Mapping[str, Sequence[str]] = {
    Part.WIRING: ("Output map", "Signal flow", "Leads", "Channel ledger"),
    Part.LEVELS: ("Line levels", "Loudness", "Delays"),
}


def test_no_screen_has_a_serious_finding_or_is_wider_than_its_window(
    browser: BrowserContext, address: str, tmp_path: Path
) -> None:
    findings: list[str] = []
    with watched(browser, address, artefacts_folder(tmp_path)) as form:
        load_example(form, "Stereo one sub")
        form.page.get_by_text("proven").first.wait_for()
        for screen in Screen:
            form.open_tab(screen)
            if screen is Screen.WHY:
                form.page.get_by_role("button", name="Explain").click()
                form.page.get_by_role("tab", name="Price steps").wait_for()
            for part in _PARTS.get(screen, ("",)):
                for within in _WITHIN.get(part, ("",)):
                    for tab in filter(None, (part, within)):
                        form.open_tab(tab)
                    findings += looked_at(form, " ".join(filter(None, (screen, part, within))))
        form.open_tab(Screen.OPTIONS)
        form.open_tab("Compare")
        form.click("Show the client")
        findings += looked_at(form, "for the client")
    assert findings == []


def looked_at(form: Watched, where: str) -> list[str]:
    """What is wrong with the screen as it stands; a picture of it in the light, in the dark, and on a tablet."""
    name = where.lower().replace(" ", "-")
    form.picture(name)
    found = grave(form, where, _ALL)
    form.look(dark=True)
    form.picture(f"{name}-dark")
    found += grave(form, f"{where}, dark", _COLOURS)
    form.look(size=TABLET)
    form.picture(name)
    if form.page.evaluate(_OVERFLOW) > 0:
        found.append(f"{where}: wider than a tablet")
    form.look(size=DESKTOP)
    return found


def grave(form: Watched, where: str, rules: Mapping[str, object]) -> list[str]:
    """What is serious or critical, with the elements that have it."""
    found = Axe().run(form.page, options=rules).response
    assert found["passes"], "axe-core ran on something"
    return [
        f"{where}: {one['id']}: {node['html'][:200]}"
        for one in found["violations"]
        if one["impact"] in _GRAVE
        for node in one["nodes"]
    ]
