"""The bass of designs worked out while others are still being searched for.

What is worked out is remembered where every prediction looks first (`planner.bass.best_of_groups`),
so this changes when an answer is there, never what it is.
"""

from concurrent.futures import ThreadPoolExecutor
from types import TracebackType

from planner.bass.best_of_groups import best_of_groups
from planner.bass.prediction import Setup, setup
from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.design import Design


class BassAhead:
    """Works in a thread of its own, as long as the block lasts; what was not begun by then is left alone."""

    def __init__(self, brief: Brief, catalogue: Catalogue) -> None:
        self._brief, self._catalogue = brief, catalogue
        self._pool = ThreadPoolExecutor(1)
        self._open = any(group.most for group in brief.subwoofers)

    def __enter__(self) -> "BassAhead":
        return self

    def __exit__(
        self, kind: type[BaseException] | None, raised: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._open = False
        # where the search was called off nobody waits for the bass
        self._pool.shutdown(wait=raised is None, cancel_futures=True)

    def note(self, design: Design) -> None:
        """A design whose bass may be asked for; after the block it is left to whoever asks."""
        if self._open:
            self._pool.submit(self._work_out, design)

    def _work_out(self, design: Design) -> None:
        here = setup(design, self._brief, self._catalogue)
        if isinstance(here, Setup):
            best_of_groups(here.scene, here.groups)
