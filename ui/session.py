"""What outlives one run of the script, in one typed record. Nothing else uses Streamlit's state or the address."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

import streamlit as st

from planner.brief.records import Brief
from planner.errors import BadInput, Fault
from planner.lengths import LengthStyle
from planner.projects import Demo, GearSource, ProjectStore, Work, projects_folder
from ui.answers import Answered, Question, Refused, Verdict
from ui.explaining import EXPLANATIONS, Explaining
from ui.keeping import Keeping
from ui.search import VERDICTS, Search

if TYPE_CHECKING:
    from planner.explain.explanation import Wishes

_USUAL_LIMIT_S = 60
_SESSION = "session"
_PROJECT, _PINNED, _LENGTHS, _VIEW, _CLIENT = "project", "pinned", "lengths", "view", "client"


class Screen(StrEnum):
    """The screens, by the words on their tabs."""

    BRIEF = "Brief"
    GEAR = "Gear"
    OPTIONS = "Options"
    OPTION = "One option"
    WHY = "Why"
    BASS = "Bass"
    PROJECTS = "Projects"


class Section(StrEnum):
    """The sections of the brief, by the words on their tabs."""

    BEGIN = "Begin"
    PROJECT = "Project"
    ROOM = "Room"
    LOUDSPEAKERS = "Loudspeakers"
    SUBWOOFERS = "Subwoofers"
    LIMITS = "Limits"
    OWNED = "Owned gear"
    LATER = "Later"


class Part(StrEnum):
    """What there is to see of one option, by the words on the tabs."""

    PRICE = "Price"
    WIRING = "Wiring"
    ROOM = "Room"
    LEVELS = "Levels"
    BASS = "Bass settings"
    SITE = "Earth and mains"
    FINDINGS = "Findings"
    PAPERS = "Papers"


SCREEN_KEY, SECTION_KEY, PART_KEY = "screen", "section", "part"


@dataclass(frozen=True, kw_only=True, slots=True)
class Unreadable:
    """A file that was opened and could not be read as a brief: its text is kept to be mended."""

    name: str
    text: str
    faults: tuple[Fault, ...]


@dataclass(kw_only=True, slots=True)
class Session:
    """One window's work.

    `began_as` is what it was before anything was changed. `filled` is the brief that the
    inputs were last filled with, `revision` how often that was done, and `draft` what the
    inputs hold now. `sought` is a project that the address named and that is not here, `price_note` says which list was
    taken last. `opened` is the token of the last file opened. `shown` is the last good answer, `search` the one at
    work, `explaining` the explanation at work, and `halted` the key of the question whose search the user stopped.
    `pinned` are options to compare, of the answer with the key `pinned_of`. `opens` is the section that the
    next run opens.
    """

    began_as: Work
    filled: Brief
    draft: Brief
    origin: str
    keeping: Keeping
    source: GearSource
    sought: str = ""
    price_note: str = ""
    revision: int = 0
    unreadable: Unreadable | None = None
    opened: str = ""
    search: Search | None = None
    explaining: Explaining | None = None
    halted: str = ""
    time_limit_s: int = _USUAL_LIMIT_S
    shown: Answered | None = None
    option_id: str | None = None
    pinned: tuple[str, ...] = ()
    pinned_of: str = ""
    client_view: bool = False
    lengths: LengthStyle = LengthStyle.METRES
    opens: Section | None = None

    @property
    def work(self) -> Work:
        """What the inputs hold now."""
        return Work(brief=self.draft, gear=self.source)

    def fill(self, brief: Brief, origin: str) -> None:
        """Replaces all that the inputs of the brief hold; `origin` says where it comes from."""
        self.take(Work(brief=brief, gear=self.source))
        self.origin = origin

    def take(self, work: Work) -> None:
        """Replaces all that the inputs hold, the gear's included."""
        self.filled = self.draft = work.brief
        self.source = work.gear
        self.revision += 1
        self.unreadable = None

    def begin(self, work: Work, origin: str) -> None:
        """Begins something new; the project until now stays as it was kept."""
        self.keeping.leave()
        self.take(work)
        self.began_as, self.origin, self.shown, self.option_id = work, origin, None, None
        _name_project(self)

    def open_project(self, project: str) -> bool:
        """Goes on with a project; whether there is such a project."""
        work = self.keeping.open(project)
        if work is None:
            return False
        self.take(work)
        self.began_as, self.origin, self.shown, self.option_id = work, "a project kept here", None, None
        _name_project(self)
        return True

    def part(self) -> None:
        """Goes its own way, where another window has got ahead on the same project."""
        self.keeping.part(self.work)
        _name_project(self)

    def keep(self) -> None:
        """Keeps what the inputs hold, if it differs from what is kept, and has the address name the project."""
        self.keeping.keep(self.work, began_as=self.began_as)
        _name_project(self)

    def other_projects(self) -> dict[str, str]:
        """The titles of the other projects that are kept here, by id; none where they cannot be had."""
        try:
            listed = self.keeping.store.projects()
        except BadInput:
            return {}
        here = None if self.keeping.kept is None else self.keeping.kept.project
        return {one.id: f"{one.name}, {one.changed.astimezone():%Y-%m-%d %H:%M}" for one in listed if one.id != here}

    def brief_of(self, project: str) -> Brief | None:
        """The brief of a project that is kept here."""
        try:
            kept = self.keeping.store.open(project)
        except BadInput:
            return None
        return None if kept is None else kept.work.brief

    def step(self, *, back: bool) -> None:
        """Fills the inputs with the version before, or with the one after."""
        work = self.keeping.step(back=back)
        if work is not None:
            self.take(work)

    def pin(self, option_ids: tuple[str, ...]) -> None:
        """Puts these options aside to be compared; the address keeps them."""
        self.pinned = option_ids
        _set_address(_PINNED, "-".join(option_ids))

    def show_client(self, shown: bool) -> None:
        """Turns the screen to the client, or back; the inputs that are hidden meanwhile are filled anew."""
        self.client_view = shown
        _set_address(_VIEW, _CLIENT if shown else "")
        self.take(self.work)

    def measure_in(self, style: LengthStyle) -> None:
        """Has lengths typed in this way from now on; the address keeps it."""
        self.lengths = style
        _set_address(_LENGTHS, "feet" if style is LengthStyle.FEET else "")
        self.take(self.work)

    def attend(self, asked: Question | Refused) -> None:
        """Takes up an answer that has come, and has a search running for what is asked now, if it needs one.

        A search for anything else is stopped. One that the user stopped is not begun again
        until something is changed.
        """
        key = asked.key if isinstance(asked, Question) else ""
        if self.search is not None and (self.search.asked.key != key or not self.search.running):
            self.search.stop()
            self.search = None
        verdict = self.verdict(asked)
        if isinstance(verdict, Answered):
            self.shown = verdict
            self._unpin_unless(verdict)
        if isinstance(asked, Question) and verdict is None and self.search is None and self.halted != key:
            self.search = Search(asked, time_limit_s=self.time_limit_s)

    def _unpin_unless(self, answer: Answered) -> None:
        """Names of options mean nothing in another answer."""
        key, ids = answer.question.key, {option.id for option in answer.result.options}
        if self.pinned and (self.pinned_of not in ("", key) or not ids.issuperset(self.pinned)):
            self.pin(())
        self.pinned_of = key

    def halt(self) -> None:
        """Stops the search at the user's wish."""
        if self.search is not None:
            self.halted = self.search.asked.key
            self.search.stop()
            self.search = None

    def explain(self, answered: Answered, wishes: "Wishes") -> None:
        """Has an answer explained; an explanation of anything else is stopped."""
        if self.explaining is not None:
            self.explaining.stop()
        EXPLANATIONS.forget(answered, wishes)
        self.explaining = Explaining(answered, wishes)

    def search_again(self, key: str) -> None:
        """Has these inputs put to the planner anew."""
        self.halted = ""
        VERDICTS.forget(key)

    def verdict(self, asked: Question | Refused) -> Verdict | None:
        """What the planner said to this, if it was asked before."""
        return VERDICTS.get(asked.key) if isinstance(asked, Question) else None

    def is_old(self, asked: Question | Refused) -> bool:
        """Whether the answer on show is to something else than what the inputs now ask."""
        return self.shown is not None and self.shown is not self.verdict(asked)


def current(first: Callable[[], tuple[Brief, str]]) -> Session:
    """The window's session: that of the project in its address, else begun with the brief that `first` gives."""
    named = st.query_params.get(_PROJECT, "")
    if _SESSION not in st.session_state:
        brief, origin = first()
        work = Work(brief=brief, gear=Demo())
        keeping = Keeping(store=ProjectStore(projects_folder()))
        st.session_state[_SESSION] = Session(
            began_as=work, filled=brief, draft=brief, origin=origin, keeping=keeping, source=work.gear
        )
        st.session_state[_SESSION].pinned = tuple(filter(None, st.query_params.get(_PINNED, "").split("-")))
        if st.query_params.get(_LENGTHS):
            st.session_state[_SESSION].lengths = LengthStyle.FEET
        st.session_state[_SESSION].client_view = st.query_params.get(_VIEW) == _CLIENT
    session = st.session_state[_SESSION]
    assert isinstance(session, Session)
    if session.opens is not None:
        go_to(session.opens)
        session.opens = None
    kept = session.keeping.kept
    if named and (kept is None or kept.project != named) and not session.open_project(named):
        session.sought = named
        _name_project(session)
    return session


def go_to(*tabs: Screen | Section | Part) -> None:
    """Opens tabs. Only from a callback, or before any tab is drawn."""
    for tab in tabs:
        match tab:
            case Screen():
                st.session_state[SCREEN_KEY] = tab.value
            case Section():
                st.session_state[SECTION_KEY] = tab.value
            case Part():
                st.session_state[PART_KEY] = tab.value


def _name_project(session: Session) -> None:
    """Has the address name the project, so that a page loaded anew goes on with it."""
    kept = session.keeping.kept
    _set_address(_PROJECT, "" if kept is None else kept.project)


def _set_address(key: str, value: str) -> None:
    """Sets one part of the address, or leaves it out where it is empty."""
    if not value:
        st.query_params.pop(key, None)
    elif st.query_params.get(key) != value:
        st.query_params[key] = value
