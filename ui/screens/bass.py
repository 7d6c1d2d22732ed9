"""The bass at the seats: how uneven it is, and what each way of control makes of it."""

import streamlit as st

from planner.bass import BassStudy
from planner.bass.notes import HEARING, PREDICTION
from planner.bass.study import ComparedWay
from planner.drawings.bass_curves import seat_curves_svg
from planner.drawings.bass_spread import spread_svg
from planner.tables.bass_ways import grouping_words
from planner.words import counted
from ui.answers import Question, Refused
from ui.bass_study import study_of
from ui.markup import literal
from ui.session import Session
from ui.widgets.bass_plan import bass_plan
from ui.widgets.bass_tables import counts, positions, seats, settings, ways
from ui.widgets.faults import brief_faults
from ui.widgets.pictures import picture


def render(session: Session, asked: Question | Refused) -> None:
    """Draws the study of the brief as it stands; it needs no search for gear."""
    if isinstance(asked, Refused):
        st.markdown("There is something to mend first, on the Brief or the Gear screen.")
        return
    if not asked.brief.subwoofers:
        st.markdown("The brief has no subwoofers, so there is no bass to predict.")
        return
    study = study_of(asked)
    if isinstance(study, Refused):
        st.markdown("The bass of this brief cannot be predicted.")
        brief_faults(study.faults)
        return
    st.info(PREDICTION, icon=":material/straighten:")
    way = _chosen(study)
    _summary(study, way)
    _pictures(study, way)
    _tables(study, way)


def _chosen(study: BassStudy) -> ComparedWay:
    """The way of control to look at: at first the one with the most control."""
    if len(study.ways) == 1:
        return study.ways[0]
    ways = study.ways[1:]
    chosen = st.selectbox(
        "Way of control",
        range(len(ways)),
        index=len(ways) - 1,
        format_func=lambda n: f"{_way_words(ways[n])}: spread {ways[n].outcome.spread.spread_db:.2f} dB",
        key="bass_way",
    )
    return ways[chosen]


def _way_words(way: ComparedWay) -> str:
    grouping = way.way.best.grouping
    return f"{counted(len(grouping), 'output')}, subwoofers {grouping_words(grouping)}"


def _summary(study: BassStudy, way: ComparedWay) -> None:
    before, after = study.before.spread, way.outcome.spread
    figures = [("Spread with one signal to all", f"{before.spread_db:.2f} dB")]
    if len(study.ways) > 1:
        figures += [
            ("With these settings", f"{after.spread_db:.2f} dB"),
            ("Loudest less softest seat", f"{before.max_minus_min_db:.1f} → {after.max_minus_min_db:.1f} dB"),
            ("Level given up", f"{round(way.outcome.loss_db, 1) + 0.0:.1f} dB"),
        ]
    with st.container(horizontal=True, gap="medium"):
        for label, value in figures:
            st.metric(label, value, width="content")


def _pictures(study: BassStudy, way: ComparedWay) -> None:
    before = f"spread {study.before.spread.spread_db:.2f} dB before"
    after = f"{way.outcome.spread.spread_db:.2f} dB after"
    st.markdown("##### Level at each seat", anchors=False)
    picture(seat_curves_svg(study, way), f"Level at each seat along the band: {before}, {after}.", "bass-seats.svg")
    if len(study.seats) > 1:  # what differs from seat to seat takes two
        st.markdown("##### Spread by frequency", anchors=False)
        picture(spread_svg(study, way), f"Deviation over the seats by frequency: {before}, {after}.", "bass-spread.svg")
        st.markdown("##### Louder and softer seats", anchors=False)
        bass_plan(study, way)


def _tables(study: BassStudy, way: ComparedWay) -> None:
    if len(study.ways) > 1:
        st.markdown("##### Settings to start from", anchors=False)
        settings(study, way)
        st.markdown("##### Ways of control", anchors=False)
        ways(study)
    if study.counts:
        st.markdown("##### One subwoofer to all", anchors=False)
        counts(study)
    st.markdown("##### Subwoofers", anchors=False)
    positions(study)
    if len(study.seats) > 1:
        st.markdown("##### Seat by seat", anchors=False)
        seats(study, way)
    st.markdown("##### To be read with this", anchors=False)
    st.markdown("\n".join(f"- {literal(note)}" for note in (*study.notes, HEARING)))
