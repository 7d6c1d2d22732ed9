"""The store of projects: every version kept whole, undo and redo, two windows, a crash, a damaged file."""

import math
import multiprocessing
import os
import sqlite3
import threading
from dataclasses import replace
from pathlib import Path

import pytest

from planner.brief import parse_brief, read_brief
from planner.errors import BadInput
from planner.projects import Demo, Files, Folder, ProjectStore, Superseded, Work
from planner.projects.store import FILE, MOST_VERSIONS

DEMO = Path(__file__).resolve().parents[2] / "catalogue_demo"
BRIEF = read_brief(DEMO / "briefs" / "small-5-1-2-two-subs.toml")
FIRST = Work(brief=BRIEF, gear=Demo())


def named(name: str, work: Work = FIRST) -> Work:
    return replace(work, brief=replace(work.brief, project=replace(work.brief.project, name=name)))


@pytest.fixture
def store(tmp_path: Path) -> ProjectStore:
    return ProjectStore(tmp_path / "not" / "there" / "yet")


@pytest.mark.parametrize(
    "gear", [Demo(), Folder("D:/gear/\u00e4"), Files.of([("b.csv", b"1"), ("a.csv", b"\x00\xff")])], ids=repr
)
def test_what_is_kept_comes_back_as_it_was(store: ProjectStore, gear: Demo | Folder | Files) -> None:
    made = store.create(Work(brief=BRIEF, gear=gear))
    found = ProjectStore(store.folder).open(made.project)
    assert found == made
    assert found is not None
    assert found.work == Work(brief=BRIEF, gear=gear)


@pytest.mark.parametrize(
    "spoilt",
    [
        replace(BRIEF, room=replace(BRIEF.room, length_m=0.2)),
        replace(BRIEF, layout="no such layout"),
        replace(BRIEF, project=replace(BRIEF.project, name="", currency="euro")),
        replace(BRIEF, seats=()),
    ],
    ids=["room", "layout", "project", "seats"],
)
def test_a_brief_that_is_not_sound_yet_is_kept_all_the_same(store: ProjectStore, spoilt: object) -> None:
    assert isinstance(spoilt, type(BRIEF))
    found = store.open(store.create(Work(brief=spoilt, gear=Demo())).project)
    assert found is not None
    assert found.work.brief == spoilt


def test_an_empty_cell_is_still_empty(store: ProjectStore) -> None:
    spoilt = replace(BRIEF, room=replace(BRIEF.room, width_m=math.nan))
    found = store.open(store.create(Work(brief=spoilt, gear=Demo())).project)
    assert found is not None
    assert math.isnan(found.work.brief.room.width_m)


def test_versions_are_kept_as_briefs_that_the_command_reads(store: ProjectStore) -> None:
    store.create(FIRST)
    with sqlite3.connect(store.folder / FILE) as db:
        ((toml,),) = db.execute("SELECT brief_toml FROM versions").fetchall()
    assert parse_brief(toml) == BRIEF


def test_undo_and_redo_go_through_the_versions_and_a_change_ends_what_was_undone(store: ProjectStore) -> None:
    kept = store.create(FIRST)
    assert (kept.can_undo, kept.can_redo) == (False, False)
    for name in ("one", "two"):
        kept = store.save(kept.project, named(name), after=kept.number)
    kept = store.undo(kept.project, after=kept.number)
    assert (kept.work, kept.can_undo, kept.can_redo) == (named("one"), True, True)
    kept = store.undo(kept.project, after=kept.number)
    assert (kept.work, kept.can_undo, kept.can_redo) == (FIRST, False, True)
    assert store.undo(kept.project, after=kept.number) == kept
    kept = store.redo(kept.project, after=kept.number)
    assert kept.work == named("one")
    kept = store.save(kept.project, named("three"), after=kept.number)
    assert not kept.can_redo
    assert store.undo(kept.project, after=kept.number).work == named("one")


def test_of_two_windows_the_second_is_told_and_overwrites_nothing(store: ProjectStore) -> None:
    kept = store.create(FIRST)
    store.save(kept.project, named("theirs"), after=kept.number)
    with pytest.raises(Superseded):
        store.save(kept.project, named("mine"), after=kept.number)
    for step in (store.undo, store.redo):
        with pytest.raises(Superseded):
            step(kept.project, after=kept.number)
    found = store.open(kept.project)
    assert found is not None
    assert found.work == named("theirs")


def test_projects_never_mix(store: ProjectStore) -> None:
    mine, yours = store.create(named("mine")), store.create(named("yours"))
    store.save(mine.project, named("mine, changed"), after=mine.number)
    found = store.open(yours.project)
    assert found == yours
    assert [one.name for one in store.projects()] == ["mine, changed", "yours"], "the last changed comes first"


def test_a_copy_is_a_project_of_its_own(store: ProjectStore) -> None:
    kept = store.create(named("first"))
    copied = store.copy(kept.project)
    assert copied is not None
    assert copied.work == kept.work
    store.save(copied.project, named("second"), after=copied.number)
    assert store.open(kept.project) == kept
    assert store.copy("no such project") is None


def test_a_project_put_away_is_listed_apart_and_only_then_deleted(store: ProjectStore) -> None:
    kept = store.create(named("old"))
    store.delete(kept.project)
    assert store.open(kept.project) is not None, "only what was put away can be deleted"
    store.archive(kept.project)
    assert store.projects() == ()
    assert [one.name for one in store.projects(archived=True)] == ["old"]
    store.archive(kept.project, away=False)
    assert len(store.projects()) == 1
    store.archive(kept.project)
    store.delete(kept.project)
    assert store.open(kept.project) is None


def contents(store: ProjectStore) -> int:
    with sqlite3.connect(store.folder / FILE) as db:
        (count,) = db.execute("SELECT count(*) FROM contents").fetchone()
    return int(count)


def test_files_of_gear_are_kept_once_and_go_with_the_last_version_that_has_them(store: ProjectStore) -> None:
    files = [(f"{name}.csv", name.encode()) for name in "abc"]
    kept = store.create(Work(brief=BRIEF, gear=Files.of(files)))
    changed = Work(brief=BRIEF, gear=Files.of([*files[1:], ("a.csv", b"another price")]))
    kept = store.save(kept.project, changed, after=kept.number)
    assert contents(store) == 4
    kept = store.undo(kept.project, after=kept.number)
    kept = store.save(kept.project, named("other", kept.work), after=kept.number)
    assert contents(store) == 3
    store.archive(kept.project)
    store.delete(kept.project)
    assert contents(store) == 0


def test_the_oldest_versions_go_when_there_are_very_many(store: ProjectStore, monkeypatch: pytest.MonkeyPatch) -> None:
    assert MOST_VERSIONS >= 100
    monkeypatch.setattr("planner.projects.store.MOST_VERSIONS", 3)
    kept = store.create(FIRST)
    for number in range(5):
        kept = store.save(kept.project, named(str(number)), after=kept.number)
    assert store.projects()[0].versions == 3
    assert kept.work == named("4")


def _crash(folder: Path, project: str, number: int) -> None:
    """Dies within the transaction, as a machine without current would."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("planner.projects.store._label", lambda *_: os._exit(9))
        ProjectStore(folder).save(project, named("half"), after=number)


def test_a_crash_in_the_middle_leaves_the_version_before(store: ProjectStore) -> None:
    kept = store.create(FIRST)
    process = multiprocessing.get_context("spawn").Process(
        target=_crash, args=(store.folder, kept.project, kept.number)
    )
    process.start()
    process.join(60)
    assert process.exitcode == 9
    assert store.open(kept.project) == kept
    assert store.save(kept.project, named("whole"), after=kept.number).work == named("whole")


def test_windows_that_save_at_once_wait_for_each_other(store: ProjectStore) -> None:
    projects = [store.create(named(str(n))) for n in range(4)]
    failures: list[Exception] = []

    def edit(kept: object) -> None:
        assert isinstance(kept, type(projects[0]))
        try:
            for step in range(5):
                kept = store.save(kept.project, named(f"{step}", kept.work), after=kept.number)
        except Exception as error:
            failures.append(error)

    threads = [threading.Thread(target=edit, args=(kept,)) for kept in projects]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(60)
    assert failures == []
    assert {one.versions for one in store.projects()} == {6}


def test_a_file_that_is_none_is_told_with_a_remedy(tmp_path: Path) -> None:
    (tmp_path / FILE).write_bytes(b"no database" * 100)
    with pytest.raises(BadInput, match=r"projects\.sqlite: found a file that cannot be used .* can be put aside"):
        ProjectStore(tmp_path).projects()
    assert (tmp_path / FILE).read_bytes().startswith(b"no database"), "it is left as it was"


def test_a_folder_that_is_none_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(BadInput, match="a folder that cannot be used"):
        ProjectStore(tmp_path / "file").projects()


def test_a_file_of_a_later_version_is_left_alone(store: ProjectStore) -> None:
    store.create(FIRST)
    with sqlite3.connect(store.folder / FILE) as db:
        db.execute("PRAGMA user_version = 99")
    with pytest.raises(BadInput, match="later version"):
        store.projects()


def test_a_supplier_s_mapping_is_remembered(store: ProjectStore) -> None:
    assert store.mappings() == {}
    store.remember_mapping("Tallow & Sons", {"sku": "Art.-Nr."})
    store.remember_mapping("Tallow & Sons", {"sku": "Artikel"})
    assert store.mappings() == {"Tallow & Sons": {"sku": "Artikel"}}
