"""Work that a cluster's workers find by its module: slow enough to be killed in its midst, and noted as it is done."""

import os
import time
from dataclasses import dataclass
from pathlib import Path

from planner.batch.records import Outcome, Told


@dataclass(frozen=True, slots=True)
class Noting:
    """Tells of each file by name and content, and notes in a log who began and who ended it."""

    log: Path
    seconds: float

    def __call__(self, path: Path) -> Told:
        self._note("begins", path)
        time.sleep(self.seconds)
        words = (path.read_text(encoding="utf-8"),)
        self._note("ends", path)
        return Told(brief=path.stem, key="", outcome=Outcome.INFEASIBLE, words=words)

    def _note(self, what: str, path: Path) -> None:
        with self.log.open("a", encoding="utf-8") as log:
            log.write(f"{what} {path.stem} {os.getpid()}\n")


class Deadly(Noting):
    """Kills its worker at one file, every time."""

    def __call__(self, path: Path) -> Told:
        if path.stem == "deadly":
            os._exit(3)
        return super().__call__(path)
