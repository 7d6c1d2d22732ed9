"""The line above every screen: which brief, what the answer costs, and how far it is settled."""

import streamlit as st

from planner.options import Result, Status
from planner.tables.amounts import amount
from planner.words import counted
from ui.answers import Broken, Question, Refused
from ui.gear import Gear, Unfit
from ui.markup import literal
from ui.session import Session
from ui.widgets.keeping import undo_redo
from ui.widgets.progress import search_line


def headline(session: Session, gear: Gear | Unfit, asked: Question | Refused) -> None:
    """The project on the left; what is wrong, or what was found, on the right."""
    project = session.draft.project
    left, right = st.columns([2, 3], vertical_alignment="center")
    with left:
        client = f" · {literal(project.client)}" if project.client.strip() else ""
        st.markdown(f"##### {literal(project.name) or 'A system without a name'}{client}", anchors=False)
    with right, st.container(horizontal=True, horizontal_alignment="right", vertical_alignment="center"):
        _state(gear, asked, session)
        undo_redo(session)
    if session.search is not None:
        search_line(session)


def _state(gear: Gear | Unfit, asked: Question | Refused, session: Session) -> None:
    shown = session.shown
    if isinstance(gear, Unfit):
        st.badge(f"Gear: {counted(len(gear.faults), 'fault')}", icon=":material/error:", color="red")
    if isinstance(asked, Refused):
        if asked.faults:
            st.badge(f"Brief: {counted(len(asked.faults), 'thing')} to mend", icon=":material/edit_note:", color="red")
    elif shown is not None and shown.question.key == asked.key:
        _answer(shown.result)
    else:
        if shown is not None:
            _span(shown.result)
        _waiting(session, asked)


def _waiting(session: Session, asked: Question) -> None:
    """Why the figures are not those of what is asked now."""
    match session.verdict(asked):
        case Refused(faults):
            st.badge(f"Brief: {counted(len(faults), 'thing')} to mend", icon=":material/edit_note:", color="red")
        case Broken():
            st.badge("A fault of the planner's own", icon=":material/bug_report:", color="red")
        case _ if session.search is not None:
            words = "Looking for options" if session.shown is None else "Old; looking for new ones"
            st.badge(words, icon=":material/history:", color="orange")
        case _:
            words = "Not answered yet" if session.shown is None else "Changed since the answer"
            st.badge(words, icon=":material/history:", color="orange")


def _span(result: Result) -> None:
    """From the cheapest option to the dearest."""
    if result.options:
        first, last = (
            amount(option.measures.price_minor, result.currency) for option in (result.options[0], result.options[-1])
        )
        st.markdown(f"**{literal(first)}**" if first == last else f"**{literal(first)}** to **{literal(last)}**")


def _answer(result: Result) -> None:
    _span(result)
    match result.status:
        case Status.PROVEN:
            st.badge(f"{counted(len(result.options), 'option')}, proven", icon=":material/check:", color="green")
        case Status.PARTIAL:
            st.badge(f"{counted(len(result.options), 'option')}, not proven", icon=":material/timer:", color="orange")
        case Status.INFEASIBLE:
            st.badge("No valid design", icon=":material/block:", color="red")
