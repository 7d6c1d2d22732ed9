"""The whole trade-off set: a table to sort, and a chart of price against one measure."""

from collections.abc import Collection

import pandas as pd
import streamlit as st
from streamlit.column_config import Column, NumberColumn

from planner.bass.notes import PREDICTION
from planner.brief.records import Measure
from planner.catalogue.records import Catalogue
from planner.money import from_minor, minor_digits
from planner.options import Option, Result
from planner.tables.amounts import over_minor
from planner.tables.cells import NOT_KNOWN
from planner.tables.trade_off import MARGIN_WORDS, gear_words
from planner.words import drive_words
from ui.charts import FIGURE_BY_WORDS, SPREAD, WHERE_WEIGHED, price_against
from ui.ink import ink
from ui.markup import capital, literal
from ui.session import Session


def option_set(session: Session, result: Result, catalogue: Catalogue, weighed: Collection[Measure]) -> None:
    """Every option as a row; a row that is selected becomes the one of the last screen.

    Earth loops and the least margin have a column where they are among the measures `weighed`.
    """
    st.caption("Click a heading to sort, or the box before a row to choose that option for the next screen.")
    names = {item.sku: item.name for item in catalogue.items()}
    frame = pd.DataFrame([_row(option, result.options[0], names, weighed) for option in result.options])
    money = _money_format(result.currency)
    event = st.dataframe(
        frame,
        hide_index=True,
        on_select="rerun",
        selection_mode="single-row",
        key="option_set",
        column_config={
            "Option": Column(width=60),
            "Price": NumberColumn(f"Price, {result.currency}", format=money, width=110, help="With tax."),
            "More": NumberColumn("More", format=money, width=100, help="Over the cheapest."),
            "Subwoofers": Column(width=190, help="How the subwoofers are driven."),
            "Independent": NumberColumn(width=95, help="Subwoofers set independently."),
            "Spare": NumberColumn(width=70, help="Outputs left over."),
            "Lost": NumberColumn(width=60, help="Subwoofers that the worst single failure silences."),
            "Conversions": NumberColumn(width=95, help="Balanced to unbalanced, or the other way."),
            "Joints": NumberColumn(width=65, help="Joints and boxes between the processor and the subwoofers."),
            "Loops": NumberColumn(width=70, help="Independent earth loops."),
            "Margin": NumberColumn("Margin, dB", format="%.1f", width=95, help=f"{capital(MARGIN_WORDS)}."),
            "Spread": NumberColumn(
                "Spread, dB",
                format="%.2f",
                width=90,
                help="Predicted bass spread over the seats, at the best settings found for this option's outputs."
                " For an idealised rectangular room, to be confirmed by measurement.",
            ),
            "Gear": Column(width=420, help="Processor, cards and DSP units."),
        },
        alt="The whole trade-off set",
        placeholder=NOT_KNOWN,
    )
    for position in event.selection.rows:
        session.option_id = result.options[position].id
        st.markdown(f"Option **{literal(session.option_id)}** is on the next screen, *One option*.")
    if any(not option.proven for option in result.options):
        st.caption("Where Proven is not ticked, a cheaper option with the same measures may exist.")


def price_chart(result: Result, weighed: Collection[Measure]) -> None:
    """Price against a figure of the user's choice."""
    measures = [option.measures for option in result.options]
    known = [
        words
        for words, figure in FIGURE_BY_WORDS.items()
        if any(figure(one) is not None for one in measures)
        and (words not in WHERE_WEIGHED or WHERE_WEIGHED[words] in weighed)
    ]
    words = st.segmented_control(
        "Measure",
        known,
        default=known[0],
        required=True,
        key="chart_measure",
        label_visibility="collapsed",
        persist_state="session",
    )
    if words is not None:
        chart = price_against(result.options, words, ink())
        st.altair_chart(chart, width="stretch", alt=f"Price of every option against: {words}")
    if words == SPREAD:
        st.caption(PREDICTION)


def _row(option: Option, cheapest: Option, names: dict[str, str], weighed: Collection[Measure]) -> dict[str, object]:
    measures, currency = option.measures, option.quote.currency
    loops = {"Loops": measures.earth_loops} if Measure.EARTH_LOOPS in weighed else {}
    margin = {"Margin": measures.least_margin_db} if Measure.LEAST_MARGIN in weighed else {}
    return {
        "Option": option.id,
        "Price": from_minor(measures.price_minor, currency),
        "More": from_minor(over_minor(option, cheapest), currency),
        "Subwoofers": drive_words(option.drives),
        "Independent": measures.independent_subs,
        "Spare": measures.spare_outputs,
        "Lost": measures.subs_lost_worst,
        "Conversions": measures.conversions,
        "Joints": measures.joints,
        **loops,
        **margin,
        "Spread": measures.bass_spread_db,
        "Gear": gear_words(option.design, names),
        "Proven": option.proven,
    }


def _money_format(currency: str) -> str:
    """With thousands set apart where the table can do so, which is with two decimals only."""
    digits = minor_digits(currency)
    return "accounting" if digits == 2 else f"%.{digits}f"
