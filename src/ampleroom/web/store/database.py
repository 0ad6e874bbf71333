"""The database file: its tables, who may read it, how a connection is set, and whether it is whole."""

from __future__ import annotations

import logging
import os
import sqlite3
from contextlib import suppress
from pathlib import Path

from ampleroom.errors import FileTrouble

log = logging.getLogger("ampleroom.web")

FORM = 1
"""The form of the database; one of a later form is left alone."""

SCHEMA = """
CREATE TABLE IF NOT EXISTS jobs (
  id TEXT PRIMARY KEY, title TEXT NOT NULL, version INTEGER NOT NULL, made TEXT NOT NULL, changed TEXT NOT NULL,
  undo TEXT NOT NULL, redo TEXT NOT NULL, removed INTEGER NOT NULL
) STRICT;
CREATE TABLE IF NOT EXISTS versions (
  job TEXT NOT NULL REFERENCES jobs(id), version INTEGER NOT NULL,
  label TEXT NOT NULL, made TEXT NOT NULL, sheet TEXT NOT NULL,
  PRIMARY KEY (job, version)
) STRICT;
CREATE TABLE IF NOT EXISTS photos (
  id TEXT PRIMARY KEY, job TEXT NOT NULL REFERENCES jobs(id), box TEXT NOT NULL, jpeg BLOB NOT NULL, made TEXT NOT NULL
) STRICT;
CREATE INDEX IF NOT EXISTS photos_of_job ON photos (job, box);
CREATE TABLE IF NOT EXISTS settings (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;
"""

PATIENCE_MS = 10_000
"""How long a writer of another process is waited for."""


def private(path: Path) -> None:
    """See that only its user can read and write the database; SQLite gives what it keeps beside it the same rights.

    Nobody else's rights are ever widened, and nothing but a regular file is touched.
    """
    with suppress(FileExistsError):
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
    if not path.is_file():
        raise FileTrouble("it is no regular file")
    if os.name != "posix":
        return  # Windows: a user's data folder is private already
    for part in beside(path):
        if part.is_file() and part.stat().st_mode & 0o077:
            try:
                part.chmod(part.stat().st_mode & 0o700)
            except OSError as error:
                log.warning("%s can be read by others on this machine: %s", part.name, error)


def beside(path: Path) -> list[Path]:
    """A database and the files SQLite keeps beside it."""
    return [path, *(path.with_name(path.name + end) for end in ("-wal", "-shm", "-journal"))]


def connection(path: Path) -> sqlite3.Connection:
    """A connection whose commits outlast a power cut: with FULL the log is flushed to the disk at every commit, in WAL
    too.

    NORMAL would be quicker and lose the last seconds before a power cut, which were answered as kept.
    """
    database = sqlite3.connect(path, timeout=PATIENCE_MS / 1000, isolation_level=None, check_same_thread=False)
    try:
        database.execute("PRAGMA journal_mode = WAL")
        database.execute("PRAGMA synchronous = FULL")
        database.execute("PRAGMA foreign_keys = ON")
        database.execute("PRAGMA busy_timeout = 0")
    except BaseException:
        database.close()
        raise
    return database


def made_ready(db: sqlite3.Connection) -> None:
    """The tables are there and can be read and written; whatever is not so is told now, and a file like that left as it
    is.
    """
    db.execute(f"PRAGMA busy_timeout = {PATIENCE_MS}")
    form_there = db.execute("PRAGMA user_version").fetchone()[0]
    if form_there > FORM:
        raise FileTrouble("it was made by a later Ampleroom, which can go on with it")
    if form_there == FORM:
        if damage := damage_in(db):
            raise FileTrouble(f"it is damaged ({damage})")
        db.execute("BEGIN IMMEDIATE")
        db.execute(f"PRAGMA user_version = {FORM}")  # a file that may only be read refuses this
        db.execute("ROLLBACK")
    else:
        db.executescript(SCHEMA)
        db.execute(f"PRAGMA user_version = {FORM}")
    db.execute("PRAGMA busy_timeout = 0")


DAMAGED = """
SELECT 'job ' || j.id || ' has lost its version ' || j.version FROM jobs j
  LEFT JOIN versions v ON v.job = j.id AND v.version = j.version WHERE v.version IS NULL
UNION ALL SELECT 'job ' || id || ' has an undo list that cannot be read' FROM jobs
  WHERE NOT (json_valid(undo) AND json_valid(redo))
LIMIT 1
"""


def damage_in(db: sqlite3.Connection) -> str:
    """The first damage SQLite finds in a database of jobs, or a job that cannot be shown; nothing where it is whole."""
    for (words,) in db.execute("PRAGMA integrity_check(1)"):
        if words != "ok":
            return " ".join(str(words).split())
    row = db.execute("PRAGMA foreign_key_check").fetchone()
    if row is not None:
        return f"a row of {row[0]} belongs to no job"
    row = db.execute(DAMAGED).fetchone()
    return "" if row is None else str(row[0])
