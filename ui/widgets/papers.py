"""The papers of one option, to be saved together or one by one."""

from collections.abc import Sequence

import streamlit as st

from planner.comparison.gear import names
from planner.documents.archive import archive
from planner.documents.compared import MOST_COMPARED
from planner.documents.job import job_of
from planner.documents.paper import Paper
from planner.documents.papers import PAPER_WORDS
from planner.documents.papers import papers as all_papers
from planner.documents.why_told import NOTHING_ASKED, WhyTold
from planner.errors import BadInput, Fault
from planner.options import Option
from ui.answers import Answered
from ui.explaining import EXPLANATIONS
from ui.markup import literal
from ui.widgets.faults import brief_faults

ZIP = "application/zip"


def papers(option: Option, shown: Answered, pinned: Sequence[str]) -> None:
    """Writes the papers, once for each option and answer, and offers them.

    The options that are pinned stand beside it in the proposal, as many as a page has room for.
    """
    beside = tuple(each for each in pinned if each != option.id)[: MOST_COMPARED - 1] if pinned else None
    why = _why(option, shown)
    written = _written(f"{shown.question.key} {shown.result.seconds}", option.id, beside, why, shown)
    if isinstance(written[0], Fault):
        brief_faults(tuple(fault for fault in written if isinstance(fault, Fault)))
        return
    files = tuple(paper for paper in written if isinstance(paper, Paper))
    project = shown.question.brief.project
    st.markdown(
        "Every paper of this option, dated as the brief is. Beside it in the proposal stand the options that"
        f" {'you pinned' if beside is not None else 'the shortlist names'}."
        f"{' They also tell what the screen Why has worked out.' if why.one_more else ''}"
    )
    st.download_button(
        "Save all as ZIP",
        archive(files, project.dated),
        file_name=f"papers-option-{option.id}.zip",
        mime=ZIP,
        type="primary",
        icon=":material/folder_zip:",
        on_click="ignore",
        key="papers_zip",
    )
    for paper in files:
        left, right = st.columns([2, 5], vertical_alignment="center")
        with left:
            st.download_button(
                literal(paper.name),
                paper.content,
                file_name=paper.name,
                mime=paper.media_type,
                on_click="ignore",
                key=f"paper_{paper.name}",
                width="stretch",
            )
        with right:
            st.markdown(literal(PAPER_WORDS[paper.name]))


def _why(option: Option, shown: Answered) -> WhyTold:
    """What the screen *Why* has worked out already."""
    found = EXPLANATIONS.get(shown, option.id)
    if found is None:
        return NOTHING_ASKED
    from planner.explain.for_papers import why_told  # late: whoever has an explanation has loaded it

    return why_told(found, names(shown.question.gear.catalogue))


@st.cache_resource(max_entries=4, show_spinner="Writing the papers …")
def _written(
    key: str, option_id: str, beside: tuple[str, ...] | None, why: WhyTold, _shown: Answered
) -> tuple[Paper | Fault, ...]:
    """The papers, or what keeps them from being written; `key` stands for the answer."""
    question = _shown.question
    job = job_of(
        option_id,
        _shown.result,
        brief=question.brief,
        catalogue=question.gear.catalogue,
        house=question.gear.house,
        beside=beside,
        why=why,
    )
    try:
        return all_papers(job)
    except BadInput as error:
        return error.faults
