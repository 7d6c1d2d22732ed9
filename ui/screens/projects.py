"""The projects kept on this machine: open, copy, compare, put away."""

from collections.abc import Callable, Sequence

import streamlit as st

from planner.errors import BadInput
from planner.projects import Summary, Work
from planner.projects.compare import differences
from planner.words import counted
from ui.markup import literal
from ui.screens import begin
from ui.session import Screen, Session, go_to
from ui.widgets.faults import file_faults
from ui.widgets.labels import place_words


def render(session: Session) -> None:
    """Draws the list, and what can be done with each project."""
    try:
        current, away = session.keeping.store.projects(), session.keeping.store.projects(archived=True)
    except BadInput as error:
        file_faults(error.faults, key="projects")
        return
    top, aside = st.columns([3, 1], vertical_alignment="center")
    with top:
        st.markdown("Every change is kept by itself. A project is listed here from its first change on.")
    with aside:
        st.button("Begin a new project", key="new_project", type="primary", on_click=_begin, args=(session,),
                  width="stretch")  # fmt: skip
    for project in current:
        _card(session, project)
    if len(current) > 1:
        _compare(session, current)
    if away:
        with st.expander(f"Put away: {counted(len(away), 'project')}"):
            for project in away:
                _card(session, project)


def _card(session: Session, project: Summary) -> None:
    kept = session.keeping.kept
    here = kept is not None and kept.project == project.id
    with st.container(border=True):
        words, buttons = st.columns([3, 2], vertical_alignment="center")
        with words:
            st.markdown(f"**{_title(project)}**" + (" · open in this window" if here else ""))
            changed = project.changed.astimezone().strftime("%Y-%m-%d %H:%M")
            st.caption(f"Last changed {changed}, {counted(project.versions, 'version')}")
        with buttons, st.container(horizontal=True, horizontal_alignment="right"):
            if project.archived:
                _button(session, project, "Take out again", _put_away, away=False)
                _button(session, project, "Delete for good", _delete)
            else:
                _button(session, project, "Open", _open, disabled=here)
                _button(session, project, "Copy", _copy)
                _button(session, project, "Put away", _put_away, away=True)


def _title(project: Summary) -> str:
    named = (project.name or "A system without a name", project.client, project.reference)
    return " · ".join(literal(part) for part in named if part.strip())


def _button(
    session: Session,
    project: Summary,
    words: str,
    act: Callable[..., None],
    *,
    disabled: bool = False,
    **options: object,
) -> None:
    st.button(
        words,
        key=f"{words.split()[0].lower()}_{project.id}",
        on_click=act,
        args=(session, project.id),
        kwargs=options,
        disabled=disabled,
        help=f"{words}: {project.name}" if project.name else None,
    )


def _begin(session: Session) -> None:
    brief, origin = begin.first_brief()
    session.begin(Work(brief=brief, gear=session.source), origin)
    go_to(Screen.BRIEF)


def _open(session: Session, project: str) -> None:
    if session.open_project(project):
        go_to(Screen.BRIEF)


def _copy(session: Session, project: str) -> None:
    copied = session.keeping.store.copy(project)
    if copied is not None:
        _open(session, copied.project)


def _put_away(session: Session, project: str, *, away: bool) -> None:
    session.keeping.store.archive(project, away=away)


def _delete(session: Session, project: str) -> None:
    session.keeping.store.delete(project)


def _compare(session: Session, projects: Sequence[Summary]) -> None:
    """Two projects side by side: every entry of the brief in which they differ."""
    st.markdown("##### Compare two", anchors=False)
    titles = {project.id: f"{project.name}, {project.changed.astimezone():%Y-%m-%d %H:%M}" for project in projects}
    columns = st.columns(2)
    ids = []
    for column, words, first in zip(columns, ("This project", "With this one"), (0, 1), strict=True):
        with column:
            ids.append(
                st.selectbox(words, [*titles], index=first, format_func=titles.__getitem__, key=f"compare_{first}")
            )
    left, right = (session.keeping.store.open(id_) for id_ in ids)
    if left is None or right is None:
        return
    found = differences(left.work.brief, right.work.brief)
    rows = [
        {
            "Entry": literal(place_words(f"brief {one.place}")),
            "This project": literal(one.left),
            "With this one": literal(one.right),
        }
        for one in found
    ]
    if left.work.gear != right.work.gear:
        st.markdown("They take their gear from different places.")
    if rows:
        st.table(rows, border="horizontal", alt="Differences between two projects")
    else:
        st.markdown("Their briefs are the same.")
