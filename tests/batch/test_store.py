"""What a batch keeps: whole, for as long as it answers today's input, and never over what is somebody else's."""

from dataclasses import replace
from pathlib import Path

import pytest

from planner.batch.keys import brief_key, shared_key
from planner.batch.records import Outcome, Told
from planner.batch.store import Store
from planner.errors import WrongUsage

TOLD = Told(brief="room", key="k1", outcome=Outcome.PROVEN, words=("größe",), result='{"status": "proven"}\n')


def keep(folder: Path, told: Told, time_limit_s: float = 60.0) -> Store:
    store = Store(folder)
    with store.opened():
        store.keep(told, time_limit_s)
    return store


def test_what_is_kept_comes_back(tmp_path: Path) -> None:
    assert keep(tmp_path / "out", TOLD).kept("room", "k1", 60.0) == TOLD


@pytest.mark.parametrize(
    "told",
    [
        replace(TOLD, key="k2"),
        replace(TOLD, outcome=Outcome.BUG, result=None),
        replace(TOLD, outcome=Outcome.BAD_INPUT, result=None),
        replace(TOLD, outcome=Outcome.OVERDUE, result=None),
    ],
    ids=lambda told: f"{told.key} {told.outcome}",
)
def test_what_does_not_answer_is_done_again(told: Told, tmp_path: Path) -> None:
    assert keep(tmp_path / "out", told).kept("room", "k1", 60.0) is None


def test_an_answer_cut_short_is_kept_until_more_time_is_given(tmp_path: Path) -> None:
    cut = replace(TOLD, outcome=Outcome.PARTIAL)
    store = keep(tmp_path / "out", cut, 60.0)
    assert store.kept("room", "k1", 60.0) == cut
    assert store.kept("room", "k1", 30.0) == cut
    assert store.kept("room", "k1", 61.0) is None
    assert keep(tmp_path / "other", TOLD, 60.0).kept("room", "k1", 61.0) == TOLD


@pytest.mark.parametrize("name", ["room.json", "records/room.json"])
@pytest.mark.parametrize("content", [None, b"", b"{}", b'{"status": "pro', b"\xff\xfe"])
def test_a_spoiled_file_counts_as_not_there(name: str, content: bytes | None, tmp_path: Path) -> None:
    store = keep(tmp_path / "out", TOLD)
    if content is None:
        (tmp_path / "out" / name).unlink()
    else:
        (tmp_path / "out" / name).write_bytes(content)
    assert store.kept("room", "k1", 60.0) is None


def test_the_halves_of_a_killed_run_are_cleared(tmp_path: Path) -> None:
    keep(tmp_path / "out", TOLD)
    half = tmp_path / "out" / ".room.json.1.part"
    half.write_text("{")
    with Store(tmp_path / "out").opened():
        assert not half.exists()


def test_a_folder_that_holds_something_else_is_refused(tmp_path: Path) -> None:
    (tmp_path / "room.json").write_text("mine")
    with pytest.raises(WrongUsage, match="something other than a batch"), Store(tmp_path).opened():
        pass
    assert [entry.name for entry in tmp_path.iterdir()] == ["room.json"]


def test_a_file_or_what_cannot_be_written_is_refused(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine")
    with pytest.raises(WrongUsage, match="it is no folder"), Store(tmp_path / "file").opened():
        pass
    with pytest.raises(WrongUsage, match="cannot write results"), Store(tmp_path / "file" / "out").opened():
        pass


def test_a_second_batch_is_kept_out_while_the_first_is_at_work(tmp_path: Path) -> None:
    first, second = Store(tmp_path / "out"), Store(tmp_path / "out")
    with first.opened(), pytest.raises(WrongUsage, match="another batch is writing"), second.opened():
        pass
    with Store(tmp_path / "out").opened():
        pass


def test_a_key_tells_every_input_apart(tmp_path: Path) -> None:
    (tmp_path / "a.csv").write_bytes(b"1")
    (tmp_path / "house.toml").write_bytes(b"h")
    house = tmp_path / "house.toml"

    def key(brief: bytes = b"brief") -> str:
        return brief_key(brief, shared_key(tmp_path, house))

    keys = [key(), key(b"brief2")]
    house.write_bytes(b"h2")
    keys.append(key())
    (tmp_path / "a.csv").write_bytes(b"2")
    keys.append(key())
    (tmp_path / "a.csv").rename(tmp_path / "b.csv")
    keys.append(key())
    (tmp_path / "notes.txt").write_bytes(b"no part of a catalogue")
    assert key() == keys[-1]
    assert len(set(keys)) == len(keys)
