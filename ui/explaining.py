"""Explanations of answers: worked out in a thread that can be told to stop, kept as long as the program runs."""

from collections import OrderedDict
from threading import Event, Lock, Thread
from typing import TYPE_CHECKING

from planner.errors import BadInput, Fault, WrongUsage
from ui.answers import Answered, Broken, Refused, broken

if TYPE_CHECKING:
    from planner.explain.explanation import Explanation, Wishes
    from planner.plan import Progress

    Told = Explanation | Refused | Broken

A_MOMENT_S = 1.0
TIME_LIMIT_S = 120.0
_MOST_KEPT = 16


class Explaining:
    """One explanation at work. Told to stop, it ends at once with what it knows by then."""

    def __init__(self, answered: Answered, wishes: "Wishes") -> None:
        self.answered, self.wishes = answered, wishes
        self.doing = ""
        self._stop = Event()
        self._thread = Thread(target=self._run, name="explaining", daemon=True)
        self._thread.start()

    @property
    def running(self) -> bool:
        """Whether it is still at work."""
        return self._thread.is_alive()

    @property
    def stopping(self) -> bool:
        """Whether it was told to stop."""
        return self._stop.is_set()

    def about(self, answered: Answered, wishes: "Wishes") -> bool:
        """Whether it is this that is explained."""
        return self.answered.question.key == answered.question.key and self.wishes == wishes

    def soon_over(self) -> bool:
        """Waits a moment; whether it ended within that, so that it can be shown at once."""
        self._thread.join(A_MOMENT_S)
        return not self.running

    def stop(self) -> None:
        """Has it end with what it knows."""
        self._stop.set()

    def _run(self) -> None:
        EXPLANATIONS.keep(self.answered, self.wishes, self._told())

    def _told(self) -> "Told":
        from planner.explain.explanation import explained  # late: the first screen need not wait for it

        question = self.answered.question
        try:
            return explained(
                self.answered.result,
                question.brief,
                question.gear.catalogue,
                question.gear.house,
                self.wishes,
                time_limit_s=TIME_LIMIT_S,
                progress=self._hear,
                stopped=self._stop.is_set,
            )
        except BadInput as error:
            return Refused(error.faults)
        except WrongUsage as error:
            remedy = "Change what is to be explained."
            return Refused((Fault(where="Why", value=str(error), expected="what can be explained", remedy=remedy),))
        except Exception as error:  # a thread has nobody above it to tell
            return broken(error)

    def _hear(self, progress: "Progress") -> None:
        self.doing = progress.text


class Explanations:
    """What was told last about each option of each answer, and what was asked."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[str, str], tuple[Wishes, Told]] = OrderedDict()
        self._lock = Lock()

    def get(self, answered: Answered, option_id: str) -> "Explanation | None":
        """The explanation of an option, whatever else was wished to know."""
        with self._lock:
            kept = self._kept.get((answered.question.key, option_id))
        return None if kept is None or isinstance(kept[1], Refused | Broken) else kept[1]

    def told(self, answered: Answered, wishes: "Wishes") -> "Told | None":
        """What was told to just these wishes, if they were put before."""
        with self._lock:
            kept = self._kept.get((answered.question.key, wishes.option_id or ""))
        return kept[1] if kept is not None and kept[0] == wishes else None

    def keep(self, answered: Answered, wishes: "Wishes", told: "Told") -> None:
        """Remembers what was told; the oldest is forgotten."""
        with self._lock:
            self._kept[answered.question.key, wishes.option_id or ""] = (wishes, told)
            while len(self._kept) > _MOST_KEPT:
                self._kept.popitem(last=False)

    def forget(self, answered: Answered, wishes: "Wishes") -> None:
        """Has this explained anew."""
        with self._lock:
            self._kept.pop((answered.question.key, wishes.option_id or ""), None)


EXPLANATIONS = Explanations()
