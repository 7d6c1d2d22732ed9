"""The store of projects: one SQLite file in a folder, safe against a crash and against two windows at once.

Every change is one transaction under SQLite's rollback journal, so a crash leaves the version
before or the one after, never half of one. A version names the one it was made from: whoever
saves on top of something that another window has changed meanwhile is told (`Superseded`), and
nothing is overwritten.
"""

import json
import secrets
import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import closing, contextmanager
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path

from planner.errors import BadInput, Fault, PlannerError
from planner.projects.draft import read_draft, write_draft
from planner.projects.records import Demo, Files, Folder, GearSource, Kept, Summary, Work
from planner.projects.schema import brought_up_to_date

FILE = "projects.sqlite"
MOST_VERSIONS = 1_000
_BUSY_S = 10.0


class Superseded(PlannerError):
    """The project was changed elsewhere since the version that this work was made from."""


class ProjectStore:
    """The projects in one folder. Cheap to make; every call opens the file for itself, so threads may share it."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._file = folder / FILE

    @property
    def folder(self) -> Path:
        """Where the projects are."""
        return self._folder

    def projects(self, *, archived: bool = False) -> tuple[Summary, ...]:
        """The projects at hand or those put away, the last changed first."""
        with self._opened() as db:
            rows = db.execute(
                "SELECT id, name, client, reference, changed_at, archived,"
                " (SELECT count(*) FROM versions WHERE project = id) FROM projects"
                " WHERE archived = ? ORDER BY changed_at DESC, id",
                (archived,),
            )
            return tuple(
                Summary(
                    id=id_,
                    name=name,
                    client=client,
                    reference=reference,
                    changed=datetime.fromisoformat(changed),
                    versions=versions,
                    archived=bool(put_away),
                )
                for id_, name, client, reference, changed, put_away, versions in rows
            )

    def create(self, work: Work) -> Kept:
        """A new project with this work as its first version."""
        with self._opened() as db:
            project = secrets.token_hex(8)
            db.execute("INSERT INTO projects VALUES (?, '', '', '', 1, '', 0)", (project,))
            _insert(db, project, 1, work)
            return _kept(db, project)

    def open(self, project: str) -> Kept | None:
        """The current version of a project; None if there is no such project."""
        with self._opened() as db:
            return _kept(db, project) if _current(db, project) is not None else None

    def save(self, project: str, work: Work, *, after: int) -> Kept:
        """Keeps a new version made from version `after`; what was undone is given up.

        Raises Superseded where `after` is no longer the current version.
        """
        with self._opened() as db:
            _expect(db, project, after)
            db.execute("DELETE FROM versions WHERE project = ? AND number > ?", (project, after))
            _insert(db, project, after + 1, work)
            db.execute("DELETE FROM versions WHERE project = ? AND number <= ?", (project, after + 1 - MOST_VERSIONS))
            _sweep(db)
            return _kept(db, project)

    def undo(self, project: str, *, after: int) -> Kept:
        """The version before `after`, from now on the current one; the same where there is none before."""
        return self._step(project, after, "max(number)", "<")

    def redo(self, project: str, *, after: int) -> Kept:
        """The version that the last undo left, from now on the current one; the same where there is none."""
        return self._step(project, after, "min(number)", ">")

    def copy(self, project: str) -> Kept | None:
        """A new project that begins with the current version of another; None if there is no such project."""
        kept = self.open(project)
        return None if kept is None else self.create(kept.work)

    def archive(self, project: str, *, away: bool = True) -> None:
        """Puts a project away, or takes it out again."""
        with self._opened() as db:
            db.execute("UPDATE projects SET archived = ? WHERE id = ?", (away, project))

    def delete(self, project: str) -> None:
        """Removes a project that was put away, with all its versions, for good."""
        with self._opened() as db:
            db.execute("DELETE FROM projects WHERE id = ? AND archived = 1", (project,))
            _sweep(db)

    def mappings(self) -> Mapping[str, Mapping[str, object]]:
        """How each supplier's price list is read, by the supplier's name."""
        with self._opened() as db:
            rows = db.execute("SELECT supplier, mapping FROM supplier_mappings ORDER BY supplier")
            return {supplier: json.loads(mapping) for supplier, mapping in rows}

    def remember_mapping(self, supplier: str, mapping: Mapping[str, object]) -> None:
        """Keeps how a supplier's price list is read, for the next one."""
        with self._opened() as db:
            db.execute("INSERT OR REPLACE INTO supplier_mappings VALUES (?, ?)", (supplier, json.dumps(mapping)))

    def _step(self, project: str, after: int, nearest: str, beyond: str) -> Kept:
        with self._opened() as db:
            _expect(db, project, after)
            query = f"SELECT {nearest} FROM versions WHERE project = ? AND number {beyond} ?"
            (number,) = db.execute(query, (project, after)).fetchone()
            if number is not None:
                db.execute("UPDATE projects SET current = ? WHERE id = ?", (number, project))
                kept = _kept(db, project)
                _label(db, project, kept.work)
            return _kept(db, project)

    @contextmanager
    def _opened(self) -> Iterator[sqlite3.Connection]:
        """The file within one transaction. Raises BadInput where it cannot be used."""
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            with closing(sqlite3.connect(self._file, timeout=_BUSY_S, isolation_level=None)) as db:
                db.execute("PRAGMA foreign_keys = ON")
                db.execute("BEGIN IMMEDIATE")
                if not brought_up_to_date(db):
                    raise self._refusal("projects of a later version of this program", "Use that version.")
                yield db
                db.execute("COMMIT")
        except OSError as error:
            reason = (error.strerror or type(error).__name__).lower()
            raise self._refusal(f"a folder that cannot be used ({reason})", "Check its permissions.") from error
        except sqlite3.Error as error:
            raise self._refusal(
                f"a file that cannot be used ({error})",
                "Check the folder's permissions and the disk's space; a damaged file can be put aside under another"
                " name, and a new one is begun.",
            ) from error

    def _refusal(self, found: str, remedy: str) -> BadInput:
        return BadInput((Fault(where=FILE, value=found, expected="a file of projects", remedy=remedy),))


def _current(db: sqlite3.Connection, project: str) -> int | None:
    row = db.execute("SELECT current FROM projects WHERE id = ?", (project,)).fetchone()
    return None if row is None else int(row[0])


def _expect(db: sqlite3.Connection, project: str, number: int) -> None:
    if _current(db, project) != number:
        raise Superseded("the project was changed in another window, or removed")


def _insert(db: sqlite3.Connection, project: str, number: int, work: Work) -> None:
    toml, records = write_draft(work.brief)
    kind, gear = _gear_columns(db, work.gear)
    now = datetime.now(UTC).isoformat(timespec="microseconds")
    db.execute("INSERT INTO versions VALUES (?, ?, ?, ?, ?, ?, ?)", (project, number, now, toml, records, kind, gear))
    db.execute("UPDATE projects SET current = ?, changed_at = ? WHERE id = ?", (number, now, project))
    _label(db, project, work)


def _label(db: sqlite3.Connection, project: str, work: Work) -> None:
    """What lists call the project is what its brief calls it."""
    named = work.brief.project
    db.execute(
        "UPDATE projects SET name = ?, client = ?, reference = ? WHERE id = ?",
        (named.name, named.client, named.reference, project),
    )


def _gear_columns(db: sqlite3.Connection, gear: GearSource) -> tuple[str, str]:
    match gear:
        case Demo():
            return "demo", ""
        case Folder(path):
            return "folder", path
        case Files(files, digest):
            for name, content in files:
                of_content = sha256(content).hexdigest()
                db.execute("INSERT OR IGNORE INTO contents VALUES (?, ?)", (of_content, content))
                db.execute("INSERT OR IGNORE INTO gear_files VALUES (?, ?, ?)", (digest, name, of_content))
            return "files", digest


def _gear(db: sqlite3.Connection, kind: str, gear: str) -> GearSource:
    match kind:
        case "folder":
            return Folder(gear)
        case "files":
            query = "SELECT name, bytes FROM gear_files JOIN contents ON content = contents.digest WHERE gear = ?"
            return Files.of((name, content) for name, content in db.execute(query, (gear,)))
    return Demo()


def _kept(db: sqlite3.Connection, project: str) -> Kept:
    number, toml, records, kind, gear = db.execute(
        "SELECT number, brief_toml, brief_records, gear_kind, gear FROM versions"
        " JOIN projects ON id = project AND number = current WHERE id = ?",
        (project,),
    ).fetchone()
    before, after = db.execute(
        "SELECT coalesce(sum(number < ?), 0), coalesce(sum(number > ?), 0) FROM versions WHERE project = ?",
        (number, number, project),
    ).fetchone()
    work = Work(brief=read_draft(toml, records), gear=_gear(db, kind, gear))
    return Kept(project=project, number=number, work=work, can_undo=before > 0, can_redo=after > 0)


def _sweep(db: sqlite3.Connection) -> None:
    """Removes files of gear that no version has any longer."""
    db.execute("DELETE FROM gear_files WHERE gear NOT IN (SELECT gear FROM versions WHERE gear_kind = 'files')")
    db.execute("DELETE FROM contents WHERE digest NOT IN (SELECT content FROM gear_files)")
