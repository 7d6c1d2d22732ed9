"""From what the inputs hold to the planner's answer: the same calls as the command's."""

from collections.abc import Callable
from dataclasses import dataclass
from hashlib import sha256
from typing import TYPE_CHECKING

from planner.brief import parse_brief, write_brief
from planner.brief.against import brief_faults
from planner.brief.records import Brief
from planner.errors import BadInput, Fault, PlannerBug, bug_report
from planner.options import Result
from ui.gear import Gear, Unfit

if TYPE_CHECKING:
    from planner.plan import Progress

NAME = "brief.toml"
"""What the planner's messages call the brief that is typed in."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Question:
    """A sound brief and sound gear; `key` stands for the content of both."""

    brief: Brief
    gear: Gear
    key: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Answered:
    """The planner's answer, with what it was asked."""

    question: Question
    result: Result


@dataclass(frozen=True, slots=True)
class Refused:
    """The planner refused the input: what is wrong with it."""

    faults: tuple[Fault, ...]


@dataclass(frozen=True, slots=True)
class Broken:
    """The planner found a fault of its own; no result is to be trusted."""

    report: str


Verdict = Answered | Refused | Broken


def question(draft: Brief, gear: Gear | Unfit) -> Question | Refused:
    """What the planner reads from a draft, once written as a file, and held against the gear.

    Where the gear is unfit, only the faults of the brief are told here.
    """
    text = write_brief(draft)
    try:
        brief = parse_brief(text, NAME)
    except BadInput as error:
        return Refused(error.faults)
    if isinstance(gear, Unfit):
        return Refused(())
    faults = brief_faults(brief, gear.catalogue, gear.house, NAME)
    if faults:
        return Refused(faults)
    return Question(brief=brief, gear=gear, key=sha256(f"{text}\n{gear.key}".encode()).hexdigest())


def ask(asked: Question, *, time_limit_s: float, progress: "Callable[[Progress], None]") -> Verdict:
    """Has the planner search, for so many seconds at most."""
    from planner.plan import options  # late: the first screen need not wait for the solver to load

    gear = asked.gear
    try:
        result = options(asked.brief, gear.catalogue, gear.house, time_limit_s=time_limit_s, progress=progress)
    except BadInput as error:
        return Refused(error.faults)
    except PlannerBug as error:
        return broken(error)
    return Answered(question=asked, result=result)


def broken(error: Exception) -> Broken:
    """What to pass on of an error that is our own."""
    return Broken("\n".join(bug_report(error)))
