"""What outlives one run of the script, in one typed record. Nothing else uses st.session_state."""

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import StrEnum

import streamlit as st

from planner.brief.records import Brief
from planner.errors import Fault
from ui.answers import Answered, Question, Refused, Verdict
from ui.gear import DEMO, Source

_MOST_VERDICTS = 16
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
    `opened` is the token of the last file opened. `shown` is the last good answer.
    """

    filled: Brief
    draft: Brief
    origin: str
    before: Brief | None = None
    revision: int = 0
    unreadable: Unreadable | None = None
    opened: str = ""
    source: Source = DEMO
    verdict_by_key: dict[str, Verdict] = field(default_factory=dict)
    shown: Answered | None = None
    option_id: str | None = None

    def fill(self, brief: Brief, origin: str) -> None:
        """Replaces all that the inputs hold; `origin` says where the brief comes from."""
        self.before = self.draft
        self.filled = self.draft = brief
        self.origin = origin
        self.revision += 1
        self.unreadable = None

    def keep(self, key: str, verdict: Verdict) -> None:
        """Remembers what the planner said to these inputs; the oldest is forgotten first."""
        self.verdict_by_key.pop(key, None)
        self.verdict_by_key[key] = verdict
        while len(self.verdict_by_key) > _MOST_VERDICTS:
            self.verdict_by_key.pop(next(iter(self.verdict_by_key)))
        if isinstance(verdict, Answered):
            self.shown = verdict

    def forget(self, key: str) -> None:
        """Has these inputs put to the planner anew."""
        self.verdict_by_key.pop(key, None)

    def verdict(self, asked: Question | Refused) -> Verdict | None:
        """What the planner said to this, if it was asked before."""
        return self.verdict_by_key.get(asked.key) if isinstance(asked, Question) else None

    def recall(self, asked: Question | Refused) -> None:
        """Shows the answer to this, if there is one already, such as after an edit is undone."""
        verdict = self.verdict(asked)
        if isinstance(verdict, Answered):
            self.shown = verdict

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
