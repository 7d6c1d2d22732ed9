"""How many rooms a batch answers: the command on the rooms of a building, nothing recalled, all processes counted."""

import os
import subprocess
import sys
import time
from dataclasses import asdict, dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from tests.benchmarks.building import write_rooms
from tests.plan.demo import DEMO

WANTED_ROOMS = 500


@dataclass(frozen=True, kw_only=True, slots=True)
class Throughput:
    """What so many rooms took, half of size S and half of M; `seconds_for_500` by the clock on two free cores."""

    rooms: int
    clock_s: float
    cpu_s: float
    rooms_per_cpu_s: float
    seconds_for_500: float

    def tree(self) -> dict[str, Any]:
        """As JSON takes it."""
        return asdict(self)


def throughput(rooms: int) -> Throughput:
    """One run of `batch`. Raises AssertionError where a room has no proven answer."""
    with TemporaryDirectory() as folder:
        briefs, out = Path(folder) / "briefs", Path(folder) / "out"
        write_rooms(rooms, briefs)
        command = ("-m", "planner", "batch", str(briefs), "--out", str(out), "--catalogue", str(DEMO))
        started = time.perf_counter()
        process = subprocess.Popen((sys.executable, *command), cwd=DEMO.parent, stdout=subprocess.DEVNULL)
        _, status, usage = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        clock_s = time.perf_counter() - started
        assert process.returncode == 0, "a room has no proven answer"
        records = len(list((out / "records").glob("*.json")))
        assert records == rooms
    cpu_s = usage.ru_utime + usage.ru_stime
    return Throughput(
        rooms=rooms,
        clock_s=clock_s,
        cpu_s=cpu_s,
        rooms_per_cpu_s=rooms / cpu_s,
        seconds_for_500=cpu_s / rooms * WANTED_ROOMS / 2,
    )
