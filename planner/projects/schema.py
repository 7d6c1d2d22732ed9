"""The tables of the projects' file, and how an older file is brought up to date.

Files of gear are kept once, by the digest of their content: a hundred versions that differ in
one price share all other sheets.
"""

import sqlite3

VERSION = 1

_TABLES = """
CREATE TABLE projects (
    id TEXT PRIMARY KEY,
    name TEXT NOT NULL,
    client TEXT NOT NULL,
    reference TEXT NOT NULL,
    current INTEGER NOT NULL,
    changed_at TEXT NOT NULL,
    archived INTEGER NOT NULL DEFAULT 0
) STRICT;
CREATE TABLE versions (
    project TEXT NOT NULL REFERENCES projects (id) ON DELETE CASCADE,
    number INTEGER NOT NULL,
    saved_at TEXT NOT NULL,
    brief_toml TEXT NOT NULL,
    brief_records TEXT NOT NULL,
    gear_kind TEXT NOT NULL CHECK (gear_kind IN ('demo', 'folder', 'files')),
    gear TEXT NOT NULL,  -- nothing, a path, or the digest of a set of files
    PRIMARY KEY (project, number)
) STRICT;
CREATE TABLE gear_files (
    gear TEXT NOT NULL,
    name TEXT NOT NULL,
    content TEXT NOT NULL REFERENCES contents (digest),
    PRIMARY KEY (gear, name)
) STRICT;
CREATE TABLE contents (digest TEXT PRIMARY KEY, bytes BLOB NOT NULL) STRICT;
CREATE TABLE supplier_mappings (supplier TEXT PRIMARY KEY, mapping TEXT NOT NULL) STRICT;
"""


def brought_up_to_date(connection: sqlite3.Connection) -> bool:
    """Lays out a new file, within the caller's transaction; False where the file is of a later version than ours."""
    (found,) = connection.execute("PRAGMA user_version").fetchone()
    if found == 0:
        for statement in _TABLES.split(";\n"):
            if statement.strip():
                connection.execute(statement)
        connection.execute(f"PRAGMA user_version = {VERSION}")
    return int(found) <= VERSION
