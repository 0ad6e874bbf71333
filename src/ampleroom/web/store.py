"""Jobs kept in SQLite: every version whole, so that undo reaches back across restarts and nothing is ever overwritten.

One thread writes. What waits while it commits is committed together with the next, so thirty writers do not wait for thirty
disk flushes; each is told only after its own change is on the disk.
"""

from __future__ import annotations

import json
import queue
import secrets
import sqlite3
import threading
from collections.abc import Callable
from concurrent.futures import Future
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, TypeVar

from ampleroom.errors import AmpleroomError

T = TypeVar("T")

SCHEMA = """
CREATE TABLE IF NOT EXISTS jobs (
  id TEXT PRIMARY KEY, title TEXT NOT NULL, version INTEGER NOT NULL, made TEXT NOT NULL, changed TEXT NOT NULL,
  undo TEXT NOT NULL, redo TEXT NOT NULL, removed INTEGER NOT NULL
) STRICT;
CREATE TABLE IF NOT EXISTS versions (
  job TEXT NOT NULL REFERENCES jobs(id), version INTEGER NOT NULL, sheet TEXT NOT NULL, label TEXT NOT NULL, made TEXT NOT NULL,
  PRIMARY KEY (job, version)
) STRICT, WITHOUT ROWID;
CREATE TABLE IF NOT EXISTS photos (
  id TEXT PRIMARY KEY, job TEXT NOT NULL REFERENCES jobs(id), box TEXT NOT NULL, jpeg BLOB NOT NULL, made TEXT NOT NULL
) STRICT;
CREATE INDEX IF NOT EXISTS photos_of_job ON photos (job, box);
CREATE TABLE IF NOT EXISTS settings (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;
"""

MOST_UNDO = 500


class NotThere(AmpleroomError):
    """A job, version or photograph nobody has."""


@dataclass(frozen=True, slots=True)
class Kept:
    """A job as it is kept now."""

    id: str
    title: str
    version: int
    sheet: str
    changed: str
    can_undo: bool
    can_redo: bool
    removed: bool = False

    def data(self) -> dict[str, Any]:
        return {
            "id": self.id,
            "title": self.title,
            "version": self.version,
            "sheet": self.sheet,
            "changed": self.changed,
            "can_undo": self.can_undo,
            "can_redo": self.can_redo,
        }


class Conflict(AmpleroomError):
    """Somebody else changed the job meanwhile; nothing was overwritten."""

    def __init__(self, current: Kept, base: int) -> None:
        super().__init__(f"the job was changed meanwhile: it is at version {current.version}, not {base}")
        self.current = current
        self.base = base


def now() -> str:
    return datetime.now(UTC).isoformat(timespec="milliseconds")


class Store:
    """The database under a path, and the thread that writes it."""

    def __init__(self, path: Path) -> None:
        path.parent.mkdir(parents=True, exist_ok=True)
        self.path = path
        self.waiting: queue.SimpleQueue[tuple[Callable[[sqlite3.Connection], Any], Future[Any]] | None] = (
            queue.SimpleQueue()
        )
        ready: Future[None] = Future()
        self.thread = threading.Thread(target=self._write, args=(ready,), name="store", daemon=True)
        self.thread.start()
        ready.result()

    # ---- the one thread that writes --------------------------------------------------------------------------------

    def _write(self, ready: Future[None]) -> None:
        try:
            database = sqlite3.connect(self.path, isolation_level=None)
            database.execute("PRAGMA journal_mode=WAL")
            database.execute("PRAGMA synchronous=FULL")
            database.execute("PRAGMA foreign_keys=ON")
            database.executescript(SCHEMA)
        except BaseException as error:
            ready.set_exception(error)
            return
        ready.set_result(None)
        while True:
            first = self.waiting.get()
            if first is None:
                database.close()
                return
            batch = [first]
            stop = False
            while not self.waiting.empty():
                more = self.waiting.get()
                if more is None:
                    stop = True
                    break
                batch.append(more)
            self._commit(database, batch)
            if stop:
                database.close()
                return

    def _commit(
        self, database: sqlite3.Connection, batch: list[tuple[Callable[[sqlite3.Connection], Any], Future[Any]]]
    ) -> None:
        """All that waits in one transaction; one that goes wrong does not take the others with it."""
        results: list[tuple[Future[Any], Any, BaseException | None]] = []
        try:
            database.execute("BEGIN IMMEDIATE")
            for work, future in batch:
                database.execute("SAVEPOINT one")
                try:
                    results.append((future, work(database), None))
                    database.execute("RELEASE one")
                except Exception as error:
                    database.execute("ROLLBACK TO one")
                    database.execute("RELEASE one")
                    results.append((future, None, error))
            database.execute("COMMIT")
        except BaseException as error:
            if database.in_transaction:
                database.execute("ROLLBACK")
            for _, future in batch:
                if not future.done():
                    future.set_exception(error)
            return
        for future, value, trouble in results:
            if trouble is not None:
                future.set_exception(trouble)
            else:
                future.set_result(value)

    def later(self, work: Callable[[sqlite3.Connection], T]) -> Future[T]:
        """Do something in the writing thread; the future is settled when it is on the disk."""
        future: Future[T] = Future()
        self.waiting.put((work, future))
        return future

    def close(self) -> None:
        self.waiting.put(None)
        self.thread.join(timeout=10)

    # ---- jobs ------------------------------------------------------------------------------------------------------

    def jobs(self) -> Future[list[dict[str, Any]]]:
        def work(db: sqlite3.Connection) -> list[dict[str, Any]]:
            rows = db.execute(
                "SELECT id, title, version, changed FROM jobs WHERE removed = 0 ORDER BY changed DESC"
            ).fetchall()
            return [{"id": row[0], "title": row[1], "version": row[2], "changed": row[3]} for row in rows]

        return self.later(work)

    def create(self, sheet: str, title: str, label: str = "new", id: str = "") -> Future[Kept]:
        def work(db: sqlite3.Connection) -> Kept:
            name = id or secrets.token_urlsafe(9)
            db.execute("INSERT INTO jobs VALUES (?, ?, 1, ?, ?, '[]', '[]', 0)", (name, title, now(), now()))
            db.execute("INSERT INTO versions VALUES (?, 1, ?, ?, ?)", (name, sheet, label, now()))
            return kept(db, name)

        return self.later(work)

    def get(self, id: str) -> Future[Kept]:
        return self.later(lambda db: kept(db, id))

    def save(self, id: str, base: int, sheet: str, title: str, label: str) -> Future[Kept]:
        """A new version on top of ``base``; ``Conflict`` if there is another already."""

        def work(db: sqlite3.Connection) -> Kept:
            current = kept(db, id)
            if current.version != base:
                raise Conflict(current, base)
            if current.sheet == sheet:
                return current
            undo = json.loads(db.execute("SELECT undo FROM jobs WHERE id = ?", (id,)).fetchone()[0])
            write_version(db, id, current.version + 1, sheet, title, label, [*undo, current.version][-MOST_UNDO:], [])
            return kept(db, id)

        return self.later(work)

    def step(self, id: str, base: int, back: bool, title_of: Callable[[str], str]) -> Future[Kept]:
        """Undo or redo: the older text as a new version, so that history only grows."""

        def work(db: sqlite3.Connection) -> Kept:
            current = kept(db, id)
            if current.version != base:
                raise Conflict(current, base)
            undo, redo = (
                json.loads(text) for text in db.execute("SELECT undo, redo FROM jobs WHERE id = ?", (id,)).fetchone()
            )
            source, other = (undo, redo) if back else (redo, undo)
            if not source:
                raise NotThere("there is nothing to undo" if back else "there is nothing to redo")
            to = source.pop()
            other.append(current.version)
            sheet = db.execute("SELECT sheet FROM versions WHERE job = ? AND version = ?", (id, to)).fetchone()[0]
            write_version(db, id, current.version + 1, sheet, title_of(sheet), "undo" if back else "redo", undo, redo)
            return kept(db, id)

        return self.later(work)

    def history(self, id: str) -> Future[list[dict[str, Any]]]:
        def work(db: sqlite3.Connection) -> list[dict[str, Any]]:
            kept(db, id)
            rows = db.execute(
                "SELECT version, label, made FROM versions WHERE job = ? ORDER BY version DESC LIMIT 1000", (id,)
            ).fetchall()
            return [{"version": row[0], "label": row[1], "made": row[2]} for row in rows]

        return self.later(work)

    def version(self, id: str, version: int) -> Future[str]:
        def work(db: sqlite3.Connection) -> str:
            row = db.execute("SELECT sheet FROM versions WHERE job = ? AND version = ?", (id, version)).fetchone()
            if row is None:
                raise NotThere(f"there is no version {version} of this job")
            return str(row[0])

        return self.later(work)

    def remove(self, id: str, removed: bool) -> Future[Kept]:
        """Put a job away, or bring it back; nothing of it is deleted."""

        def work(db: sqlite3.Connection) -> Kept:
            found = kept(db, id)
            db.execute("UPDATE jobs SET removed = ?, changed = ? WHERE id = ?", (int(removed), now(), id))
            return found

        return self.later(work)

    # ---- photographs and settings ----------------------------------------------------------------------------------

    def add_photo(self, id: str, box: str, jpeg: bytes, most: int) -> Future[dict[str, Any]]:
        def work(db: sqlite3.Connection) -> dict[str, Any]:
            kept(db, id)
            if db.execute("SELECT count(*) FROM photos WHERE job = ? AND box = ?", (id, box)).fetchone()[0] >= most:
                raise AmpleroomError(f"{box} has {most} photographs already; take one away first")
            name = secrets.token_urlsafe(9)
            db.execute("INSERT INTO photos VALUES (?, ?, ?, ?, ?)", (name, id, box, jpeg, now()))
            return {"id": name, "box": box, "bytes": len(jpeg)}

        return self.later(work)

    def photos(self, id: str) -> Future[list[dict[str, Any]]]:
        def work(db: sqlite3.Connection) -> list[dict[str, Any]]:
            kept(db, id)
            rows = db.execute(
                "SELECT id, box, length(jpeg), made FROM photos WHERE job = ? ORDER BY made", (id,)
            ).fetchall()
            return [{"id": row[0], "box": row[1], "bytes": row[2], "made": row[3]} for row in rows]

        return self.later(work)

    def photo(self, id: str) -> Future[bytes]:
        def work(db: sqlite3.Connection) -> bytes:
            row = db.execute("SELECT jpeg FROM photos WHERE id = ?", (id,)).fetchone()
            if row is None:
                raise NotThere("there is no such photograph")
            return bytes(row[0])

        return self.later(work)

    def drop_photo(self, id: str) -> Future[None]:
        def work(db: sqlite3.Connection) -> None:
            if db.execute("DELETE FROM photos WHERE id = ?", (id,)).rowcount == 0:
                raise NotThere("there is no such photograph")

        return self.later(work)

    def setting(self, key: str, usual: str = "") -> Future[str]:
        def work(db: sqlite3.Connection) -> str:
            row = db.execute("SELECT value FROM settings WHERE key = ?", (key,)).fetchone()
            return str(row[0]) if row else usual

        return self.later(work)

    def set_setting(self, key: str, value: str) -> Future[None]:
        def work(db: sqlite3.Connection) -> None:
            db.execute(
                "INSERT INTO settings VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value",
                (key, value),
            )

        return self.later(work)


def kept(db: sqlite3.Connection, id: str) -> Kept:
    row = db.execute(
        "SELECT j.id, j.title, j.version, v.sheet, j.changed, j.undo, j.redo, j.removed FROM jobs j "
        "JOIN versions v ON v.job = j.id AND v.version = j.version WHERE j.id = ?",
        (id,),
    ).fetchone()
    if row is None:
        raise NotThere("there is no such job")
    return Kept(row[0], row[1], row[2], row[3], row[4], row[5] != "[]", row[6] != "[]", bool(row[7]))


def write_version(
    db: sqlite3.Connection, id: str, version: int, sheet: str, title: str, label: str, undo: list[int], redo: list[int]
) -> None:
    made = now()
    db.execute("INSERT INTO versions VALUES (?, ?, ?, ?, ?)", (id, version, sheet, label[:120], made))
    db.execute(
        "UPDATE jobs SET version = ?, title = ?, changed = ?, undo = ?, redo = ? WHERE id = ?",
        (version, title, made, json.dumps(undo), json.dumps(redo), id),
    )
