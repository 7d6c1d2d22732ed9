"""What outlives one run of the script, in one typed record. Nothing else uses st.session_state."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

import streamlit as st

from planner.brief.records import Brief
from planner.errors import Fault
from ui.answers import Answered, Question, Refused, Verdict
from ui.gear import DEMO, Source
from ui.search import VERDICTS, Search

_USUAL_LIMIT_S = 60
_SESSION = "session"
SCREEN_KEY = "screen"


class Screen(StrEnum):
    """The screens, by the words on their tabs."""

    BRIEF = "Brief"
    GEAR = "Gear"
    OPTIONS = "Options"
    OPTION = "One option"


@dataclass(frozen=True, kw_only=True, slots=True)
class Unreadable:
    """A file that was opened and could not be read as a brief: its text is kept to be mended."""

    name: str
    text: str
    faults: tuple[Fault, ...]


@dataclass(kw_only=True, slots=True)
class Session:
    """One user's work.

    `filled` is the brief that the inputs were last filled with, `revision` how often that
    was done, and `draft` what the inputs hold now; `before` is what they held until then.
    `opened` is the token of the last file opened. `shown` is the last good answer, `search`
    the one at work, and `halted` the key of the question whose search the user stopped.
    """

    filled: Brief
    draft: Brief
    origin: str
    before: Brief | None = None
    revision: int = 0
    unreadable: Unreadable | None = None
    opened: str = ""
    source: Source = DEMO
    search: Search | None = None
    halted: str = ""
    time_limit_s: int = _USUAL_LIMIT_S
    shown: Answered | None = None
    option_id: str | None = None

    def fill(self, brief: Brief, origin: str) -> None:
        """Replaces all that the inputs hold; `origin` says where the brief comes from."""
        self.before = self.draft
        self.filled = self.draft = brief
        self.origin = origin
        self.revision += 1
        self.unreadable = None

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
        if isinstance(asked, Question) and verdict is None and self.search is None and self.halted != key:
            self.search = Search(asked, time_limit_s=self.time_limit_s)

    def halt(self) -> None:
        """Stops the search at the user's wish."""
        if self.search is not None:
            self.halted = self.search.asked.key
            self.search.stop()
            self.search = None

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
    """The user's session, begun with the brief that `first` gives, and where it comes from."""
    if _SESSION not in st.session_state:
        brief, origin = first()
        st.session_state[_SESSION] = Session(filled=brief, draft=brief, origin=origin)
    session = st.session_state[_SESSION]
    assert isinstance(session, Session)
    return session


def go_to(screen: Screen) -> None:
    """Opens a screen. Only from a callback: the tabs are drawn before anything on them."""
    st.session_state[SCREEN_KEY] = screen.value
