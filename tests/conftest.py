"""What all tests share: the browser tests' need for Chromium, and steady property tests."""

import os
from pathlib import Path

import pytest
from hypothesis import settings

CHROMIUM = Path(os.environ.get("CHROMIUM", "/usr/bin/chromium"))

# Two shared cores make a single slow example likely, and a fixed seed lets a check be repeated.
settings.register_profile("check", deadline=None, derandomize=True, database=None)
settings.load_profile("check")


def pytest_configure(config: pytest.Config) -> None:
    """Where the check runs unattended, a missing browser is a failure, not a shorter run."""
    if os.environ.get("CI") and not CHROMIUM.exists():
        raise pytest.UsageError(f"the browser tests need Chromium, and there is none at {CHROMIUM}.")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leaves the browser tests out where there is no browser; the last lines of the run say so."""
    if CHROMIUM.exists():
        return
    left_out = [item for item in items if item.get_closest_marker("browser")]
    config.hook.pytest_deselected(items=left_out)
    items[:] = [item for item in items if item not in left_out]


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Says plainly that a run was without the browser tests."""
    if not CHROMIUM.exists():
        terminalreporter.write_line(
            f"BROWSER TESTS LEFT OUT: no Chromium at {CHROMIUM}. Install it, or name it in CHROMIUM.",
            yellow=True,
        )
