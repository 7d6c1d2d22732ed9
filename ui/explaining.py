"""Explanations of answers, kept as long as the program runs: asked once, drawn as often as wanted."""

from collections import OrderedDict
from threading import Lock
from typing import TYPE_CHECKING

from ui.answers import Answered

if TYPE_CHECKING:
    from planner.explain.explanation import Explanation

_MOST_KEPT = 16
TIME_LIMIT_S = 120.0


class Explanations:
    """The last explanations, by the question answered and the option explained."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[str, str], Explanation] = OrderedDict()
        self._lock = Lock()

    def get(self, answered: Answered, option_id: str) -> "Explanation | None":
        """The explanation of an option ("" where there is none), if it was made before."""
        with self._lock:
            return self._kept.get((answered.question.key, option_id))

    def explain(self, answered: Answered, option_id: str) -> "Explanation":
        """Has the planner explain an option of an answer, or why there is none. Raises PlannerBug."""
        from planner.explain.explanation import Wishes, explained  # late: the first screen need not wait for it

        question = answered.question
        found = explained(
            answered.result,
            question.brief,
            question.gear.catalogue,
            question.gear.house,
            Wishes(option_id=option_id or None),
            time_limit_s=TIME_LIMIT_S,
        )
        with self._lock:
            self._kept[question.key, option_id] = found
            while len(self._kept) > _MOST_KEPT:
                self._kept.popitem(last=False)
        return found


EXPLANATIONS = Explanations()
