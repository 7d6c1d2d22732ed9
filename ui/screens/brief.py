"""The brief: every field of it, and beside the fields what is wrong with it."""

from collections.abc import Sequence
from contextlib import AbstractContextManager

import streamlit as st

from planner.brief import write_brief
from planner.brief.records import Brief
from ui.answers import NAME, Question, Refused
from ui.gear import Gear, Unfit
from ui.screens import begin
from ui.session import SECTION_KEY, Screen, Section, Session, go_to
from ui.widgets.faults import brief_faults
from ui.widgets.items import ItemNames, item_names
from ui.widgets.kept_gear import excluded, later, owned
from ui.widgets.keys import Keys
from ui.widgets.length_units import length_units
from ui.widgets.limits import limits, measures
from ui.widgets.loudspeakers import layout, loudspeakers
from ui.widgets.project import project
from ui.widgets.room import AXES, rack, room, seats
from ui.widgets.room_picture import room_picture
from ui.widgets.subwoofers import subwoofers


def render(session: Session, gear: Gear | Unfit) -> None:
    """Draws the inputs, and leaves in the session what they hold."""
    tabs = dict(zip(Section, st.tabs([*Section], key=SECTION_KEY, on_change="rerun"), strict=True))
    first, *others = tabs.values()
    session.draft = _inputs(session.filled, gear, Keys(session.revision, session.lengths), others)
    for section in (Section.ROOM, Section.LOUDSPEAKERS, Section.SUBWOOFERS):
        if tabs[section].open:
            with tabs[section]:
                room_picture(session.draft, angles=section is Section.LOUDSPEAKERS)
    with first:  # drawn last, so that what was typed is in the draft before another brief replaces it
        begin.render(session)


def aside(session: Session, asked: Question | Refused) -> None:
    """Beside the inputs: what is wrong, or the way on; and the brief as a file."""
    match asked:
        case Refused(()):
            st.warning("The brief is complete. The gear has faults; see the Gear screen.", icon=":material/error:")
        case Refused(faults):
            brief_faults(faults)
        case Question():
            st.success("The brief is complete.", icon=":material/check:")
            st.button(
                "See the options",
                key="see_options",
                type="primary",
                on_click=go_to,
                args=(Screen.OPTIONS,),
                width="stretch",
            )
    st.download_button(
        "Save the brief as a file",
        write_brief(session.draft),
        file_name=NAME,
        mime="application/toml",
        on_click="ignore",
        key="save_brief",
        width="stretch",
        help="A text file that the form and the command both read.",
    )
    length_units(session)
    st.caption(
        "In a table, a row is added in the last, empty one; to remove rows, tick them at the left and press the bin."
    )


def _inputs(filled: Brief, gear: Gear | Unfit, keys: Keys, tabs: Sequence[AbstractContextManager[object]]) -> Brief:
    """All fields, section after section, in the order of the tabs."""
    loudspeaker_items, subwoofer_items, any_items = _offered(filled, gear)
    with tabs[0]:
        the_project = project(filled.project, keys)
    with tabs[1]:
        the_room = room(filled.room, keys)
        st.markdown("**Seats**: where the heads are")
        the_seats = seats(filled.seats, keys)
        st.caption(AXES)
        st.markdown("**Rack**: where the gear stands, and how cable lengths are counted")
        the_rack = rack(filled.rack, keys)
    with tabs[2]:
        the_layout = layout(filled.layout, keys)
        the_loudspeakers = loudspeakers(filled.loudspeakers, loudspeaker_items, keys)
    with tabs[3]:
        the_subwoofers = subwoofers(filled.subwoofers, subwoofer_items, keys)
    with tabs[4]:
        the_limits = limits(filled.limits, the_project.currency, keys)
        the_measures = measures(filled.measures, keys)
    with tabs[5]:
        st.markdown("**Gear that the client has**: it costs nothing")
        the_owned = owned(filled.owned, any_items, keys)
        the_excluded = excluded(filled.excluded, any_items, keys)
    with tabs[6]:
        st.markdown("**Stages to come**: they change no option; the Why screen tells what now and later cost together")
        the_later = later(filled.later, keys)
    return Brief(
        project=the_project,
        room=the_room,
        seats=the_seats,
        rack=the_rack,
        layout=the_layout,
        loudspeakers=the_loudspeakers,
        subwoofers=the_subwoofers,
        limits=the_limits,
        measures=the_measures,
        owned=the_owned,
        excluded=the_excluded,
        later=the_later,
    )


def _offered(filled: Brief, gear: Gear | Unfit) -> tuple[ItemNames, ItemNames, ItemNames]:
    """Loudspeakers, subwoofers and all gear to choose from; what the brief names is always there."""
    loudspeaker_skus = [sku for group in filled.loudspeakers for sku in group.candidates]
    subwoofer_skus = [sku for group in filled.subwoofers for sku in group.candidates]
    if isinstance(gear, Unfit):
        return ItemNames().with_skus(loudspeaker_skus), ItemNames().with_skus(subwoofer_skus), ItemNames()
    catalogue = gear.catalogue
    return (
        item_names(catalogue.loudspeakers).with_skus(loudspeaker_skus),
        item_names(catalogue.subwoofers).with_skus(subwoofer_skus),
        item_names(catalogue.items()),
    )
