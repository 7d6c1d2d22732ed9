"""The line above every screen: which brief, what the answer costs, and how far it is settled."""

import streamlit as st

from planner.options import Result, Status
from planner.tables.amounts import amount
from planner.words import counted
from ui.answers import Answered, Question, Refused
from ui.gear import Gear, Unfit
from ui.markup import literal
from ui.session import Session


def headline(session: Session, gear: Gear | Unfit, asked: Question | Refused) -> None:
    """The project on the left; what is wrong, or what was found, on the right."""
    project = session.draft.project
    left, right = st.columns([3, 2], vertical_alignment="center")
    with left:
        client = f" · {literal(project.client)}" if project.client.strip() else ""
        st.markdown(f"##### {literal(project.name) or 'A system without a name'}{client}", anchors=False)
    with right, st.container(horizontal=True, horizontal_alignment="right", vertical_alignment="center"):
        _state(gear, asked, session.shown)


def _state(gear: Gear | Unfit, asked: Question | Refused, shown: Answered | None) -> None:
    if isinstance(gear, Unfit):
        st.badge(f"Gear: {counted(len(gear.faults), 'fault')}", icon=":material/error:", color="red")
    if isinstance(asked, Refused):
        if asked.faults:
            st.badge(f"Brief: {counted(len(asked.faults), 'thing')} to mend", icon=":material/edit_note:", color="red")
    elif shown is not None and shown.question.key == asked.key:
        _answer(shown.result)
    else:
        st.badge(
            "Not answered yet" if shown is None else "Changed since the answer",
            icon=":material/history:",
            color="orange",
        )


def _answer(result: Result) -> None:
    if result.options:
        first, last = (
            amount(option.measures.price_minor, result.currency) for option in (result.options[0], result.options[-1])
        )
        st.markdown(f"**{literal(first)}**" if first == last else f"**{literal(first)}** to **{literal(last)}**")
    match result.status:
        case Status.PROVEN:
            st.badge(f"{counted(len(result.options), 'option')}, proven", icon=":material/check:", color="green")
        case Status.PARTIAL:
            st.badge(f"{counted(len(result.options), 'option')}, not proven", icon=":material/timer:", color="orange")
        case Status.INFEASIBLE:
            st.badge("No valid design", icon=":material/block:", color="red")
