"""Work in processes: one that dies or hangs costs its own task and no other."""

import os
import time

import pytest

from planner.batch.processes import Died, Overdue, usable_cores, worked
from tests.batch.trouble import troubled

LONG_S = 600.0


def test_a_process_that_dies_costs_its_own_task_only() -> None:
    tasks = ["one", "killed", "two", "gone", "three"]
    ended = dict(worked(tasks, troubled, processes=2, most_s=LONG_S))
    assert set(ended) == set(tasks)
    assert ended["killed"] == Died("its process was ended by SIGKILL")
    assert ended["gone"] == Died("its process ended with status 3")
    assert all(str(ended[task]).startswith(f"{task} by ") for task in ("one", "two", "three"))


def test_a_process_goes_on_with_the_next_task() -> None:
    tasks = [f"task {n}" for n in range(20)]
    ended = dict(worked(tasks, troubled, processes=2, most_s=LONG_S))
    assert set(ended) == set(tasks)
    assert len({str(ending).split()[-1] for ending in ended.values()}) <= 2


def test_a_process_that_hangs_is_ended() -> None:
    ended = list(worked(["hangs"], troubled, processes=1, most_s=0.3))
    assert ended == [("hangs", Overdue())]


def test_who_asks_for_no_more_ends_all_processes() -> None:
    work = worked(["one", "hangs"], troubled, processes=2, most_s=LONG_S)
    task, ending = next(work)
    assert task == "one"
    pid = int(str(ending).split()[-1])
    started = time.monotonic()
    work.close()
    assert time.monotonic() - started < 60  # the other would sleep for ten minutes
    with pytest.raises(ProcessLookupError):
        os.kill(pid, 0)


def test_nothing_to_do_starts_nothing() -> None:
    assert list(worked([], troubled, processes=2, most_s=LONG_S)) == []


def test_there_is_a_core_to_use() -> None:
    assert 1 <= usable_cores() <= (os.cpu_count() or 1)
