"""Undo and redo, and what is said where the work cannot be kept."""

import streamlit as st

from ui.markup import literal
from ui.session import Session


def undo_redo(session: Session) -> None:
    """Steps back and forth among the versions that were kept."""
    kept = session.keeping.kept
    for words, icon, back, possible in (
        ("Undo", ":material/undo:", True, kept is not None and kept.can_undo),
        ("Redo", ":material/redo:", False, kept is not None and kept.can_redo),
    ):
        st.button(
            words,
            key=words.lower(),
            icon=icon,
            type="tertiary",
            disabled=not possible,
            on_click=session.step,
            kwargs={"back": back},
        )


def keeping(session: Session) -> None:
    """What stands in the way of keeping the work, if anything does, and the ways out."""
    if session.sought:
        st.info(
            "The address named a project that is not kept on this machine. Those that are, are on the Projects screen.",
            icon=":material/search_off:",
        )
    if session.keeping.superseded:
        st.warning(
            "**This project was changed in another window.** What you have here is not lost, and not kept yet.",
            icon=":material/call_split:",
        )
        with st.container(horizontal=True):
            st.button("Keep mine as a project of its own", key="part", on_click=session.part)
            st.button("Take what the other window has", key="follow", on_click=_follow, args=(session,))
    for fault in session.keeping.faults:
        st.warning(
            f"**Your work is not being kept.** {literal(str(fault))} Until then, save the brief as a file.",
            icon=":material/save:",
        )


def _follow(session: Session) -> None:
    kept = session.keeping.kept
    if kept is not None:
        session.open_project(kept.project)
