"""The choice of one option, the same on every screen that is about one."""

import streamlit as st

from planner.options import Option, Result
from planner.tables.amounts import amount
from planner.words import drive_words
from ui.session import Session


def chosen_option(session: Session, result: Result, label: str, *, key: str) -> Option:
    """The option chosen of an answer that has some; the others of its screens follow the choice."""
    option_by_id = {option.id: option for option in result.options}
    ids = list(option_by_id)
    session.option_id = st.selectbox(
        label,
        ids,
        index=ids.index(session.option_id) if session.option_id in option_by_id else 0,
        format_func=lambda one: option_words(option_by_id[one], result.currency),
        key=key,
    )
    return option_by_id[session.option_id]


def option_words(option: Option, currency: str) -> str:
    """An option in a list: its name, price and drives."""
    return f"{option.id}: {amount(option.measures.price_minor, currency)}, {drive_words(option.drives)}"
