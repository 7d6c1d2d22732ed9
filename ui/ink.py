"""The colour of words drawn on a chart, which no theme of the page reaches."""

import streamlit as st

ON_LIGHT, ON_DARK = "#26302f", "#e8e5de"


def ink() -> str:
    """The page's own colour of text, light or dark as the page is."""
    return ON_DARK if st.context.theme.type == "dark" else ON_LIGHT
