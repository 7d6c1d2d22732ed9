"""A bounded store of values by key, in one SQLite file that many processes may use at once.

It never stands in the way: a file that cannot be opened, written or read counts as empty.
"""

import sqlite3
import zlib
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from time import time

MOST_BYTES = 64_000_000
_PATIENCE_S = 2.0
_SLACK = 0.8
_A_DAY_S = 86_400
_TROUBLE = (sqlite3.Error, zlib.error, OSError)
_TABLE = """
create table if not exists kept (key text primary key, value blob not null, used integer not null) without rowid
"""


class Memory:
    """Values by key. Where they come to more than `most_bytes`, those not used for longest go."""

    def __init__(self, file: Path, most_bytes: int = MOST_BYTES) -> None:
        self._file, self._most_bytes = file, most_bytes

    def recall(self, key: str) -> bytes | None:
        """The value of a key, where it is there and whole."""
        try:
            with self._opened() as book:
                row = book.execute("select value, used from kept where key = ?", (key,)).fetchone()
                if row is None:
                    return None
                if time() - row[1] > _A_DAY_S:
                    book.execute("update kept set used = ? where key = ?", (int(time()), key))
                return zlib.decompress(row[0])  # which raises where it is not whole
        except _TROUBLE as trouble:
            self._begin_anew_if_damaged(trouble)
            return None

    def keep(self, key: str, value: bytes) -> None:
        """Keeps a value, and lets go of what there is no room for."""
        try:
            with self._opened() as book:
                packed = zlib.compress(value, 3)
                book.execute("insert or replace into kept values (?, ?, ?)", (key, packed, int(time())))
                self._make_room(book)
        except _TROUBLE as trouble:
            self._begin_anew_if_damaged(trouble)

    def _begin_anew_if_damaged(self, trouble: Exception) -> None:
        """Removes a file that is no sound store; one that is only busy, or full, or not ours to write, stays."""
        if isinstance(trouble, sqlite3.DatabaseError) and not isinstance(trouble, sqlite3.OperationalError):
            with suppress(OSError):
                self._file.unlink()

    def _make_room(self, book: sqlite3.Connection) -> None:
        taken = book.execute("select coalesce(sum(length(value)), 0) from kept").fetchone()[0]
        if taken <= self._most_bytes:
            return
        for key, size in book.execute("select key, length(value) from kept order by used, key").fetchall():
            if taken <= _SLACK * self._most_bytes:
                return
            book.execute("delete from kept where key = ?", (key,))
            taken -= size

    @contextmanager
    def _opened(self) -> Iterator[sqlite3.Connection]:
        """The file; what is changed in it is changed whole."""
        self._file.parent.mkdir(parents=True, exist_ok=True)
        with closing(sqlite3.connect(self._file, timeout=_PATIENCE_S)) as book, book:
            book.execute("pragma synchronous = off")  # a loss of power may cost what is kept, and nothing else
            book.execute(_TABLE)
            yield book
