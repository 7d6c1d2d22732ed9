"""A table of text and figures, which wraps and can be printed."""

from collections.abc import Sequence
from decimal import Decimal

import pandas as pd
import streamlit as st

from planner.tables.cells import NOT_KNOWN
from ui.markup import literal


def table(headings: Sequence[str], rows: Sequence[Sequence[str]], alt: str, figures: Sequence[str] = ()) -> None:
    """A table of text, with the columns of `figures` set to the right.

    Streamlit sets numbers to the right and nothing else: figures go in as the numbers that they
    write, and are shown with thousands set apart as the planner writes them. `NOT_KNOWN` may
    stand in place of one.
    """
    if not rows:
        st.markdown("Nothing to list.")
        return
    columns = dict(zip(headings, zip(*rows, strict=True), strict=True))
    cells = pd.DataFrame(
        {
            heading: [_number(cell) if heading in figures else literal(cell) for cell in column]
            for heading, column in columns.items()
        },
        dtype=object,
    )
    shown = cells.style.hide(axis="index").format(dict.fromkeys(figures, "{:,}"), na_rep=NOT_KNOWN)
    st.table(shown, border="horizontal", alt=alt)


def _number(cell: str) -> Decimal | None:
    return None if cell == NOT_KNOWN else Decimal(cell.replace(",", ""))
