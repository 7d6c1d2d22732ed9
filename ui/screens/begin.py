"""The first section of the brief: an example, a new room, or a brief from a file."""

from pathlib import Path
from typing import NoReturn

import streamlit as st

from planner.brief import parse_brief, read_brief
from planner.brief.records import Brief
from planner.brief.source import decoded
from planner.errors import BadInput
from ui.gear import DEMO_FOLDER
from ui.markup import literal
from ui.session import Section, Session, Unreadable
from ui.widgets.faults import file_faults
from ui.widgets.start import Opened, chosen_example, empty_room, example_words, new_room, opened_file


def examples() -> tuple[Path, ...]:
    """The example briefs of the demo catalogue, a small one first."""
    paths = (DEMO_FOLDER / "briefs").glob("*.toml")
    return tuple(sorted(paths, key=lambda path: (not path.stem.startswith("small"), path.name)))


def first_brief() -> tuple[Brief, str]:
    """What a new session begins with, and where it comes from: the first sound example, else an empty room."""
    for path in examples():
        try:
            return read_brief(path), f"the example “{example_words(path)}”"
        except BadInput:
            continue  # the Begin section tells its faults when it is loaded by name
    return empty_room(), "an empty room"


def render(session: Session) -> None:
    """Draws the ways to begin. What is chosen fills the inputs, and the script runs anew."""
    st.markdown(
        f"The brief here began with {literal(session.origin)}. Each choice below puts another in its place;"
        " Undo brings it back."
    )
    left, right = st.columns(2, gap="medium")
    with left:
        with st.container(border=True):
            path = chosen_example(examples())
        with st.container(border=True):
            opened = opened_file()
    with right, st.container(border=True, height="stretch"):
        brief = new_room(session.draft.project.currency, session.lengths)
    if path is not None:
        _open_example(session, path)
    if brief is not None:
        session.opens = Section.PROJECT
        _fill(session, brief, "an empty room")
    if opened is not None and opened.token != session.opened:
        session.opened = opened.token
        _open(session, opened)
    if session.unreadable is not None:
        _mend(session, session.unreadable)


def _open_example(session: Session, path: Path) -> None:
    try:
        brief = read_brief(path)
    except BadInput as error:
        session.unreadable = Unreadable(name=path.name, text="", faults=error.faults)
        return
    _fill(session, brief, f"the example “{example_words(path)}”")


def _open(session: Session, opened: Opened) -> None:
    """A sound file fills the inputs; of any other the text is kept, so that it can be mended here."""
    text = ""
    try:
        text = decoded(opened.content, opened.name)
        brief = parse_brief(text, opened.name)
    except BadInput as error:
        session.unreadable = Unreadable(name=opened.name, text=text, faults=error.faults)
        return
    _fill(session, brief, f"the file {opened.name}")


def _mend(session: Session, unreadable: Unreadable) -> None:
    """The faults of a file, and its text to mend; the brief in the inputs is untouched."""
    st.markdown(f"**{literal(unreadable.name)}** was not taken up. The brief in the form is as it was.")
    file_faults(unreadable.faults, key="brief_file")
    if unreadable.text:
        with st.form("mend", border=False):
            text = st.text_area("The file's text", unreadable.text, height=320, key=f"mend.{session.opened}")
            mended = st.form_submit_button("Read it again", key="mend_submit")
        if mended:
            _open(session, Opened(name=unreadable.name, content=text.encode(), token=session.opened))
            st.rerun()
    if st.button("Put the file aside", key="put_aside"):
        session.unreadable = None
        st.rerun()


def _fill(session: Session, brief: Brief, origin: str) -> NoReturn:
    """The inputs on screen belong to the brief before: only a new run draws those of this one."""
    session.fill(brief, origin)
    st.rerun()
