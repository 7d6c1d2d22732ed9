"""The folder that a batch fills: a result for each brief, and what became of each, kept so that a kill loses nothing.

    OUT/NAME.json           the answer to NAME.toml, as `options --json` writes it
    OUT/records/NAME.json   what became of it: brief, key, time_limit_s, outcome, words, result_sha256
    OUT/summary.xlsx        all rooms, written at the end

Every file is put in place whole, a result before the record that vouches for it. A result that
does not fit its record, or whose key is not that of today's input, counts as not there.
"""

import contextlib
import json
import os
import sys
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path
from typing import Self

from planner.batch.records import Outcome, Told
from planner.errors import WrongUsage
from planner.result_json import write_atomically

RECORDS = "records"
SUMMARY = "summary.xlsx"
_SETTLED = (Outcome.PROVEN, Outcome.INFEASIBLE)


class Store:
    """The folder of one batch. Where it cannot be written, all methods raise WrongUsage."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._records = folder / RECORDS

    @contextlib.contextmanager
    def opened(self) -> Iterator[Self]:
        """Makes the folder where it is missing, and keeps a second batch out of it, where the system can.

        Raises WrongUsage where a batch is at work in it, or where it holds something else.
        """
        self._refuse_strangers()
        with self._writing():
            self._records.mkdir(parents=True, exist_ok=True)
        with _sole(self._records) as alone:
            if not alone:
                raise WrongUsage(f"another batch is writing to {self.folder} now. Wait for it, or stop it.")
            self._clear_halves()
            yield self

    def kept(self, brief: str, key: str, time_limit_s: float) -> Told | None:
        """What became of a brief earlier, where that still answers it: the same content, and as much time."""
        try:
            record = json.loads(self._record(brief).read_bytes())
            content = self._result(brief).read_bytes()
            outcome, words = Outcome(record["outcome"]), tuple(record["words"])
            enough = outcome in _SETTLED or (
                outcome is Outcome.PARTIAL and float(record["time_limit_s"]) >= time_limit_s
            )
            if not enough or record["key"] != key or record["result_sha256"] != sha256(content).hexdigest():
                return None
        except (OSError, ValueError, KeyError, TypeError):  # not there, or not as we write it
            return None
        return Told(brief=brief, key=key, outcome=outcome, words=words, result=content.decode("utf-8"))

    def forget(self, brief: str) -> None:
        """Removes what answers a brief no more, so that no program reads it while the new answer is worked on."""
        with self._writing():
            self._record(brief).unlink(missing_ok=True)
            self._result(brief).unlink(missing_ok=True)

    def forget_summary(self) -> None:
        """Removes the workbook of an earlier run, which tells of rooms that are now worked on again."""
        with self._writing():
            (self.folder / SUMMARY).unlink(missing_ok=True)

    def keep(self, told: Told, time_limit_s: float) -> None:
        """Writes what became of a brief."""
        record = {
            "brief": told.brief,
            "key": told.key,
            "time_limit_s": time_limit_s,
            "outcome": told.outcome.value,
            "words": list(told.words),
            "result_sha256": None if told.result is None else sha256(told.result.encode("utf-8")).hexdigest(),
        }
        with self._writing():
            if told.result is not None:
                write_atomically(self._result(told.brief), told.result)
            write_atomically(self._record(told.brief), json.dumps(record, indent=1) + "\n")

    def keep_summary(self, content: bytes) -> None:
        """Writes the workbook of all rooms."""
        with self._writing():
            write_atomically(self.folder / SUMMARY, content)

    def _refuse_strangers(self) -> None:
        """So that nothing of others is written over."""
        with self._writing():
            if self.folder.exists() and not self.folder.is_dir():
                raise WrongUsage(f"cannot write results to {self.folder}: it is no folder. Name another.")
            if self.folder.is_dir() and not self._records.is_dir() and any(self.folder.iterdir()):
                raise WrongUsage(
                    f"{self.folder} holds something other than a batch, and nothing in it was touched."
                    " Name another folder."
                )

    def _clear_halves(self) -> None:
        """Removes what a killed run had begun to write."""
        with self._writing():
            for folder in (self.folder, self._records):
                for part in folder.glob(".*.part"):
                    part.unlink(missing_ok=True)

    @contextlib.contextmanager
    def _writing(self) -> Iterator[None]:
        try:
            yield
        except OSError as error:
            raise WrongUsage(f"cannot write results to {self.folder}: {error.strerror or error}.") from error

    def _record(self, brief: str) -> Path:
        return self._records / f"{brief}.json"

    def _result(self, brief: str) -> Path:
        return self.folder / f"{brief}.json"


@contextlib.contextmanager
def _sole(folder: Path) -> Iterator[bool]:
    """Whether no other process holds the folder; held until the end. Always so where the system has no such locks."""
    if sys.platform == "win32":
        yield True
        return
    import fcntl

    descriptor = os.open(folder, os.O_RDONLY)
    try:
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            yield False
        except OSError:  # a file system without locks
            yield True
        else:
            yield True
    finally:
        os.close(descriptor)  # which lets go of it, as does the end of the process, whatever ends it
