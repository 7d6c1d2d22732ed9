"""Habits of the form that no import contract can hold."""

from pathlib import Path

import pytest

UI = Path(__file__).resolve().parents[2] / "ui"
SOURCES = {str(path.relative_to(UI)): path.read_text(encoding="utf-8") for path in UI.rglob("*.py")}


@pytest.mark.parametrize("name", sorted(SOURCES.keys() - {"session.py"}))
def test_only_the_session_touches_streamlit_s_state(name: str) -> None:
    assert "session_state" not in SOURCES[name]


@pytest.mark.parametrize("name", sorted(SOURCES))
def test_no_text_is_shown_as_html(name: str) -> None:
    assert "unsafe_allow_html" not in SOURCES[name]
