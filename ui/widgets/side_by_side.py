"""Options side by side: in the client's words, and in the designer's figures."""

from collections.abc import Mapping, Sequence

import pandas as pd
import streamlit as st

from planner.catalogue.records import Catalogue
from planner.comparison.side_by_side import bill_differences, figure_rows
from planner.documents.compared import columns
from planner.options import Option
from planner.tables.amounts import amount
from ui.markup import literal


def client_words(options: Sequence[Option]) -> None:
    """One card an option, under a letter: its price, what the client gets with it and gives up."""
    for place, column in zip(st.columns(len(options)), columns(options), strict=True):
        with place, st.container(border=True, height="stretch"):
            st.markdown(f"**{column.letter}**")
            price = amount(column.option.measures.price_minor, column.option.quote.currency)
            st.markdown(f"#### {literal(price)}", anchors=False)
            st.caption("with fitting and tax")
            for sentence in column.gets:
                st.markdown(f":material/check: {literal(sentence)}")
            for sentence in column.gives_up:
                st.markdown(f":material/remove: {literal(sentence)}")


def designer_figures(options: Sequence[Option], catalogue: Catalogue) -> None:
    """A row for each figure and a column for each option, then the lines of the bill that differ."""
    _table(figure_rows(options, catalogue), options, "Figure")
    st.caption("What differs is in bold.")
    st.markdown("**Why the price differs**: the lines of the bill that are not the same, before tax")
    rows = bill_differences(options, catalogue)
    if rows:
        _table(rows, options, f"Sum, {options[0].quote.currency}")
    else:
        st.markdown("The same is bought in each.")


def _table(rows: Mapping[str, Sequence[str]], options: Sequence[Option], corner: str) -> None:
    frame = pd.DataFrame(
        {corner: [_marked(words, cells) for words, cells in rows.items()]}
        | {
            f"Option {literal(option.id)}": [literal(cells[at]) for cells in rows.values()]
            for at, option in enumerate(options)
        }
    )
    st.table(frame.style.hide(axis="index"), border="horizontal", alt=f"Options side by side: {corner}")


def _marked(words: str, cells: Sequence[str]) -> str:
    return f"**{literal(words)}**" if len(set(cells)) > 1 else literal(words)
