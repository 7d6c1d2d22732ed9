"""The program as a shell sees it: pipes, letters, ports, and what it loads."""

import os
import pty
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path
from urllib.error import URLError

import pytest

from planner.cli import main

ROOT = Path(__file__).resolve().parents[2]
HEAVY = {"altair", "babel", "numpy", "openpyxl", "ortools", "pandas", "streamlit", "xlsxwriter"}


def environment(**more: str) -> dict[str, str]:
    return os.environ | {"PYTHONPATH": str(ROOT)} | more


def planner(*arguments: str, **more: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "planner", *arguments],
        env=environment(**more),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )


def test_nothing_heavy_is_loaded_before_it_is_needed() -> None:
    script = "import sys, planner.cli; print(*sys.modules)"
    ran = subprocess.run([sys.executable, "-c", script], env=environment(), capture_output=True, text=True, check=True)
    assert not HEAVY & set(ran.stdout.split())


def test_a_command_loads_no_other() -> None:
    script = "import sys; from planner.cli import main; main(['check', '-h']); print(*sys.modules)"
    ran = subprocess.run([sys.executable, "-c", script], env=environment(), capture_output=True, text=True, check=True)
    loaded = {name for name in ran.stdout.split() if name.startswith("planner.commands.")}
    assert "planner.commands.check" in loaded
    assert not {f"planner.commands.{name}" for name in ("options", "explain", "documents", "batch", "form")} & loaded


def test_options_are_found_without_pandas_which_can_be_loaded_later() -> None:
    script = (
        "import sys; from planner.cli import main\n"
        f"status = main(['options', {str(ROOT / 'catalogue_demo' / 'briefs' / 'stereo-one-sub.toml')!r}])\n"
        "print(status, *sys.modules, file=sys.stderr)\n"
        "import pandas; print(pandas.Series([1]).sum(), file=sys.stderr)"
    )
    ran = subprocess.run([sys.executable, "-c", script], env=environment(), capture_output=True, text=True, check=True)
    *loaded, total = ran.stderr.split()
    assert (loaded[0], total) == ("0", "1")
    assert HEAVY & set(loaded) == {"babel", "numpy", "ortools"}


def test_a_reader_that_goes_away_ends_the_run_quietly(tmp_path: Path) -> None:
    for n in range(2000):
        (tmp_path / f"{n:04}.toml").touch()
    process = subprocess.Popen(
        [sys.executable, "-m", "planner", "check", str(tmp_path)],
        env=environment(),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    assert process.stderr is not None
    process.stdout.readline()
    process.stdout.close()
    assert process.stderr.read() == ""
    process.stderr.close()
    assert process.wait(timeout=60) == 141  # 128 + SIGPIPE, the shell's convention


def test_a_terminal_that_lacks_a_letter_shows_a_stand_in(tmp_path: Path) -> None:
    path = tmp_path / "größe音.toml"
    path.touch()
    ran = planner("check", str(path), PYTHONIOENCODING="ascii")
    assert ran.returncode == 1
    assert "gr\\xf6\\xdfe\\u97f3.toml" in ran.stdout
    assert ran.stderr == ""


def heed_interrupts() -> None:
    """A shell's background job is started deaf to them, and so would be what it starts."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def test_a_stop_by_hand_in_the_midst_of_the_search_is_quiet() -> None:
    brief = ROOT / "catalogue_demo" / "briefs" / "cinema-7-1-4-four-mixed-subs.toml"
    terminal, its_end = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "planner", "options", str(brief)],
        env=environment(),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=its_end,
        preexec_fn=heed_interrupts,
    )
    os.close(its_end)
    shown = b""
    while b"proving" not in shown:
        shown += os.read(terminal, 1000)
    process.send_signal(signal.SIGINT)
    assert process.wait(timeout=60) == 130  # 128 + SIGINT
    shown += os.read(terminal, 1000)
    os.close(terminal)
    assert shown.endswith(b"planner: stopped.\r\n")


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def answers(url: str, patience_s: float = 60) -> bool:
    until = time.monotonic() + patience_s
    while time.monotonic() < until:
        try:
            with urllib.request.urlopen(url, timeout=5) as response:
                return bool(response.status == 200)
        except URLError:
            time.sleep(0.2)
    return False


def test_the_form_is_served_on_this_machine_until_it_is_stopped() -> None:
    port = free_port()
    process = subprocess.Popen(
        [sys.executable, "-m", "planner", "form", "--port", str(port)],
        env=environment(),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    try:
        assert answers(f"http://127.0.0.1:{port}/_stcore/health")
        process.send_signal(signal.SIGINT)
        out, _ = process.communicate(timeout=60)
    finally:
        process.kill()
        process.wait()
    assert process.returncode == 0
    assert f"http://127.0.0.1:{port}" in out
    assert "Traceback" not in out


def test_a_port_in_use_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        assert main(["form", "--port", str(port)]) == 2
    assert f"port {port} is in use" in capsys.readouterr().err


def test_a_missing_streamlit_is_told_with_the_remedy(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("importlib.util.find_spec", lambda name: None)
    assert main(["form", "--port", str(free_port())]) == 2
    err = capsys.readouterr().err
    assert "needs Streamlit" in err
    assert "pip install" in err
