"""The study of the bass that belongs to a question: made once for the same room, seats and subwoofers."""

from hashlib import sha256

import streamlit as st

from planner.bass import BassStudy, bass_study
from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.errors import BadInput
from ui.answers import NAME, Question, Refused


def study_of(asked: Question) -> BassStudy | Refused:
    """The study, or why there can be none."""
    brief, catalogue = asked.brief, asked.gear.catalogue
    of_brief = (brief.room, brief.seats, brief.subwoofers, brief.limits.filters_per_subwoofer)
    key = sha256(repr((of_brief, catalogue.subwoofers)).encode()).hexdigest()
    return _study(key, brief, catalogue)


@st.cache_resource(max_entries=8, show_spinner="Predicting the bass …")
def _study(key: str, _brief: Brief, _catalogue: Catalogue) -> BassStudy | Refused:
    """`key` stands for all of brief and catalogue that the study depends on."""
    try:
        return bass_study(_brief, _catalogue, name=NAME)
    except BadInput as error:
        return Refused(error.faults)
