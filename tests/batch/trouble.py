"""Work that goes wrong in every way; in a module of its own, light to load, since processes are started for it."""

import os
import signal
import time


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
