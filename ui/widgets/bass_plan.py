"""The plan of louder and softer seats, at a band or a frequency of the user's choice."""

import streamlit as st

from planner.bass import BassStudy
from planner.bass.study import ComparedWay
from planner.drawings.bass_plan import bass_plan_svg
from planner.drawings.bass_words import band_words
from ui.widgets.pictures import picture

_WHOLE = "Whole band"
_ONE = "One frequency"


def bass_plan(study: BassStudy, way: ComparedWay) -> None:
    """Before and after, for what is chosen."""
    thirds = study.before.by_band
    bands = {f"Third of an octave at {one.nominal_hz:g} Hz": _edges(study, n) for n, one in enumerate(thirds)}
    left, right = st.columns(2, vertical_alignment="bottom")
    with left:
        chosen = st.selectbox("Over", [_WHOLE, *bands, _ONE], key="bass_over")
    with right:
        hertz = _frequency(study) if chosen == _ONE else None
    low, high = bands.get(chosen, (study.band.low_hz, study.band.high_hz)) if hertz is None else (hertz, hertz)
    words = f"Plan of the room with each seat's level against the mean, {band_words(low, high)}, before and after."
    picture(bass_plan_svg(study, low, high, way), words, "bass-plan.svg")


def _frequency(study: BassStudy) -> float:
    hertz = study.frequency_hz
    return st.select_slider("Frequency, Hz", hertz, value=hertz[0], format_func=lambda one: f"{one:g}", key="bass_hz")


def _edges(study: BassStudy, number: int) -> tuple[float, float]:
    """The first and the last of the study's frequencies that lie in a band."""
    first = sum(band.frequencies for band in study.before.by_band[:number])
    return study.frequency_hz[first], study.frequency_hz[first + study.before.by_band[number].frequencies - 1]
