"""The room of the brief as it stands in the inputs: plan, section, and the angles of the loudspeakers."""

import streamlit as st

from planner.brief import parse_brief, write_brief
from planner.brief.records import Brief
from planner.drawings.room_plan import brief_plan, brief_section
from planner.errors import BadInput
from planner.tables.angles import ANGLE_HEADINGS, angle_rows, out_of_range, source_words
from planner.words import listed
from ui.markup import literal
from ui.widgets.table import table

_WIDTH_PX = 640


def room_picture(draft: Brief, *, angles: bool) -> None:
    """Plan and section to scale; with `angles`, every loudspeaker against its permitted ranges."""
    try:
        brief = parse_brief(write_brief(draft))
    except BadInput:
        st.info("The picture follows when the brief is complete.", icon=":material/draw:")
        return
    if angles:
        _angles(brief)
    plan(brief)
    st.image(brief_section(brief, "Section"), width=_WIDTH_PX, alt=_words("Section of the room", brief))


def plan(brief: Brief) -> None:
    """A sound brief's room from above."""
    st.image(brief_plan(brief, "Plan"), width=_WIDTH_PX, alt=_words("Plan of the room", brief))


def _angles(brief: Brief) -> None:
    st.markdown(f"**Angles** as heard from the primary seats, against {literal(source_words(brief))}")
    outside = out_of_range(brief)
    if outside:
        st.warning(f"Outside the permitted range: {literal(listed(outside))}.", icon=":material/straighten:")
    else:
        st.success("Every loudspeaker stands within its permitted range.", icon=":material/check:")
    table(ANGLE_HEADINGS, angle_rows(brief), "Angles of the loudspeakers")
    st.caption("Azimuth is positive to the left of straight ahead, elevation upwards from the ear.")


def _words(what: str, brief: Brief) -> str:
    """The picture in a sentence; the positions themselves are in the tables above it."""
    loudspeakers = sum(len(group.placements) for group in brief.loudspeakers)
    subwoofers = sum(group.most for group in brief.subwoofers)
    return (
        f"{what}, {brief.room.length_m:g} by {brief.room.width_m:g} by {brief.room.height_m:g} m, with {loudspeakers}"
        f" loudspeakers, {subwoofers} subwoofers and {len(brief.seats)} seats where the tables have them"
    )
