"""Times the form as its user meets it, in Chromium: the first page, each screen, an edit until its new answer shows.

    python -m tests.benchmarks.form [--edits N]

`shown` is what a user waits for, by the clock; `CPU` is what the form's server works meanwhile, the search included.
The brief is the small demo, which the form begins with. Never a test: times depend on the machine.
"""

import argparse
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

import psutil
from playwright.sync_api import BrowserContext

from tests.ui.browser import Watched, browsing, serving, watched
from ui.session import Screen


class Stopwatch:
    """Time by the clock, and that of the server that this process started."""

    def __init__(self) -> None:
        self._server = next(child for child in psutil.Process().children() if "form" in child.cmdline())
        self._begun, self._cpu = time.monotonic(), self._cpu_s()

    def tell(self, what: str) -> float:
        """Prints a line, and returns how long it took on the screen."""
        shown_s = time.monotonic() - self._begun
        print(f"{what:32} shown {shown_s:6.2f} s  CPU {self._cpu_s() - self._cpu:6.2f} s", flush=True)
        return shown_s

    def _cpu_s(self) -> float:
        spent = self._server.cpu_times()
        return float(spent.user + spent.system)


def main(arguments: Sequence[str] | None = None) -> int:
    """Measures on a server and a browser of its own, and prints as it goes."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.benchmarks.form",
        description=__doc__,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--edits", type=int, default=5, metavar="N", help="edits to time (default: 5)")
    edits = parser.parse_args(arguments).edits
    with TemporaryDirectory() as name, serving(Path(name)) as address, browsing() as browser:
        measure(browser, address, Path(name), edits)
    return 0


def measure(browser: BrowserContext, address: str, folder: Path, edits: int) -> None:
    """All of it, on a server that this process started."""
    for what in ("first page after the start", "first page, warm"):
        first_page(browser, address, what)
    with watched(browser, address, folder) as form:
        form.page.get_by_text("proven").first.wait_for()
        for screen in (*[one for one in Screen if one is not Screen.BRIEF], Screen.BRIEF):
            watch = Stopwatch()
            form.open_tab(screen)
            watch.tell(f"screen {screen}")
        form.open_tab("Room")
        waits = [edit(form, number) for number in range(edits)]
        print(f"{'median of the edits':32} shown {median(waits):6.2f} s", flush=True)


def first_page(browser: BrowserContext, address: str, what: str) -> None:
    """Until the brief's first inputs can be used."""
    page = browser.new_page()
    watch = Stopwatch()
    page.goto(address)
    page.get_by_role("button", name="See the options").wait_for()
    watch.tell(what)
    page.close()


def edit(form: Watched, number: int) -> float:
    """The room a little longer each time, which nobody asked before; until the new answer is called proven."""
    watch = Stopwatch()
    form.field("Length, m").fill(f"{4.81 + number / 100:.2f}")
    form.page.keyboard.press("Tab")
    form.page.get_by_text("looking for new ones").wait_for()
    form.page.get_by_text("options, proven").wait_for()
    waited = watch.tell(f"edit {number + 1}")
    form.settle()
    return waited


if __name__ == "__main__":
    sys.exit(main())
