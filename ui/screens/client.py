"""What a client sees on a shared screen: options in plain words and their prices, nothing of cost or margin."""

from collections.abc import Sequence

import streamlit as st

from planner.documents.compared import compared_options
from planner.options import Option, Result
from ui.markup import literal
from ui.session import Session
from ui.widgets.room_picture import plan
from ui.widgets.side_by_side import client_words

_PREDICTED = (
    "Figures are for this room as it was described. How the bass will sound is a prediction, to be confirmed by"
    " measurement when the system is set up."
)


def render(session: Session) -> None:
    """Draws the options pinned, or those that the shortlist names."""
    project = session.draft.project
    left, right = st.columns([4, 1], vertical_alignment="center")
    with left:
        client = f" for {literal(project.client)}" if project.client.strip() else ""
        st.markdown(f"### {literal(project.name) or 'Your system'}{client}", anchors=False)
        st.caption(f"{project.dated.isoformat()}{_reference(project.reference)}")
    with right:
        st.button("Back to the work", key="leave_client_view", on_click=session.show_client, args=(False,))
    if session.shown is None or not session.shown.result.options:
        st.markdown("There is nothing to show yet.")
        return
    result = session.shown.result
    client_words(_options(session, result))
    plan(session.shown.question.brief)
    st.caption(_PREDICTED)


def _options(session: Session, result: Result) -> Sequence[Option]:
    pinned = [option for option in result.options if option.id in session.pinned]
    return pinned or compared_options(result, result.options[0])


def _reference(reference: str) -> str:
    return f" · {literal(reference)}" if reference.strip() else ""
