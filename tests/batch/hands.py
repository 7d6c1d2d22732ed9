"""A batch's work on briefs, with trouble for those whose name asks for it. Processes find it by its module."""

from pathlib import Path

from planner.batch.answering import Answering
from planner.batch.records import Told
from tests.batch.trouble import troubled


class Troubled(Answering):
    """Answers a brief, but for those whose name asks for trouble."""

    def __call__(self, path: Path) -> Told:
        troubled(path.stem)
        return super().__call__(path)

    def _answered(self, path: Path, key: str) -> Told:
        if path.stem == "raises":
            raise ZeroDivisionError("a planted bug")
        return super()._answered(path, key)
