"""A folder of papers: whole or not at all, and never over what is somebody else's."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from planner.documents import folder as module
from planner.documents.archive import archive
from planner.documents.folder import refuse_folder, write_folder
from planner.documents.paper import Paper
from planner.errors import WrongUsage
from tests.test_architecture import ROOT

OLD, NEW = ((Paper(name="a.txt", media_type="text/plain", content=text), *(
    Paper(name=f"{n}.bin", media_type="text/plain", content=text * 50_000) for n in range(8)
)) for text in (b"old", b"new"))  # fmt: skip
NAMES = tuple(paper.name for paper in OLD)


def held(path: Path) -> set[bytes]:
    """The first letters of every file, where all of a set are there."""
    assert {entry.name for entry in path.iterdir()} == set(NAMES)
    return {entry.read_bytes()[:3] for entry in path.iterdir()}


def test_a_new_folder_holds_every_paper_and_nothing_is_left_beside_it(tmp_path: Path) -> None:
    write_folder(tmp_path / "set", OLD)
    assert held(tmp_path / "set") == {b"old"}
    assert [entry.name for entry in tmp_path.iterdir()] == ["set"]


@pytest.mark.parametrize("at_once", [True, False])
def test_an_old_folder_is_replaced(at_once: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    if not at_once:
        monkeypatch.setattr(module, "_exchanged", lambda one, other: False)
    write_folder(tmp_path / "set", OLD)
    write_folder(tmp_path / "set", NEW)
    assert held(tmp_path / "set") == {b"new"}
    assert [entry.name for entry in tmp_path.iterdir()] == ["set"]


def test_a_full_disk_leaves_the_old_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write_folder(tmp_path / "set", OLD)
    written: list[Path] = []

    def full(path: Path, content: bytes) -> None:
        if len(written) == 3:
            raise OSError(28, "No space left on device")
        written.append(path)

    monkeypatch.setattr(module, "_write", full)
    with pytest.raises(OSError, match="No space left"):
        write_folder(tmp_path / "set", NEW)
    assert held(tmp_path / "set") == {b"old"}
    assert [entry.name for entry in tmp_path.iterdir()] == ["set"]


KILLED = """
import sys
from pathlib import Path
from planner.documents.folder import write_folder
from planner.documents.paper import Paper
names = ["a.txt", *(f"{n}.bin" for n in range(8))]
new = [Paper(name=name, media_type="text/plain", content=b"new" * 50_000) for name in names]
print("ready", flush=True)
while True:
    write_folder(Path(sys.argv[1]), new)
"""


def test_a_run_killed_at_any_moment_leaves_the_old_folder_whole_or_the_new_one(tmp_path: Path) -> None:
    target = tmp_path / "set"
    for after_ms in (0, 2, 3, 5):
        write_folder(target, OLD)
        with subprocess.Popen(
            [sys.executable, "-c", KILLED, str(target)],
            stdout=subprocess.PIPE,
            env=os.environ | {"PYTHONPATH": str(ROOT)},
        ) as process:
            assert process.stdout is not None
            process.stdout.readline()
            time.sleep(after_ms / 1000)
            process.send_signal(signal.SIGKILL)
        assert held(target) in ({b"old"}, {b"new"})


def test_an_existing_folder_is_refused(tmp_path: Path) -> None:
    write_folder(tmp_path / "set", OLD)
    with pytest.raises(WrongUsage, match="exists already, and nothing in it was touched"):
        refuse_folder(tmp_path / "set", replace=False, ours=NAMES)
    refuse_folder(tmp_path / "set", replace=True, ours=NAMES)


def test_a_folder_that_holds_anything_else_is_not_replaced(tmp_path: Path) -> None:
    write_folder(tmp_path / "set", OLD)
    (tmp_path / "set" / "notes.txt").write_text("mine")
    with pytest.raises(WrongUsage, match=r"no paper of the planner's: notes\.txt"):
        refuse_folder(tmp_path / "set", replace=True, ours=NAMES)


@pytest.mark.parametrize(
    ("where", "said"),
    [("none/set", "the folder above it does not exist"), ("file", "it is no folder"), ("link", "it is no folder")],
)
def test_what_is_no_place_for_a_folder_is_refused(where: str, said: str, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(WrongUsage, match=said):
        refuse_folder(tmp_path / where, replace=True, ours=NAMES)


def test_an_archive_of_the_same_papers_has_the_same_bytes() -> None:
    from datetime import date
    from io import BytesIO
    from zipfile import ZipFile

    day = date(2026, 11, 9)
    assert archive(OLD, day) == archive(OLD, day)
    with ZipFile(BytesIO(archive(OLD, day))) as file:
        assert file.testzip() is None
        assert {name: file.read(name) for name in file.namelist()} == {paper.name: paper.content for paper in OLD}
        assert {entry.date_time[:3] for entry in file.infolist()} == {(2026, 11, 9)}
