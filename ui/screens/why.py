"""Why: price steps, comparisons, the gear, what moving prices do, stages to come; or why there is no design."""

from typing import TYPE_CHECKING

import streamlit as st

from planner.options import Result
from planner.tables.amounts import amount
from planner.words import drive_words
from ui.answers import Answered, Question, Refused
from ui.explaining import EXPLANATIONS
from ui.markup import literal
from ui.session import Screen, Session, go_to

if TYPE_CHECKING:
    from planner.explain.explanation import Explanation


def render(session: Session, asked: Question | Refused) -> None:
    """Draws the explanation of the option chosen, or the way to one."""
    shown = session.shown
    if shown is None:
        st.markdown("There is no answer to explain yet.")
        st.button("See the options", key="why_to_options", type="primary", on_click=go_to, args=(Screen.OPTIONS,))
        return
    if session.is_old(asked):
        st.info("This is about the answer from before your last change.", icon=":material/history:")
    option_id = _chosen(session, shown.result)
    found = EXPLANATIONS.get(shown, option_id)
    if found is not None:
        _explanation(found, shown)
    elif _wanted():
        with st.spinner("Working out why …", show_time=True):
            EXPLANATIONS.explain(shown, option_id)
        st.rerun()  # so that the way to ask goes


def _chosen(session: Session, result: Result) -> str:
    """The option to explain; empty where the answer has none."""
    if not result.options:
        return ""
    option_by_id = {option.id: option for option in result.options}
    ids = list(option_by_id)
    session.option_id = st.selectbox(
        "Option to explain",
        ids,
        index=ids.index(session.option_id) if session.option_id in option_by_id else 0,
        format_func=lambda one: (
            f"{one}: {amount(option_by_id[one].measures.price_minor, result.currency)}, "
            f"{drive_words(option_by_id[one].drives)}"
        ),
        key="why_option",
    )
    return session.option_id


def _wanted() -> bool:
    """Whether the explanation is asked for: it takes a while."""
    st.markdown("The planner proves each price anew, for the brief with a little more and a little less of everything.")
    return st.button("Explain", key="explain", type="primary", icon=":material/help:")


def _explanation(found: "Explanation", shown: Answered) -> None:
    # Late: the first screen need not wait for the solver to load.
    from planner.explain.explanation import WhyNone, WhyOption
    from ui.widgets.explained import compared, conflicts, devices, later, movement, steps

    currency, catalogue = found.result.currency, shown.question.gear.catalogue
    for text in found.unsettled:
        st.warning(literal(text))
    match found.why:
        case WhyNone() as why:
            conflicts(why, currency)
        case WhyOption() as why:
            titles = ["Price steps", "Compared", "This gear", "If prices move"]
            tabs = st.tabs([*titles, "Now and later"] if why.stages is not None else titles, key="why_tabs")
            with tabs[0]:
                steps(why.steps, currency, catalogue)
            with tabs[1]:
                compared(why.comparisons, currency, catalogue)
            with tabs[2]:
                devices(why, currency, catalogue)
            with tabs[3]:
                movement(why.robust, currency, catalogue)
            if why.stages is not None:
                with tabs[4]:
                    later(why.stages, currency, catalogue)
