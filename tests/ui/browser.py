"""The form in a real browser: one server and one Chromium for all tests, and pages that are watched for errors.

Every page is a window of its own, with its own work. What they share is what two windows of one
user share: the browser's stores and the server.
"""

import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from playwright.sync_api import BrowserContext, ConsoleMessage, Locator, Page, Request, WebSocket, sync_playwright

from tests.conftest import CHROMIUM

ROOT = Path(__file__).resolve().parents[2]
DESKTOP = (1280, 900)
TABLET = (1024, 1366)

_ARGUMENTS = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip
_UNFINISHED = '[data-testid="stSkeleton"]:visible'
_AT_REST = '[data-testid="stApp"][data-test-script-state="notRunning"]'
_PATIENCE_S = 60
_QUIET_S = 0.15
_LOOK_EVERY_MS = 30


@contextmanager
def serving(projects: Path) -> Iterator[str]:
    """The form on a free port of this machine, with its projects in a folder; its address."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    server = subprocess.Popen(
        [sys.executable, "-m", "planner", "form", "--port", str(port), "--projects", str(projects)],
        cwd=ROOT,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        _wait_for(f"http://127.0.0.1:{port}/_stcore/health", server)
        yield f"http://127.0.0.1:{port}"
    finally:
        server.terminate()
        server.wait(timeout=_PATIENCE_S)


def _wait_for(address: str, server: subprocess.Popen[bytes]) -> None:
    end = time.monotonic() + _PATIENCE_S
    while time.monotonic() < end and server.poll() is None:
        try:
            with urllib.request.urlopen(address, timeout=2):
                return
        except (urllib.error.URLError, TimeoutError):
            time.sleep(0.1)
    raise AssertionError("the form's server did not start")


@dataclass
class Watched:
    """A page, and what went wrong on it: console errors, and requests to other machines."""

    page: Page
    artefacts: Path
    errors: list[str] = field(default_factory=list)
    _last_word: float = 0.0
    _unanswered: bool = False

    def watch(self) -> None:
        """Begins to note errors, and when page and server last spoke to each other."""
        self.page.on("console", self._console)
        self.page.on("request", self._request)
        self.page.on("websocket", self._websocket)
        for event in ("request", "requestfinished", "requestfailed"):
            self.page.on(event, self._hear)

    def settle(self) -> None:
        """Waits until the script rests and nothing more is said, and looks for an exception on the screen."""
        self._hear()
        end = time.monotonic() + _PATIENCE_S
        while time.monotonic() < end:
            self.page.wait_for_timeout(_LOOK_EVERY_MS)
            quiet = not self._unanswered and time.monotonic() - self._last_word > _QUIET_S
            if quiet and self.page.locator(_AT_REST).count() and not self.page.locator(_UNFINISHED).count():
                break
        else:
            raise AssertionError("the form did not come to rest")
        assert self.page.locator('[data-testid="stException"]').count() == 0
        assert self.page.get_by_text("a fault of the planner's own").count() == 0

    def look(self, *, size: tuple[int, int] = DESKTOP, dark: bool = False) -> None:
        """Makes the window this large, and light or dark."""
        self.page.set_viewport_size({"width": size[0], "height": size[1]})
        self.page.emulate_media(color_scheme="dark" if dark else "light")

    def open_tab(self, name: str) -> None:
        self.page.get_by_role("tab", name=name, exact=True).locator("visible=true").first.click()
        self.settle()

    def click(self, name: str) -> None:
        self.page.get_by_role("button", name=name, exact=True).locator("visible=true").first.click()
        self.settle()

    def field(self, label: str) -> Locator:
        return self.page.locator(f'input[aria-label="{label}"]:visible').first

    def text(self) -> str:
        return self.page.locator('[data-testid="stMain"]').inner_text()

    def picture(self, name: str) -> None:
        """A picture of the whole screen, which Streamlit scrolls within itself."""
        width = (self.page.viewport_size or {"width": 0})["width"]
        self.page.screenshot(path=self.artefacts / f"{name}-{width}.png")

    def _hear(self, *_: object) -> None:
        self._last_word = time.monotonic()

    def _websocket(self, socket: WebSocket) -> None:
        socket.on("framesent", self._asked)
        socket.on("framereceived", self._answered)

    def _asked(self, _: object) -> None:
        self._unanswered = True

    def _answered(self, _: object) -> None:
        self._unanswered = False
        self._hear()

    def _console(self, message: ConsoleMessage) -> None:
        if message.type == "error":
            self.errors.append(message.text)

    def _request(self, request: Request) -> None:
        if not request.url.startswith(("http://127.0.0.1:", "ws://127.0.0.1:", "data:", "blob:")):
            self.errors.append(f"asked another machine: {request.url}")


@contextmanager
def browsing() -> Iterator[BrowserContext]:
    """One Chromium, which keeps what it loaded, for many pages."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, headless=True, args=list(_ARGUMENTS))
        try:
            yield browser.new_context(accept_downloads=True)
        finally:
            browser.close()


@contextmanager
def watched(
    browser: BrowserContext, address: str, artefacts: Path, size: tuple[int, int] = DESKTOP, *, dark: bool = False
) -> Iterator[Watched]:
    """A page of the form for a new user; at the end, nothing must have gone wrong on it."""
    form = Watched(page=browser.new_page(), artefacts=artefacts)
    form.look(size=size, dark=dark)
    form.watch()
    try:
        form.page.goto(address)
        form.page.get_by_role("tab", name="Brief", exact=True).wait_for(timeout=_PATIENCE_S * 1000)
        form.settle()
        yield form
    finally:
        form.page.close()
    assert form.errors == []


def load_example(form: Watched, words: str) -> None:
    """Has the brief begin with a demo brief."""
    form.page.get_by_role("combobox", name="Example brief").click()
    form.page.get_by_role("option", name=words).click()
    form.settle()
    form.click("Load the example")


def artefacts_folder(otherwise: Path) -> Path:
    """Where pictures go: the folder that PLANNER_ARTEFACTS names, else the one given."""
    folder = Path(os.environ.get("PLANNER_ARTEFACTS") or otherwise)
    folder.mkdir(parents=True, exist_ok=True)
    return folder
