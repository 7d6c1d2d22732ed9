"""What a user waits for is measured, each thing on a line; no time is judged."""

from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext

from tests.benchmarks.form import measure
from ui.session import Screen

pytestmark = pytest.mark.browser


def test_every_wait_has_a_line(
    browser: BrowserContext, address: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    measure(browser, address, tmp_path, edits=1)
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) == len(("after the start", "warm", *Screen, "edit", "median"))
    assert all(" shown " in line for line in lines)
