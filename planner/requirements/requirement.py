"""One requirement of a brief: in the brief's words, how to do without it or with less, and what is lost then."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import IntEnum

from planner.brief.records import Brief

Change = Callable[[Brief], Brief]


class Sacrifice(IntEnum):
    """What is lost with a requirement, the least first. Common practice in talks with a client, no published source.

    FITTING  how the system is built, which nobody hears
    RESERVE  what is there for later, or for the day that something fails
    MONEY    the budget
    SOUND    some of the performance or of the freedom to set it
    MODEL    the very model that was asked for
    EXTENT   a part of the system
    """

    FITTING = 1
    RESERVE = 2
    MONEY = 3
    SOUND = 4
    MODEL = 5
    EXTENT = 6

    @property
    def words(self) -> str:
        """What is lost, as an object of "gives up"."""
        return _SACRIFICE_WORDS[self]


_SACRIFICE_WORDS = {
    Sacrifice.FITTING: "nothing that is heard: only how it is built",
    Sacrifice.RESERVE: "a reserve: against hum or a failure, or for later",
    Sacrifice.MONEY: "the budget",
    Sacrifice.SOUND: "some of the performance, or of the freedom to set it",
    Sacrifice.MODEL: "the model asked for",
    Sacrifice.EXTENT: "a part of the system",
}


@dataclass(frozen=True, slots=True)
class Requirement:
    """One thing that the brief asks for.

    `without` gives the same brief not asking for it, so that no fewer designs answer it;
    `given_up` says so in words. `looser` are ways to ask for less of it, the slightest first, each
    of which leaves no fewer designs than the one before. A requirement of `safety` may be in a
    conflict, and is never offered to be given up.
    """

    sentence: str
    without: Change
    sacrifice: Sacrifice
    given_up: str = ""
    looser: tuple["Looser", ...] = ()
    safety: bool = False


@dataclass(frozen=True, slots=True)
class Looser:
    """One way to ask for less: in words, and the brief changed so."""

    sentence: str
    change: Change
