"""The options: how far the answer is settled, the shortlist, the whole set, and a chart."""

import streamlit as st

from planner.options import Status
from planner.result_json import as_text, result_tree
from ui.answers import Answered, Broken, Question, Refused, Verdict
from ui.session import Session
from ui.widgets.faults import brief_faults, our_bug
from ui.widgets.option_set import option_set, price_chart
from ui.widgets.pins import pins
from ui.widgets.shortlist import shortlist
from ui.widgets.side_by_side import client_words, designer_figures
from ui.widgets.status import conflict, status

_LEAST_S, _MOST_S = 1, 3600


def render(session: Session, asked: Question | Refused) -> None:
    """Draws the answer to what is asked. While it is being found, the one before stays, marked as old."""
    left, right = st.columns([4, 1])
    with right:
        session.time_limit_s = st.number_input(
            "Search for at most, s", _LEAST_S, _MOST_S, session.time_limit_s, key="time_limit_s"
        )
    with left:
        _news(session, asked, session.verdict(asked))
    if session.shown is not None:
        _answer(session, session.shown, old=session.is_old(asked))


def _news(session: Session, asked: Question | Refused, verdict: Verdict | None) -> None:
    """What stands between the user and an answer, or how good the answer is."""
    match asked, verdict:
        case Refused(faults), _:
            st.markdown("There is something to mend first, on the Brief or the Gear screen.")
            if faults:
                brief_faults(faults)
        case _, Refused(faults):
            brief_faults(faults)
        case _, Broken(report):
            our_bug(report)
        case _, Answered(question=question, result=result):
            status(result, question.brief)
            if result.status is Status.PARTIAL:
                _search_again(session, question.key)
        case Question(key=key), None if session.search is None:
            st.info("The search was stopped.", icon=":material/stop_circle:")
            _search_again(session, key)


def _search_again(session: Session, key: str) -> None:
    st.button("Search again", key="search_again", on_click=session.search_again, args=(key,))


def _answer(session: Session, shown: Answered, *, old: bool) -> None:
    result = shown.result
    if old:
        st.info("These options are from before your last change, until new ones are found.", icon=":material/history:")
    if result.status is Status.INFEASIBLE:
        conflict(result)
    if not result.options:
        return
    cards, whole, compared, chart = st.tabs(["Shortlist", "Whole set", "Compare", "Price chart"], key="of_options")
    with cards:
        shortlist(session, result)
    with whole:
        option_set(session, result, shown.question.gear.catalogue, shown.question.brief.measures)
        _save(shown)
    with compared:
        _compare(session, shown)
    with chart:
        price_chart(result, shown.question.brief.measures)


def _compare(session: Session, shown: Answered) -> None:
    """The options pinned, side by side."""
    left, right = st.columns([4, 1], vertical_alignment="bottom")
    with left:
        pins(session, shown.result)
    with right:
        st.button(
            "Show the client",
            key="client_view",
            icon=":material/co_present:",
            on_click=session.show_client,
            args=(True,),
            width="stretch",
            help="A screen of its own, with nothing of cost price or margin.",
        )
    options = [option for option in shown.result.options if option.id in session.pinned]
    if len(options) < 2:
        st.markdown("Choose two to four options here, or pin them on the shortlist, to see them side by side.")
        return
    client_words(options)
    designer_figures(options, shown.question.gear.catalogue)


def _save(shown: Answered) -> None:
    result = shown.result
    st.download_button(
        "Save the whole answer as JSON",
        lambda: as_text(result_tree(result, shown.question.brief, shown.question.gear.catalogue)),  # when asked for
        file_name="options.json",
        mime="application/json",
        on_click="ignore",
        key="save_json",
    )
