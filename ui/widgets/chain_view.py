"""The line chains of one option: one of them as a level diagram and jack by jack, then all in a table."""

import streamlit as st

from planner.physics import Examination
from planner.tables.cells import NOT_KNOWN, decimals
from planner.tables.chains import (
    CHAIN_FIGURES,
    CHAIN_HEADINGS,
    HOP_FIGURES,
    HOP_HEADINGS,
    JACK_FIGURES,
    JACK_HEADINGS,
    chain_name,
    chain_rows,
    chain_sentences,
    hop_rows,
    jack_rows,
)
from ui.level_diagram import level_diagram
from ui.markup import literal
from ui.widgets.table import table


def chain_view(examined: Examination, option_id: str) -> None:
    """One chain, which the user picks, and all of them. `option_id` keeps the picks of options apart."""
    if not examined.line_chains:
        st.markdown("This option has no line-level chain.")
        return
    chosen = _chosen(examined, option_id)
    levels, noise = examined.line_chains[chosen], examined.line_noises[chosen]
    first, *others = map(literal, chain_sentences(levels, noise))
    st.markdown(f"**{first}** {' '.join(others)}")
    st.altair_chart(
        level_diagram(levels, noise),
        width="stretch",
        alt=f"Level diagram of {chain_name(levels)}. {chain_sentences(levels, noise)[0]}",
    )
    table(JACK_HEADINGS, jack_rows(levels, noise), "The chain jack by jack", figures=JACK_FIGURES)
    st.caption(
        "Greatest: the source at its maximum, or as far up as nothing before clips. At full output: the sink giving all"
        f" that it can. Noise: rms in 20 kHz, unweighted. {NOT_KNOWN}: the catalogue does not give what it takes."
    )
    table(HOP_HEADINGS, hop_rows(levels), "What loads each output", figures=HOP_FIGURES)
    st.caption("Loss: into all inputs on the output together, and one leg of two where balanced goes to unbalanced.")
    st.markdown("##### All chains", anchors=False)
    rows = chain_rows(examined.line_chains, examined.line_noises)
    table(CHAIN_HEADINGS, rows, "All line chains", figures=CHAIN_FIGURES)


def _chosen(examined: Examination, option_id: str) -> int:
    """The number of the chain picked: at first the one with the least margin."""
    chains = examined.line_chains
    margins_db = [chain.least_margin_db for chain in chains]
    known_db = [margin for margin in margins_db if margin is not None]
    return st.selectbox(
        "Chain",
        range(len(chains)),
        index=margins_db.index(min(known_db)) if known_db else 0,
        format_func=lambda one: f"{chain_name(chains[one])}: {_margin(margins_db[one])}",
        key=f"chain.{option_id}",
    )


def _margin(margin_db: float | None) -> str:
    return "margin not known" if margin_db is None else f"margin {decimals(margin_db)} dB"
