"""The batch: briefs in, what became of each out; what is kept and still true is not worked on again."""

from collections.abc import Callable, Generator, Iterable, Sequence
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from planner.batch.answering import Answering
from planner.batch.keys import brief_key, content_of
from planner.batch.processes import Died, Overdue
from planner.batch.records import Outcome, Told
from planner.batch.rooms import Room, room_of
from planner.batch.store import Store
from planner.batch.summary import summary


class Engine(Protocol):
    """What does the work: `planner.batch.processes` on this machine, `planner.batch.cluster` on many."""

    def __call__(
        self, tasks: Sequence[Path], work: Answering, /, *, most_s: float
    ) -> Generator[tuple[Path, Told | Died | Overdue], None, None]:
        """Each task with what became of it, as they end; none may take longer than `most_s` seconds."""
        ...


@dataclass(frozen=True, kw_only=True, slots=True)
class Tally:
    """How far a batch is: briefs that are done, of all; those of them answered by an earlier run; those unanswered."""

    done: int
    of: int
    kept: int
    unanswered: int


def run_batch(
    briefs: Sequence[Path],
    answering: Answering,
    store: Store,
    *,
    engine: Engine,
    progress: Callable[[Tally], None] = lambda _: None,
) -> tuple[Room, ...]:
    """A line for every brief, in their order.

    Results, records and the summary are in the store afterwards, each as soon as it is known.
    Raises WrongUsage where the store cannot be written.
    """
    room_by_path = {path: room_of(told) for path in briefs if (told := _kept(path, answering, store)) is not None}
    left = [path for path in briefs if path not in room_by_path]
    kept = len(room_by_path)
    if left:
        store.forget_summary()
    for path in left:
        store.forget(path.stem)
    progress(_tally(room_by_path.values(), len(briefs), kept))
    with closing(engine(left, answering, most_s=_most_s(answering))) as endings:
        for path, ending in endings:
            told = ending if isinstance(ending, Told) else _without_answer(path, ending, answering)
            store.keep(told, answering.time_limit_s)
            room_by_path[path] = room_of(told)
            progress(_tally(room_by_path.values(), len(briefs), kept))
    rooms = tuple(room_by_path[path] for path in briefs)
    store.keep_summary(summary(rooms))
    return rooms


def _kept(path: Path, answering: Answering, store: Store) -> Told | None:
    return store.kept(path.stem, brief_key(content_of(path), answering.shared), answering.time_limit_s)


def _most_s(answering: Answering) -> float:
    """After so many seconds a process hangs: what comes after a search has times of its own, or takes seconds."""
    return 3 * answering.time_limit_s + 120.0


def _without_answer(path: Path, ending: Died | Overdue, answering: Answering) -> Told:
    key = brief_key(content_of(path), answering.shared)
    if isinstance(ending, Died):
        words = (
            f"{ending.how} in the midst of the work: for want of memory, or by a bug of the planner's own."
            " Run it alone with the command options, and report what happens.",
        )
        return Told(brief=path.stem, key=key, outcome=Outcome.BUG, words=words)
    words = (
        f"its process was ended after {_most_s(answering):.0f} seconds, long after its time limit, without an answer."
        " Allow more with --time-limit, or run it alone with the command options.",
    )
    return Told(brief=path.stem, key=key, outcome=Outcome.OVERDUE, words=words)


def _tally(rooms: Iterable[Room], of: int, kept: int) -> Tally:
    outcomes = [room.outcome for room in rooms]
    unanswered = sum(outcome not in (Outcome.PROVEN, Outcome.PARTIAL) for outcome in outcomes)
    return Tally(done=len(outcomes), of=of, kept=kept, unanswered=unanswered)
