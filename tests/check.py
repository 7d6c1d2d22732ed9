"""The whole check in one command: `python -m tests.check`.

Format, lint, strict types, import contracts, then every test with warnings as errors. Each
step prints one line; the first that fails prints what it found, and ends the check.
"""

import importlib.util
import os
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent

# Two workers: the solver's tests are long, and more would fight over two cores.
_TESTS = ("-m", "pytest", "-q", "-n", "2", "--dist", "worksteal", "-p", "no:cacheprovider")

_STEPS = (
    ("format", ("-m", "ruff", "format", "--check", ".")),
    ("lint", ("-m", "ruff", "check", ".")),
    ("types", ("-m", "mypy")),
    ("imports", ("-c", "from importlinter.cli import lint_imports_command as lint; lint()", "--no-cache")),
)


def main() -> int:
    """Runs every step from the project's root. Returns 0 where all pass."""
    missing = [
        tool for tool in ("ruff", "mypy", "importlinter", "pytest", "xdist") if not importlib.util.find_spec(tool)
    ]
    if missing:
        print(f"The check needs {', '.join(missing)}. Install: pip install -e '.[test]'", file=sys.stderr)
        return 1
    for name, arguments in _STEPS:
        if not _passes(name, arguments):
            return 1
    print("tests", flush=True)
    return subprocess.run([sys.executable, *_TESTS], cwd=ROOT, stdin=subprocess.DEVNULL, check=False).returncode


def _passes(name: str, arguments: tuple[str, ...]) -> bool:
    """Runs one tool quietly; its output is shown only where it finds something."""
    started = time.monotonic()
    ran = subprocess.run(
        [sys.executable, *arguments],
        cwd=ROOT,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        check=False,
    )
    passed = ran.returncode == 0
    print(f"{name:8} {'ok' if passed else 'FAILED'} ({time.monotonic() - started:.1f} s)", flush=True)
    if not passed:
        print(ran.stdout, flush=True)
    return passed


if __name__ == "__main__":
    sys.exit(main())
