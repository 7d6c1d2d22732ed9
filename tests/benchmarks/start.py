"""How long the command takes from nothing to its first printed answer, and how much of that it imports."""

import os
import subprocess
import sys
import time
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from tests.plan.demo import DEMO

ROOT = DEMO.parent
BRIEF = DEMO / "briefs" / "small-5-1-2-two-subs.toml"


@dataclass(frozen=True, kw_only=True, slots=True)
class Start:
    """`first_s`: until the first byte of the answer. `imports_s`: what Python spends on imports, by its own count."""

    first_s: float
    whole_s: float
    cpu_s: float
    memory_mb: float
    imports_s: float
    dearest_imports: tuple[tuple[str, float], ...]

    def tree(self) -> dict[str, Any]:
        """As JSON takes it."""
        return asdict(self)


def cold_start(brief: Path = BRIEF, runs: int = 3) -> Start:
    """The fastest of some runs of `options`, each in a process of its own, after one that warms the disk."""
    command = ("-m", "planner", "options", str(brief))
    _run(command)
    first_s, whole_s, usage = min((_run(command) for _ in range(runs)), key=lambda run: run[0])
    total_s, dearest = _imports(command)
    return Start(
        first_s=first_s,
        whole_s=whole_s,
        cpu_s=usage.ru_utime + usage.ru_stime,
        memory_mb=usage.ru_maxrss / 1000,
        imports_s=total_s,
        dearest_imports=dearest,
    )


def _run(command: tuple[str, ...]) -> tuple[float, float, Any]:
    started = time.perf_counter()
    process = subprocess.Popen((sys.executable, *command), cwd=ROOT, stdout=subprocess.PIPE)
    assert process.stdout is not None
    assert process.stdout.read(1), "the command printed nothing"
    first_s = time.perf_counter() - started
    process.stdout.read()
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    process.stdout.close()
    assert process.returncode == 0
    return first_s, time.perf_counter() - started, usage


def _imports(command: tuple[str, ...]) -> tuple[float, tuple[tuple[str, float], ...]]:
    """All that is imported, in seconds, and the five packages that take most, by `-X importtime`."""
    ran = subprocess.run(
        (sys.executable, "-X", "importtime", *command), cwd=ROOT, capture_output=True, text=True, check=True
    )
    own_us: dict[str, int] = {}
    for line in ran.stderr.splitlines():
        fields = line.removeprefix("import time:").split("|")
        if len(fields) == 3 and fields[0].strip().isdigit():
            package = fields[2].strip().split(".")[0]
            own_us[package] = own_us.get(package, 0) + int(fields[0])
    dearest = sorted(own_us.items(), key=lambda entry: -entry[1])[:5]
    return sum(own_us.values()) / 1e6, tuple((name, us / 1e6) for name, us in dearest)
