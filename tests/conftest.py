"""What all tests share: the browser tests' need for Chromium, and steady property tests."""

import os
from pathlib import Path

import pytest
from hypothesis import settings

from planner.kept import place

# No test is answered by what an earlier run kept; what is kept has tests of its own, in folders of their own.
os.environ[place.ENVIRONMENT] = place.OFF

CHROMIUM = Path(os.environ.get("CHROMIUM", "/usr/bin/chromium"))

# Two shared cores make a single slow example likely, and a fixed seed lets a check be repeated.
settings.register_profile("check", deadline=None, derandomize=True, database=None)
settings.load_profile("check")


def pytest_configure(config: pytest.Config) -> None:
    """Where the check runs unattended, a missing browser is a failure, not a shorter run."""
    if os.environ.get("CI") and not CHROMIUM.exists():
        raise pytest.UsageError(f"the browser tests need Chromium, and there is none at {CHROMIUM}.")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Puts the browser tests first, or leaves them out where there is no browser; the last lines of the run say so.

    First, so that one worker has them all, with one server and one browser, and the rest goes on beside them.
    """
    with_browser = [item for item in items if item.get_closest_marker("browser")]
    others = [item for item in items if not item.get_closest_marker("browser")]
    if CHROMIUM.exists():
        items[:] = [*with_browser, *others]
    else:
        config.hook.pytest_deselected(items=with_browser)
        items[:] = others


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Says plainly that a run was without the browser tests."""
    if not CHROMIUM.exists():
        terminalreporter.write_line(
            f"BROWSER TESTS LEFT OUT: no Chromium at {CHROMIUM}. Install it, or name it in CHROMIUM.",
            yellow=True,
        )
