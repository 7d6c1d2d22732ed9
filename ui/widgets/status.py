"""How far an answer is settled, and why there may be none."""

from collections.abc import Sequence

import streamlit as st

from planner.brief.records import Brief
from planner.options import Result, Status
from planner.tables.heading import status_sentences
from planner.words import counted
from ui.markup import literal


def status(result: Result, brief: Brief) -> None:
    """The state of the answer in sentences, and what was left unsettled."""
    sentences = literal(" ".join(status_sentences(result, brief)))
    match result.status:
        case Status.PROVEN:
            st.success(sentences, icon=":material/check:")
        case Status.PARTIAL:
            st.warning(sentences, icon=":material/timer:")
            with st.expander(f"What is not settled: {counted(len(result.unproven), 'question')}"):
                _points(result.unproven)
        case Status.INFEASIBLE:
            st.error(sentences, icon=":material/block:")


def conflict(result: Result) -> None:
    """The requirements that cannot hold together."""
    st.markdown("##### These requirements cannot hold together", anchors=False)
    _points(result.conflict)
    st.markdown("Change any one of them in the brief, or add gear, and look again.")


def _points(sentences: Sequence[str]) -> None:
    st.markdown("\n".join(f"- {literal(sentence)}" for sentence in sentences))
