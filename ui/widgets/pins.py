"""Up to four options put aside to be compared."""

import streamlit as st

from planner.documents.compared import MOST_COMPARED
from planner.options import Result
from ui.session import Session
from ui.widgets.option_choice import option_words


def pin_button(session: Session, option_id: str, key: str) -> None:
    """Puts one option aside, or back."""
    pinned = option_id in session.pinned
    full = len(session.pinned) >= MOST_COMPARED
    st.button(
        "Pinned" if pinned else "Pin to compare",
        key=key,
        icon=":material/keep:" if pinned else ":material/keep_off:",
        type="tertiary",
        disabled=full and not pinned,
        on_click=session.pin,
        args=(tuple(one for one in session.pinned if one != option_id) if pinned else (*session.pinned, option_id),),
        help=f"Option {option_id}. Up to {MOST_COMPARED} can be pinned.",
    )


def pins(session: Session, result: Result) -> None:
    """The options put aside, to be chosen from all of them."""
    option_by_id = {option.id: option for option in result.options}
    chosen = st.multiselect(
        f"Options to compare, up to {MOST_COMPARED}",
        list(option_by_id),
        default=list(session.pinned),
        max_selections=MOST_COMPARED,
        format_func=lambda one: option_words(option_by_id[one], result.currency),
        key=f"pins.{'-'.join(session.pinned)}",
        placeholder="choose two or more",
    )
    if tuple(chosen) != session.pinned:
        session.pin(tuple(chosen))
        st.rerun()
