"""The command on small demo briefs: each told as what it is, a kill loses nothing, nothing is done twice."""

import json
import os
import pty
import re
import signal
import subprocess
import sys
import time
from functools import partial
from multiprocessing import active_children
from pathlib import Path

import pytest

from planner.batch.processes import worked
from planner.batch.run import run_batch
from planner.batch.store import Store
from planner.cli import main
from tests.batch.folders import QUICK, demo_text, fill, impossible, outcomes, results
from tests.batch.hands import Troubled
from tests.plan.demo import DEMO, demo_catalogue, demo_house
from tests.test_architecture import ROOT


def batch(briefs: Path, out: Path, *more: str) -> int:
    return main(["batch", str(briefs), "--out", str(out), "--catalogue", str(DEMO), "--time-limit", "600", *more])


def stamps(out: Path) -> dict[str, int]:
    return {path.stem: path.stat().st_mtime_ns for path in out.glob("*.json")}


def test_each_brief_is_told_as_what_it_is_and_stops_no_other(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    briefs = fill(tmp_path / "b", bad='layout = "9.9"', good=demo_text(QUICK), none=impossible(), empty="")
    (briefs / "house.toml").write_bytes((DEMO / "house.toml").read_bytes())  # no brief, and not taken for one
    assert batch(briefs, tmp_path / "out") == 1  # bad input is graver than no design
    said = capsys.readouterr()
    assert said.err == ""  # no terminal, no progress
    assert outcomes(tmp_path / "out") == {
        "bad": "bad_input", "empty": "bad_input", "good": "proven", "none": "infeasible",
    }  # fmt: skip
    assert 'bad.toml layout: found "9.9"' in said.out
    assert "4 briefs: 1 proven, 1 no valid design, 2 bad input." in said.out

    # The same as the command for one brief writes.
    alone = tmp_path / "alone"
    alone.mkdir()
    main(["options", str(briefs / "good.toml"), "--catalogue", str(DEMO), "--json", str(alone / "good.json")])
    assert results(tmp_path / "out")["good"] == results(alone)["good"]

    # Mended and run again: what was answered stands, what is new or other is answered.
    before, workbook = stamps(tmp_path / "out"), (tmp_path / "out" / "summary.xlsx").read_bytes()
    (briefs / "bad.toml").unlink()
    (briefs / "empty.toml").unlink()
    fill(briefs, none=demo_text(QUICK))
    assert batch(briefs, tmp_path / "out") == 0
    assert stamps(tmp_path / "out")["good"] == before["good"]
    assert results(tmp_path / "out")["none"] == results(tmp_path / "out")["good"]
    assert (tmp_path / "out" / "summary.xlsx").read_bytes() != workbook


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGINT])
def test_a_run_that_is_stopped_in_the_middle_is_gone_on_with(how: signal.Signals, tmp_path: Path) -> None:
    briefs = fill(tmp_path / "b", a=demo_text(QUICK), b=demo_text(QUICK))
    out = tmp_path / "out"
    terminal, its_end = pty.openpty()
    arguments = ("batch", str(briefs), "--out", str(out), "--catalogue", str(DEMO), "--processes", "1")
    process = subprocess.Popen(
        [sys.executable, "-m", "planner", *arguments],
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=its_end,
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
        start_new_session=True,
    )
    os.close(its_end)
    shown = b""
    while b"1 of 2 briefs done" not in shown:
        shown += os.read(terminal, 1000)
    workers = children(process.pid)
    os.killpg(process.pid, how) if how is signal.SIGINT else process.kill()  # Ctrl-C reaches all, a kill only one
    assert process.wait(timeout=60) == (130 if how is signal.SIGINT else -how)
    os.close(terminal)
    assert workers
    assert all(ends(pid) for pid in workers)

    assert set(stamps(out)) == {"a"}
    assert not (out / "summary.xlsx").exists()
    if how is signal.SIGINT:
        return
    before, first = stamps(out), results(out)["a"]
    assert batch(briefs, out) == 0
    assert set(stamps(out)) == {"a", "b"}
    assert stamps(out)["a"] == before["a"]
    assert results(out)["a"] == first
    assert not [path for path in out.rglob("*") if path.name.startswith(".")]

    # A whole run at one go says the same.
    assert batch(briefs, tmp_path / "anew") == 0
    assert results(tmp_path / "anew") == results(out)
    assert (tmp_path / "anew" / "summary.xlsx").read_bytes() == (out / "summary.xlsx").read_bytes()


def children(pid: int) -> list[int]:
    return [int(child) for child in Path(f"/proc/{pid}/task/{pid}/children").read_text().split()]


def ends(pid: int) -> bool:
    """Whether a process, nobody's child any more, is gone before long."""
    until = time.monotonic() + 30
    while time.monotonic() < until:
        try:
            state = re.sub(r"^.*\) ", "", Path(f"/proc/{pid}/stat").read_text())[0]
        except OSError:
            return True
        if state == "Z":  # ended; whoever reaps it does so in its own time
            return True
        time.sleep(0.05)
    return False


def test_a_bug_or_a_crash_in_one_brief_stops_no_other(tmp_path: Path) -> None:
    briefs = fill(tmp_path / "b", a=demo_text(QUICK), killed=demo_text(QUICK), raises=demo_text(QUICK))
    answering = Troubled(catalogue=demo_catalogue(), house=demo_house(), shared="", time_limit_s=600.0)
    with Store(tmp_path / "out").opened() as store:
        rooms = run_batch(sorted(briefs.iterdir()), answering, store, engine=partial(worked, processes=1))
    words = {room.brief: " ".join(room.words) for room in rooms}
    assert outcomes(tmp_path / "out") == {"a": "proven", "killed": "bug", "raises": "bug"}
    assert "ended by SIGKILL in the midst of the work" in words["killed"]
    assert "ZeroDivisionError: a planted bug calls: answering.py" in words["raises"]
    assert set(results(tmp_path / "out")) == {"a"}


def test_time_that_ran_out_is_told_and_not_tried_again_with_no_more_time(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    briefs = fill(tmp_path / "b", a=demo_text(QUICK))
    assert batch(briefs, tmp_path / "out", "--time-limit", "0.001") == 4
    assert "a: time ran out" in capsys.readouterr().out
    assert json.loads(results(tmp_path / "out")["a"])["status"] == "partial"
    before = stamps(tmp_path / "out")
    assert batch(briefs, tmp_path / "out", "--time-limit", "0.001") == 4
    assert stamps(tmp_path / "out") == before


def test_what_all_briefs_share_is_told_before_any_work(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    briefs = fill(tmp_path / "b", a=demo_text(QUICK))
    assert main(["batch", str(briefs), "--out", str(tmp_path / "o"), "--catalogue", str(tmp_path / "no")]) == 1
    assert "no such file or folder" in capsys.readouterr().err
    assert main(["batch", str(briefs), "--out", str(tmp_path / "o")]) == 2
    assert "Name one with --catalogue DIR" in capsys.readouterr().err
    assert batch(tmp_path / "none", tmp_path / "o") == 2
    assert "is no folder" in capsys.readouterr().err
    assert batch(DEMO, tmp_path / "o") == 2
    assert "holds no brief" in capsys.readouterr().err
    assert not (tmp_path / "o").exists()


def test_a_result_that_cannot_be_written_is_told_and_ends_the_work(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("planner.batch.store.write_atomically", full)
    briefs = fill(tmp_path / "b", a="", b="")
    assert batch(briefs, tmp_path / "out") == 2
    assert "No space left on device" in capsys.readouterr().err
    assert not active_children()
