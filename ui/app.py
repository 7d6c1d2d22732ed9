"""The form: routes between its screens, and does nothing else."""

import traceback
from pathlib import Path

import streamlit as st

from planner.errors import PlannerBug
from ui.answers import question
from ui.gear import read_gear
from ui.screens import begin, brief, gear, option, options
from ui.session import SCREEN_KEY, Screen, current
from ui.widgets.faults import our_bug
from ui.widgets.headline import headline

_ICON = Path(__file__).with_name("icon.svg")

# What the theme cannot say: less blank above, and the name of an open tab as readable as the others.
_STYLE = """<style>
.stMainBlockContainer { padding-top: 3rem; }
[data-testid="stTab"][aria-selected="true"] { color: inherit; font-weight: 600; }
</style>"""


def main() -> None:
    """One run of the script. Whatever goes wrong in it is told in words, here and nowhere else."""
    st.set_page_config(page_title="Home theatre planner", page_icon=_ICON, layout="wide")
    try:
        _draw()
    except Exception as error:  # the one place: a user gets a report to pass on, not a traceback
        our_bug(_report(error))


def _draw() -> None:
    """The screens with inputs are drawn in every run, the others while they are open.

    Screens are tabs rather than pages: a page that is left loses an edit made just before.
    """
    st.html(_STYLE)
    session = current(begin.first_brief)
    top = st.container()
    tabs = dict(zip(Screen, st.tabs([*Screen], key=SCREEN_KEY, on_change="rerun", bind="query-params"), strict=True))
    with tabs[Screen.GEAR]:
        gear.choose(session)
    found = read_gear(session.source)
    if tabs[Screen.GEAR].open:
        with tabs[Screen.GEAR]:
            gear.render(session, found)
    with tabs[Screen.BRIEF]:
        inputs, beside = st.columns([5, 2], gap="large")
    with inputs:
        brief.render(session, found)
    asked = question(session.draft, found)
    session.recall(asked)
    with beside:
        brief.aside(session, asked)
    with top:
        headline(session, found, asked)
    if tabs[Screen.OPTION].open:
        with tabs[Screen.OPTION]:
            option.render(session, asked)
    if tabs[Screen.OPTIONS].open:
        with tabs[Screen.OPTIONS]:
            options.render(session, asked)


def _report(error: Exception) -> str:
    """What happened and where, without the machine's folders."""
    what = str(error) if isinstance(error, PlannerBug) else f"{type(error).__name__}: {error}"
    calls = (
        f"{Path(frame.filename).name}:{frame.lineno} {frame.name}"
        for frame in traceback.extract_tb(error.__traceback__)[-12:]
    )
    return "\n".join((what, *calls))


if __name__ == "__main__":
    main()
