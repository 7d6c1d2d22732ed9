"""Work for processes of a batch that goes wrong in every way. It has to stand in a module to be sent to them."""

import os
import signal
import time
from pathlib import Path

from planner.batch.answering import Answering
from planner.batch.records import Told


def troubled(task: str) -> str:
    """Does as the task says."""
    match task:
        case "killed":
            os.kill(os.getpid(), signal.SIGKILL)
        case "gone":
            os._exit(3)
        case "hangs":
            time.sleep(600)
    return f"{task} by {os.getpid()}"


class Troubled(Answering):
    """Answers a brief, but for those whose name asks for trouble."""

    def __call__(self, path: Path) -> Told:
        troubled(path.stem)
        return super().__call__(path)

    def _answered(self, path: Path, key: str) -> Told:
        if path.stem == "raises":
            raise ZeroDivisionError("a planted bug")
        return super()._answered(path, key)
