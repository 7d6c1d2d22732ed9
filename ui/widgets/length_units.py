"""The choice between metres and feet."""

import streamlit as st

from planner.lengths import LengthStyle
from ui.session import Session


def length_units(session: Session) -> None:
    """How lengths are typed in the brief."""
    chosen = st.radio(
        "Lengths in",
        [*LengthStyle],
        index=[*LengthStyle].index(session.lengths),
        key="lengths",
        horizontal=True,
        help="Feet and inches are typed such as 12' 3\", and metres with their unit are understood as well.",
    )
    if chosen is not session.lengths:
        session.measure_in(chosen)
        st.rerun()
