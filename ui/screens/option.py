"""One option in full: what it costs, what is connected to what, what is left, what is to be seen."""

from collections.abc import Sequence

import streamlit as st

from planner.options import Option
from planner.physics import examine
from planner.tables.amounts import amount, difference, over_minor
from planner.tables.cells import decimals
from planner.words import buys_words, offers_words
from ui.answers import Answered, Question, Refused
from ui.markup import literal
from ui.session import PART_KEY, Part, Screen, Session, go_to
from ui.widgets.bass_tables import bass_settings
from ui.widgets.chain_view import chain_view
from ui.widgets.lead_view import lead_view
from ui.widgets.option_choice import chosen_option
from ui.widgets.option_detail import bill, findings, ledger, not_checked, outputs
from ui.widgets.papers import papers
from ui.widgets.physics_tables import delays, earth, loudness, mains
from ui.widgets.pictures import room_pictures, signal_flow_picture


def render(session: Session, asked: Question | Refused) -> None:
    """Draws the option chosen of the answer on show, or the way to one."""
    shown = session.shown
    if shown is None or not shown.result.options:
        st.markdown("There is no option to show yet.")
        st.button("See the options", key="to_options", type="primary", on_click=go_to, args=(Screen.OPTIONS,))
        return
    if session.is_old(asked):
        st.info(
            "This option is from before your last change. The Options screen finds new ones.", icon=":material/history:"
        )
    left, right = st.columns([5, 1], vertical_alignment="bottom")
    with left:
        option = chosen_option(session, shown.result, "Option", key="option")
    with right:
        st.button("To its papers", key="to_papers", on_click=go_to, args=(Part.PAPERS,), width="stretch")
    _summary(option, shown.result.options[0])
    _detail(option, shown, session.pinned)


def _summary(option: Option, cheapest: Option) -> None:
    measures, currency = option.measures, option.quote.currency
    figures = (
        ("Price with tax", amount(measures.price_minor, currency)),
        ("Set independently", str(measures.independent_subs)),
        ("Spare outputs", str(measures.spare_outputs)),
        ("Lost by one failure", str(measures.subs_lost_worst)),
        ("Conversions", str(measures.conversions)),
        ("Joints and boxes", str(measures.joints)),
        (
            "Least margin",
            "not known" if measures.least_margin_db is None else f"{decimals(measures.least_margin_db)} dB",
        ),
        (
            "Bass spread, predicted",
            "none" if measures.bass_spread_db is None else f"{decimals(measures.bass_spread_db, 2)} dB",
        ),
        ("Earth loops", "not known" if measures.earth_loops is None else str(measures.earth_loops)),
    )
    with st.container(horizontal=True, gap="small"):
        for label, value in figures:
            st.metric(label, value, width="content")
    if option is cheapest:
        st.markdown(f"The cheapest: {literal(offers_words(option))}.")
    else:
        over = difference(over_minor(option, cheapest), currency)
        st.markdown(f"**{literal(over)}** over the cheapest: {literal(buys_words(option, cheapest))}.")


def _detail(option: Option, shown: Answered, pinned: Sequence[str]) -> None:
    """The part that is open; nothing is worked out for the others."""
    tabs = dict(zip(Part, st.tabs([*Part], key=PART_KEY, on_change="rerun"), strict=True))
    for part, tab in tabs.items():
        if tab.open:
            with tab:
                _part(part, option, shown, pinned)


def _part(part: Part, option: Option, shown: Answered, pinned: Sequence[str]) -> None:
    question = shown.question
    match part:
        case Part.PRICE:
            bill(option, question.brief, question.gear.catalogue, question.gear.house)
        case Part.WIRING:
            _wiring(option, question)
        case Part.ROOM:
            room_pictures(option, question.brief)
        case Part.LEVELS:
            _levels(option, question)
        case Part.BASS:
            bass_settings(option, shown)
        case Part.SITE:
            examined = examine(option.design, question.brief, question.gear.catalogue)
            earth(examined)
            mains(examined)
        case Part.FINDINGS:
            findings(option)
            not_checked()
        case Part.PAPERS:
            papers(option, shown, pinned)


def _wiring(option: Option, question: Question) -> None:
    catalogue = question.gear.catalogue
    jacks, flow, leads, channels = st.tabs(
        ["Output map", "Signal flow", "Leads", "Channel ledger"], key="wiring", on_change="rerun"
    )
    with jacks:
        outputs(option)
    if flow.open:
        with flow:
            signal_flow_picture(option, question.brief, catalogue)
    if leads.open:
        with leads:
            lead_view(option, catalogue, question.gear.house)
    with channels:
        ledger(option)


def _levels(option: Option, question: Question) -> None:
    examined = examine(option.design, question.brief, question.gear.catalogue)
    lines, loud, late = st.tabs(["Line levels", "Loudness", "Delays"], key="levels", on_change="rerun")
    if lines.open:
        with lines:
            chain_view(examined, option.id)
    with loud:
        loudness(examined)
    with late:
        delays(examined)
