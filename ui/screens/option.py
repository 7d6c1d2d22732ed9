"""One option in full: what it costs, what is connected to what, what is left, what is to be seen."""

from collections.abc import Sequence

import streamlit as st

from planner.options import Option
from planner.physics import examine
from planner.tables.amounts import amount, difference, over_minor
from planner.tables.cells import decimals
from planner.words import buys_words, drive_words, offers_words
from ui.answers import Answered, Question, Refused
from ui.markup import literal
from ui.session import Screen, Session, go_to
from ui.widgets.bass_tables import bass_settings
from ui.widgets.chain_view import chain_view
from ui.widgets.lead_view import lead_view
from ui.widgets.option_detail import bill, findings, ledger, not_checked, outputs
from ui.widgets.papers import papers
from ui.widgets.physics_tables import delays, earth, loudness, mains
from ui.widgets.pictures import room_pictures, signal_flow_picture

_PARTS = (
    "Bill of materials",
    "Output map",
    "Signal flow",
    "Room",
    "Leads",
    "Channel ledger",
    "Line levels",
    "Loudness",
    "Delays",
    "Bass settings",
    "Earth and mains",
    "Findings",
    "Papers",
)


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
    option = _chosen(session, shown)
    _summary(option, shown.result.options[0])
    _detail(option, shown, session.pinned)


def _chosen(session: Session, shown: Answered) -> Option:
    option_by_id = {option.id: option for option in shown.result.options}
    ids = list(option_by_id)
    session.option_id = st.selectbox(
        "Option",
        ids,
        index=ids.index(session.option_id) if session.option_id in option_by_id else 0,
        format_func=lambda one: (
            f"{one}: {amount(option_by_id[one].measures.price_minor, shown.result.currency)}, "
            f"{drive_words(option_by_id[one].drives)}"
        ),
        key="option",
    )
    return option_by_id[session.option_id]


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
    question = shown.question
    examined = examine(option.design, question.brief, question.gear.catalogue)
    tabs = st.tabs(_PARTS, key="detail", on_change="rerun")
    with tabs[0]:
        bill(option, question.brief, question.gear.catalogue, question.gear.house)
    with tabs[1]:
        outputs(option)
    if tabs[2].open:  # pictures are drawn when they are looked at
        with tabs[2]:
            signal_flow_picture(option, question.brief, question.gear.catalogue)
    if tabs[3].open:
        with tabs[3]:
            room_pictures(option, question.brief)
    if tabs[4].open:
        with tabs[4]:
            lead_view(option, question.gear.catalogue, question.gear.house)
    with tabs[5]:
        ledger(option)
    if tabs[6].open:  # its diagram takes longer to draw than all the rest
        with tabs[6]:
            chain_view(examined, option.id)
    with tabs[7]:
        loudness(examined)
    with tabs[8]:
        delays(examined)
    if tabs[9].open:
        with tabs[9]:
            bass_settings(option, shown)
    with tabs[10]:
        earth(examined)
        mains(examined)
    with tabs[11]:
        findings(option)
        not_checked()
    if tabs[-1].open:  # they are written when somebody looks at them
        with tabs[-1]:
            papers(option, shown, pinned)
