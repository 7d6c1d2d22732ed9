"""How far a search is, while it runs, with a way to stop it."""

import streamlit as st

from planner.words import counted
from ui.markup import capital, literal
from ui.session import Session

_LOOK_EVERY_S = 0.5


@st.fragment(run_every=_LOOK_EVERY_S)
def explaining_line(session: Session) -> None:
    """A line about the explanation at work, renewed on its own; the whole screen follows when it ends."""
    work = session.explaining
    if work is None or not work.running:
        st.rerun()
    with st.container(horizontal=True, vertical_alignment="center"):
        st.caption(f"{literal(capital(work.doing)) or 'Working out why'} …")
        if st.button("Stop", key="stop_explaining", icon=":material/stop_circle:", type="tertiary"):
            work.stop()
        if work.stopping:
            st.caption("Stopping; what is known by then is shown.")


@st.fragment(run_every=_LOOK_EVERY_S)
def search_line(session: Session) -> None:
    """A line about the search at work, renewed on its own; the whole screen follows when it ends."""
    search = session.search
    if search is None or not search.running:
        st.rerun()
    progress = search.progress
    with st.container(horizontal=True, vertical_alignment="center"):
        if progress is None:
            st.caption("Looking for options …")
        else:
            st.caption(f"{literal(capital(progress.text))} … {counted(progress.found, 'option')} so far")
        if st.button("Stop", key="stop_search", icon=":material/stop_circle:", type="tertiary"):
            session.halt()
            st.rerun()
