"""The store on disk: bounded, whole or not at all, and never in the way."""

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from planner.kept.memory import Memory

NOISE = bytes(range(256)) * 4


def kept(memory: Memory, keys: str) -> str:
    return "".join(key for key in keys if memory.recall(key) is not None)


def test_what_was_kept_is_recalled_by_another(tmp_path: Path) -> None:
    Memory(tmp_path / "deep" / "file").keep("a", b"one")
    Memory(tmp_path / "deep" / "file").keep("a", b"two")
    assert Memory(tmp_path / "deep" / "file").recall("a") == b"two"
    assert Memory(tmp_path / "deep" / "file").recall("b") is None


def test_what_was_not_used_for_longest_goes_first(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    memory, day = Memory(tmp_path / "file", most_bytes=1200), 86_400.0
    for now, key in enumerate("abcd"):
        monkeypatch.setattr("planner.kept.memory.time", lambda now=now: now * day)
        memory.keep(key, NOISE)
    monkeypatch.setattr("planner.kept.memory.time", lambda: 9 * day)
    assert memory.recall("a") == NOISE
    memory.keep("e", NOISE)
    assert kept(memory, "abcde") == "ade"[-len(kept(memory, "abcde")) :]
    assert "e" in kept(memory, "abcde")
    assert "b" not in kept(memory, "abcde")


@pytest.mark.parametrize("content", [b"no database at all, but long enough to be one" * 50, b""])
def test_a_damaged_file_is_begun_anew(content: bytes, tmp_path: Path) -> None:
    file = tmp_path / "file"
    file.write_bytes(content)
    memory = Memory(file)
    assert memory.recall("a") is None
    memory.keep("a", b"one")
    assert memory.recall("a") == b"one"


def test_many_may_keep_at_once(tmp_path: Path) -> None:
    with ThreadPoolExecutor(4) as pool:
        list(pool.map(lambda key: Memory(tmp_path / "file").keep(key, key.encode()), "abcdefghij"))
    assert kept(Memory(tmp_path / "file"), "abcdefghij") == "abcdefghij"


def test_a_folder_that_cannot_be_is_no_trouble(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    memory = Memory(tmp_path / "file" / "below a file")
    memory.keep("a", b"one")
    assert memory.recall("a") is None
