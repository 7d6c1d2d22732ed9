"""The form: routes between its screens, and does nothing else."""

from importlib import import_module
from pathlib import Path

import streamlit as st

from planner.errors import bug_report
from ui.answers import question
from ui.gear import read_gear
from ui.screens import begin, brief, gear, projects
from ui.session import SCREEN_KEY, Screen, Session, current
from ui.widgets.faults import our_bug
from ui.widgets.headline import headline
from ui.widgets.keeping import keeping
from ui.widgets.progress import search_line

_ICON = Path(__file__).with_name("icon.svg")
_STYLE = Path(__file__).with_name("style.html")

# The screens that draw an answer and take nothing in but what is on them. Each is loaded when it is first opened:
# the first page need not wait for what draws charts and reckons the bass.
_VIEWS = {
    Screen.OPTIONS: "ui.screens.options",
    Screen.OPTION: "ui.screens.option",
    Screen.WHY: "ui.screens.why",
    Screen.BASS: "ui.screens.bass",
}


def main() -> None:
    """One run of the script. Whatever goes wrong in it is told in words, here and nowhere else."""
    st.set_page_config(page_title="Home theatre planner", page_icon=_ICON, layout="wide")
    try:
        _draw()
    except Exception as error:  # the one place: a user gets a report to pass on, not a traceback
        our_bug("\n".join(bug_report(error)))


def _draw() -> None:
    """The screens with inputs are drawn in every run, the others while they are open.

    Screens are tabs rather than pages: a page that is left loses an edit made just before.
    """
    st.html(_STYLE.read_text(encoding="utf-8"))
    session = current(begin.first_brief)
    if session.client_view:
        _draw_for_client(session)
        return
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
    session.keep()
    asked = question(session.draft, found)
    session.attend(asked)
    with beside:
        brief.aside(session, asked)
    with top:
        headline(session, found, asked)
        keeping(session)
    if tabs[Screen.PROJECTS].open:
        with tabs[Screen.PROJECTS]:
            projects.render(session)
    for screen, module in _VIEWS.items():
        if tabs[screen].open:
            with tabs[screen]:
                import_module(module).render(session, asked)
    # Most answers come soon: then they are shown at once. What is typed meanwhile ends the waiting.
    if session.search is not None and session.search.soon_over(st.empty().empty):
        st.rerun()


def _draw_for_client(session: Session) -> None:
    """The one screen that a client may see, and nothing beside it."""
    from ui.screens import client  # late, as the screens that draw an answer

    asked = question(session.draft, read_gear(session.source))
    session.attend(asked)
    client.render(session)
    if session.search is not None:
        search_line(session)


if __name__ == "__main__":
    main()
