"""The ways a run can fail to answer, kept apart.

PlannerError            anything this project raises on purpose
├── BadInput            the user's files are at fault; carries every fault found
├── WrongUsage          the command line or a call was put together wrongly
└── PlannerBug          our own code disagrees with itself; never the user's fault

"No valid design" and "ran out of time" are answers, not errors: see `planner.options`.
"""

import traceback
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, kw_only=True, slots=True, order=True)
class Fault:
    """One thing wrong with one input, told so that the reader can mend it.

    `where` names the file and the row and column, or the path within the brief.
    `value` is what stood there, as text; `expected` and `remedy` are short phrases.
    """

    where: str
    value: str
    expected: str
    remedy: str

    def __str__(self) -> str:
        return f"{self.where}: found {self.value}; expected {self.expected}. {self.remedy}"


class PlannerError(Exception):
    """Base of all errors raised on purpose."""


class BadInput(PlannerError):
    """One or more faults in what the user supplied, all of them collected."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        self.faults = faults
        super().__init__("\n".join(str(fault) for fault in faults))


class WrongUsage(PlannerError):
    """A command or call that cannot be carried out as put."""


class PlannerBug(PlannerError):
    """Two independent parts of the planner disagree; the result must not be trusted."""


def bug_report(error: Exception) -> tuple[str, ...]:
    """What to pass on of an error that is our own: lines that say what happened, and through which calls."""
    what = str(error) if isinstance(error, PlannerBug) else f"{type(error).__name__}: {error}"
    calls = " > ".join(
        f"{Path(frame.filename).name}:{frame.lineno} {frame.name}"
        for frame in traceback.extract_tb(error.__traceback__)[-12:]
    )
    return (*what.splitlines(), f"calls: {calls}")
