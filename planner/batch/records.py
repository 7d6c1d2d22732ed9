"""What became of one brief of a batch."""

from dataclasses import dataclass
from enum import StrEnum

from planner.options import Status


class Outcome(StrEnum):
    """The three answers of a search, and the three ways in which a brief can go without one.

    OVERDUE: its process was ended long after its time. BUG: our own; its process may have died.
    """

    PROVEN = Status.PROVEN.value
    PARTIAL = Status.PARTIAL.value
    INFEASIBLE = Status.INFEASIBLE.value
    OVERDUE = "overdue"
    BAD_INPUT = "bad_input"
    BUG = "bug"


@dataclass(frozen=True, kw_only=True, slots=True)
class Told:
    """What became of one brief.

    `brief` is the file's name without its ending. `key` tells the content that was worked on, see
    `planner.batch.keys`. `words` are sentences: faults, what cannot hold together, what is not
    settled, what to report. `result` is the JSON text of `options`, where there is an answer.
    """

    brief: str
    key: str
    outcome: Outcome
    words: tuple[str, ...] = ()
    result: str | None = None
