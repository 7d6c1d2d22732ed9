"""A batch on a local cluster: a scheduler and two workers, each a process of its own, as on other machines."""

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from planner.batch.cluster import worked_on_cluster
from planner.batch.processes import Died
from planner.batch.records import Told
from planner.cli import main
from planner.errors import WrongUsage
from tests.batch.far_hands import Deadly, Noting
from tests.batch.folders import QUICK, demo_text, fill, outcomes, results
from tests.plan.demo import DEMO
from tests.test_architecture import ROOT

pytest.importorskip("distributed", reason="work on a cluster is not installed: pip install -e '.[cluster]'")

LONG_S = 600.0


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A scheduler without workers."""
    told = tmp_path_factory.mktemp("cluster") / "scheduler.json"
    with running("scheduler", "--host", "127.0.0.1", "--port", "0", "--no-dashboard", "--scheduler-file", str(told)):
        yield json.loads(awaited(told))["address"]


@contextmanager
def running(what: str, *arguments: str) -> Iterator["subprocess.Popen[bytes]"]:
    """A scheduler or worker; ended at the end."""
    process = subprocess.Popen(
        [sys.executable, "-m", f"distributed.cli.dask_{what}", *arguments],
        env=os.environ | {"PYTHONPATH": str(ROOT), "DASK_DISTRIBUTED__SCHEDULER__ALLOWED_FAILURES": "0"},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        yield process
    finally:
        process.kill()
        process.wait()


@contextmanager
def worker(address: str, folder: Path) -> Iterator["subprocess.Popen[bytes]"]:
    """A worker that nobody starts again."""
    arguments = ("--nthreads", "1", "--no-nanny", "--no-dashboard", "--local-directory", str(folder))
    with running("worker", address, *arguments) as process:
        yield process


def awaited(file: Path) -> str:
    until = time.monotonic() + LONG_S
    while time.monotonic() < until:
        if file.exists() and (text := file.read_text(encoding="utf-8")):
            return text
        time.sleep(0.05)
    raise AssertionError(f"{file} did not come")


def test_the_command_answers_on_a_cluster_what_it_answers_here(address: str, tmp_path: Path) -> None:
    briefs = fill(tmp_path / "b", a=demo_text(QUICK), bad="")
    out = tmp_path / "out"
    with worker(address, tmp_path / "w"):
        assert batch(briefs, out, "--cluster", address) == 1
    assert outcomes(out) == {"a": "proven", "bad": "bad_input"}
    alone = tmp_path / "alone"
    alone.mkdir()
    main(["options", str(briefs / "a.toml"), "--catalogue", str(DEMO), "--json", str(alone / "a.json")])
    assert results(out) == results(alone)


def batch(briefs: Path, out: Path, *more: str) -> int:
    return main(["batch", str(briefs), "--out", str(out), "--catalogue", str(DEMO), "--time-limit", "600", *more])


def test_a_worker_killed_in_the_middle_loses_nothing_and_nothing_is_done_twice(address: str, tmp_path: Path) -> None:
    names = [f"room-{number}" for number in range(10)]
    paths = sorted(fill(tmp_path / "b", **{name: f"the text of {name}" for name in names}).iterdir())
    log = tmp_path / "log"
    with worker(address, tmp_path / "w1") as doomed, worker(address, tmp_path / "w2"):
        work = worked_on_cluster(paths, Noting(log, 0.3), address=address, most_s=LONG_S)
        ended = [next(work)]
        while f"{doomed.pid}\n" not in log.read_text(encoding="utf-8"):  # until both have come and are at work
            ended.append(next(work))
        doomed.send_signal(signal.SIGKILL)
        ended += work
    assert sorted(path for path, _ in ended) == paths  # each once
    for path, told in ended:
        assert isinstance(told, Told)
        assert told.words == (f"the text of {path.stem}",)
    notes = [line.split() for line in log.read_text(encoding="utf-8").splitlines()]
    assert sorted(name for what, name, _ in notes if what == "ends") == names
    assert len({pid for _, _, pid in notes}) == 2


def test_a_brief_that_kills_its_workers_stops_no_other(address: str, tmp_path: Path) -> None:
    paths = sorted(fill(tmp_path / "b", deadly="", other="text").iterdir())
    with worker(address, tmp_path / "w1"), worker(address, tmp_path / "w2"), worker(address, tmp_path / "w3"):
        work = worked_on_cluster(paths, Deadly(tmp_path / "log", 0.0), address=address, most_s=LONG_S)
        ended = {path.stem: ending for path, ending in work}
    assert ended["deadly"] == Died("its workers died")
    assert isinstance(ended["other"], Told)


def test_no_cluster_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("planner.batch.cluster._PATIENCE_S", 0.2)
    briefs = fill(tmp_path / "b", a="")
    assert batch(briefs, tmp_path / "out", "--cluster", "tcp://127.0.0.1:1") == 2
    assert "no scheduler of a cluster answers at tcp://127.0.0.1:1" in capsys.readouterr().err


def test_a_cluster_without_workers_is_told(address: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("planner.batch.cluster._PATIENCE_S", 2.0)
    paths = sorted(fill(tmp_path / "b", a="").iterdir())
    with pytest.raises(WrongUsage, match="has no worker"):
        list(worked_on_cluster(paths, Noting(tmp_path / "log", 0.0), address=address, most_s=LONG_S))
