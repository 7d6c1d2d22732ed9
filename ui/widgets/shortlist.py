"""The shortlist as cards: each question with its answer, its price, and what the price buys."""

import streamlit as st

from planner.options import Answer, Option, Result
from planner.tables.amounts import amount, difference, over_minor
from planner.words import QUESTION_WORDS, buys_words, drive_words, offers_words
from ui.markup import capital, literal
from ui.session import Screen, Session, go_to
from ui.widgets.pins import pin_button

_IN_A_ROW = 3


def shortlist(session: Session, result: Result) -> None:
    """Every question of the shortlist as a card."""
    option_by_id = {option.id: option for option in result.options}
    for begin in range(0, len(result.shortlist), _IN_A_ROW):
        answers = result.shortlist[begin : begin + _IN_A_ROW]
        for column, answer in zip(st.columns(_IN_A_ROW), answers, strict=False):
            with column, st.container(border=True, height="stretch"):
                st.markdown(f"**{QUESTION_WORDS[answer.question]}**")
                if answer.option_id is None:
                    st.markdown(f"None: {literal(answer.reason)}")
                else:
                    _card(session, answer, option_by_id[answer.option_id], result.options[0])


def _card(session: Session, answer: Answer, option: Option, cheapest: Option) -> None:
    currency = option.quote.currency
    st.markdown(f"#### {literal(amount(option.measures.price_minor, currency))}", anchors=False)
    if option is cheapest:
        st.markdown(literal(capital(offers_words(option))))
    else:
        st.markdown(f"**{literal(difference(over_minor(option, cheapest), currency))}** over the cheapest")
        st.markdown(literal(capital(buys_words(option, cheapest))))
    st.caption(f"Subwoofers: {literal(drive_words(option.drives))}")
    st.button(
        f"Open option {option.id}",
        key=f"open_{answer.question.value}",
        on_click=_open,
        args=(session, option.id),
        width="stretch",
    )
    pin_button(session, option.id, f"pin_{answer.question.value}")


def _open(session: Session, option_id: str) -> None:
    session.option_id = option_id
    go_to(Screen.OPTION)
