"""What one option will do in the room and at the mains, each part as a table."""

import streamlit as st

from planner.physics import Examination
from planner.physics.earth import EarthLoop
from planner.tables.delays import DELAY_FIGURES, DELAY_HEADINGS, delay_rows
from planner.tables.earth import LOOP_FIGURES, LOOP_HEADINGS, NEVER_LIFTED, loop_rows
from planner.tables.loudness import (
    BASS_FIGURES,
    BASS_HEADINGS,
    LOAD_FIGURES,
    LOAD_HEADINGS,
    SEAT_FIGURES,
    SEAT_HEADINGS,
    bass_rows,
    load_rows,
    seat_rows,
)
from planner.tables.mains import MAINS_FIGURES, MAINS_HEADINGS, mains_rows, mains_sentences
from planner.words import counted
from ui.markup import literal
from ui.widgets.table import table


def loudness(examined: Examination) -> None:
    """Amplifier loads, and levels at the primary seats."""
    at_seats = examined.levels_at_seats
    _heading("Amplifier loads")
    if at_seats.channels:
        rows = load_rows(at_seats.channels, examined.loads)
        table(LOAD_HEADINGS, rows, "Amplifier loads", figures=LOAD_FIGURES)
    else:
        st.markdown("No amplifier channel drives a passive loudspeaker here.")
    _heading("Levels at the primary seats")
    table(SEAT_HEADINGS, seat_rows(at_seats), "Levels at the primary seats", figures=SEAT_FIGURES)
    if at_seats.bass:
        _heading("Subwoofers of a channel together")
        table(BASS_HEADINGS, bass_rows(at_seats.bass), "Subwoofers together", figures=BASS_FIGURES)
    st.caption(
        "Free field: the room is left out. Subwoofers together lie between the two sums, or below where they cancel."
    )


def delays(examined: Examination) -> None:
    """The delays to set, and which device makes them."""
    table(DELAY_HEADINGS, delay_rows(examined.delays), "Delays to set", figures=DELAY_FIGURES)
    st.caption(
        "Arrival at the mean of the primary seats, latency of processor and DSP unit included. Latency inside active"
        " loudspeakers is not in the catalogue: confirm by measurement."
    )


def earth(examined: Examination) -> None:
    """The earth loops: those that may hum first, the harmless ones folded away."""
    loops = examined.earth_loops
    _heading("Earth loops")
    humming = [loop for loop in loops if loop.unbalanced and not loop.bundled]
    harmless = [loop for loop in loops if not loop.unbalanced or loop.bundled]
    hum = f"{len(humming) or 'none'} of which may hum"
    st.markdown(f"{counted(len(loops), 'independent earth loop')}{f', {hum}' if loops else ''}. **{NEVER_LIFTED}**")
    if humming:
        _loops(humming, "Earth loops that may hum")
        st.caption("Hum is an estimate for an assumed current in the shield; only listening and measuring can tell.")
    if harmless:
        with st.expander(f"{counted(len(harmless), 'loop')}, harmless in practice"):
            _loops(harmless, "Earth loops that do no harm")


def mains(examined: Examination) -> None:
    """Rack units, watts, heat and current."""
    _heading("Mains and heat")
    table(MAINS_HEADINGS, mains_rows(examined.mains), "Mains and heat", figures=MAINS_FIGURES)
    for sentence in mains_sentences(examined.mains):
        st.markdown(literal(sentence))


def _loops(loops: list[EarthLoop], alt: str) -> None:
    table(LOOP_HEADINGS, loop_rows(loops), alt, figures=LOOP_FIGURES)


def _heading(words: str) -> None:
    st.markdown(f"##### {words}", anchors=False)
