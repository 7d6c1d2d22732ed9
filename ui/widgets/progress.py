"""How far a search is, while it runs."""

from collections.abc import Callable
from typing import TYPE_CHECKING

import streamlit as st

from planner.words import counted
from ui.markup import capital, literal

if TYPE_CHECKING:
    from planner.plan import Progress


def search_progress() -> "Callable[[Progress], None]":
    """Draws a line with a turning wheel here, and returns what renews its words."""
    line = st.status("Looking for options …")
    st.caption("Going to another screen stops the search; coming back begins it anew.")

    def show(progress: "Progress") -> None:
        found = counted(progress.found, "option")
        line.update(label=f"{literal(capital(progress.text))} … {found} so far")

    return show
