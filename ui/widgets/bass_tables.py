"""The tables of the bass, as the command prints them."""

import streamlit as st

from planner.bass import BassStudy
from planner.bass.notes import PREDICTION
from planner.bass.starting_values import starting_values
from planner.bass.study import ComparedWay
from planner.options import Option
from planner.tables.bass import SUBWOOFER_FIGURES, SUBWOOFER_HEADINGS, subwoofer_rows
from planner.tables.bass_counts import COUNT_FIGURES, COUNT_HEADINGS, COUNTS_LEGEND, count_rows
from planner.tables.bass_seats import SEAT_FIGURES, SEAT_HEADINGS, SEATS_LEGEND, seat_rows
from planner.tables.bass_ways import (
    SETTING_FIGURES,
    SETTING_HEADINGS,
    WAY_FIGURES,
    WAY_HEADINGS,
    filters_sentence,
    ranges_words,
    searched_words,
    setting_rows,
    way_rows,
    ways_legend,
)
from planner.tables.starting_values import STARTING_FIGURES, STARTING_HEADINGS, STARTING_LEGEND, starting_rows
from ui.answers import Answered
from ui.markup import literal
from ui.widgets.table import table


def bass_settings(option: Option, shown: Answered) -> None:
    """What to set each subwoofer output of an option to, before measuring."""
    asked = shown.question
    beside = [each.design for each in shown.result.options]
    values = starting_values(option.design, asked.brief, asked.gear.catalogue, beside=beside)
    if not values:
        st.markdown("This option has no subwoofer.")
        return
    for remark in dict.fromkeys(value.remark for value in values if value.remark):
        st.warning(literal(remark), icon=":material/info:")
    table(STARTING_HEADINGS, starting_rows(values), "Settings of the subwoofer outputs", figures=STARTING_FIGURES)
    st.caption(f"{STARTING_LEGEND} {PREDICTION}")


def settings(study: BassStudy, way: ComparedWay) -> None:
    """Gain, delay and polarity of each output, and the filters that all share."""
    table(SETTING_HEADINGS, setting_rows(way), "Settings to start from", figures=SETTING_FIGURES)
    if sentence := filters_sentence(way):
        st.markdown(literal(sentence))
    st.caption(literal(ranges_words(study)))


def ways(study: BassStudy) -> None:
    """Every number of outputs with the best grouping found."""
    table(WAY_HEADINGS, way_rows(study), "Ways of control", figures=WAY_FIGURES)
    st.caption(literal(f"{ways_legend(study)} {searched_words(study)}"))


def counts(study: BassStudy) -> None:
    """One subwoofer to all of them, and where they would best stand."""
    table(COUNT_HEADINGS, count_rows(study), "One subwoofer to all", figures=COUNT_FIGURES)
    st.caption(COUNTS_LEGEND)


def positions(study: BassStudy) -> None:
    """The subwoofers by number, with the places to choose from."""
    table(SUBWOOFER_HEADINGS, subwoofer_rows(study.subwoofers), "Subwoofers", figures=SUBWOOFER_FIGURES)


def seats(study: BassStudy, way: ComparedWay) -> None:
    """How each seat differs from the mean of all, before and after."""
    table(SEAT_HEADINGS, seat_rows(study, way), "Seat by seat", figures=SEAT_FIGURES)
    st.caption(SEATS_LEGEND)
