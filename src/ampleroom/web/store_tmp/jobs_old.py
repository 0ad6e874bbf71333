"""Jobs kept in SQLite: every version whole, so that undo reaches back across restarts and nothing is ever overwritten.

What waits while a commit is on its way to the disk is committed together after it, so thirty writers do not wait for thirty
disk flushes; each is told only when its own change is on the disk. The statements themselves run in the thread of the event
loop and only the flush beside it: a second thread would have to wait for Python's lock after every statement. Where a
large sheet is among them, the statements run beside the loop as well.
"""

from __future__ import annotations

import asyncio
import json
import logging
import os
import secrets
import sqlite3
import tempfile
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing, suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, TypeVar

from ampleroom.errors import AmpleroomError, FileTrouble
from ampleroom.record import Record

log = logging.getLogger("ampleroom.web")

T = TypeVar("T")
Work = Callable[[sqlite3.Connection], T]

FORM = 1
"""The form of the database; one of a later form is left alone."""

SCHEMA = """
CREATE TABLE IF NOT EXISTS jobs (
  id TEXT PRIMARY KEY, title TEXT NOT NULL, version INTEGER NOT NULL, made TEXT NOT NULL, changed TEXT NOT NULL,
  undo TEXT NOT NULL, redo TEXT NOT NULL, removed INTEGER NOT NULL
) STRICT;
CREATE TABLE IF NOT EXISTS versions (
  job TEXT NOT NULL REFERENCES jobs(id), version INTEGER NOT NULL, label TEXT NOT NULL, made TEXT NOT NULL, sheet TEXT NOT NULL,
  PRIMARY KEY (job, version)
) STRICT;
CREATE TABLE IF NOT EXISTS photos (
  id TEXT PRIMARY KEY, job TEXT NOT NULL REFERENCES jobs(id), box TEXT NOT NULL, jpeg BLOB NOT NULL, made TEXT NOT NULL
) STRICT;
CREATE INDEX IF NOT EXISTS photos_of_job ON photos (job, box);
CREATE TABLE IF NOT EXISTS settings (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;
"""

VERSION = "INSERT INTO versions (job, version, label, made, sheet) VALUES (?, ?, ?, ?, ?)"
MOST_UNDO = 500
LONGEST_LABEL = 120
LARGEST_NUMBER = 2**63 - 1
"""SQLite's largest whole number; a version past it is not there, and asking for it is no trouble."""
LARGE = 200_000
"""Letters or bytes that take SQLite more than a few milliseconds to write."""
HISTORY_PAGE = 1000
PATIENCE_MS = 10_000
"""How long a writer of another process is waited for."""


class NotThere(AmpleroomError):
    """A job, version or photograph nobody has."""


class Kept(Record):
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
            "removed": self.removed,
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
    """The database under a path: one connection that writes, one that reads what is on the disk. For one event loop."""

    def __init__(self, path: Path) -> None:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        private(path)
        self.path = path
        self.writing = connection(path)
        try:
            made_ready(self.writing)
            self.reading = connection(path)
            self.reading.execute("PRAGMA query_only = ON")
        except BaseException:
            self.writing.close()
            raise
        self.disk = ThreadPoolExecutor(1, "disk")
        self.waiting: list[tuple[Work[Any], asyncio.Future[Any]]] = []
        self.large = False
        self.committing: asyncio.Task[None] | None = None

    def close(self) -> None:
        """What was answered is on the disk already; what waits is given up."""
        self.disk.shutdown()
        self.reading.close()
        self.writing.close()

    # ---- writing ---------------------------------------------------------------------------------------------------

    async def write(self, work: Work[T], size: int = 0) -> T:
        """Do something to the database; back when it is on the disk. ``size``: how many letters or bytes it writes."""
        future: asyncio.Future[T] = asyncio.get_running_loop().create_future()
        self.waiting.append((work, future))
        self.large = self.large or size > LARGE
        if self.committing is None:
            self.committing = asyncio.create_task(self.commit_all())
        return await future

    async def commit_all(self) -> None:
        try:
            while self.waiting:
                batch, self.waiting = self.waiting, []
                large, self.large = self.large, False
                await self.commit(batch, large)
        finally:
            self.committing = None

    async def commit(self, batch: list[tuple[Work[Any], asyncio.Future[Any]]], large: bool) -> None:
        """All that waits in one transaction; one that goes wrong does not take the others with it."""
        results: list[tuple[asyncio.Future[Any], Any, BaseException | None]] = []
        try:
            await self.begin()
            wanted = [(work, future) for work, future in batch if not future.done()]
            if large:
                loop = asyncio.get_running_loop()
                found = await loop.run_in_executor(self.disk, lambda: [self.tried(work) for work, _ in wanted])
            else:
                found = [self.tried(work) for work, _ in wanted]
            results = [(future, *one) for (_, future), one in zip(wanted, found, strict=True)]
            await self.beside("COMMIT")
        except BaseException as error:
            if self.writing.in_transaction:
                self.writing.execute("ROLLBACK")
            results = [(future, None, error) for _, future in batch]
            if not isinstance(error, Exception):
                raise
        finally:
            for future, value, trouble in results:
                if future.done():
                    continue  # whoever asked is gone
                if trouble is not None:
                    future.set_exception(trouble)
                else:
                    future.set_result(value)

    async def begin(self) -> None:
        """Begin at once where nobody else writes; wait for another process beside the loop, so that reading goes on."""
        try:
            self.writing.execute("BEGIN IMMEDIATE")
        except sqlite3.OperationalError:
            self.writing.execute(f"PRAGMA busy_timeout = {PATIENCE_MS}")
            try:
                await self.beside("BEGIN IMMEDIATE")
            finally:
                self.writing.execute("PRAGMA busy_timeout = 0")

    async def beside(self, statement: str) -> None:
        await asyncio.get_running_loop().run_in_executor(self.disk, self.writing.execute, statement)

    def tried(self, work: Work[T]) -> tuple[T | None, Exception | None]:
        """One piece of work, taken back whole if it goes wrong."""
        self.writing.execute("SAVEPOINT one")
        try:
            found = work(self.writing)
        except Exception as error:
            self.writing.execute("ROLLBACK TO one")
            self.writing.execute("RELEASE one")
            return None, error
        self.writing.execute("RELEASE one")
        return found, None

    # ---- jobs ------------------------------------------------------------------------------------------------------

    def jobs(self, removed: bool = False) -> list[dict[str, Any]]:
        """All jobs, or all that were put away; the last changed first."""
        rows = self.reading.execute(
            "SELECT id, title, version, changed FROM jobs WHERE removed = ? ORDER BY changed DESC, rowid DESC",
            (int(removed),),
        )
        return [{"id": row[0], "title": row[1], "version": row[2], "changed": row[3]} for row in rows.fetchall()]

    async def create(self, sheet: str, title: str, label: str = "new") -> Kept:
        def work(db: sqlite3.Connection) -> Kept:
            id, made = secrets.token_urlsafe(9), now()
            db.execute("INSERT INTO jobs VALUES (?, ?, 1, ?, ?, '[]', '[]', 0)", (id, title, made, made))
            db.execute(VERSION, (id, 1, label[:LONGEST_LABEL], made, sheet))
            return kept(db, id)

        return await self.write(work, len(sheet))

    def get(self, id: str) -> Kept:
        return kept(self.reading, id)

    async def save(self, id: str, base: int, sheet: str, title: str, label: str) -> Kept:
        """A new version on top of ``base``; ``Conflict`` if there is another already."""

        def work(db: sqlite3.Connection) -> Kept:
            current = kept(db, id)
            if current.version != base:
                raise Conflict(current, base)
            if current.sheet == sheet:
                return current
            undo, _ = steps(db, id)
            return write_version(db, current, sheet, title, label, [*undo, current.version][-MOST_UNDO:], [])

        return await self.write(work, len(sheet))

    async def step(self, id: str, base: int, back: bool, title_of: Callable[[str], str]) -> Kept:
        """Undo or redo: the older text as a new version, so that history only grows."""

        def work(db: sqlite3.Connection) -> Kept:
            current = kept(db, id)
            if current.version != base:
                raise Conflict(current, base)
            undo, redo = steps(db, id)
            source, other = (undo, redo) if back else (redo, undo)
            if not source:
                raise NotThere("there is nothing to undo" if back else "there is nothing to redo")
            to = source.pop()
            other.append(current.version)
            sheet = sheet_of(db, id, to)
            return write_version(db, current, sheet, title_of(sheet), "undo" if back else "redo", undo, redo)

        return await self.write(work, len(kept(self.reading, id).sheet))

    def history(self, id: str, before: int = LARGEST_NUMBER) -> tuple[list[dict[str, Any]], bool]:
        """Versions from the newest back, a page at a time; and whether there are older ones."""
        kept(self.reading, id)
        rows = self.reading.execute(
            "SELECT version, label, made FROM versions WHERE job = ? AND version < ? ORDER BY version DESC LIMIT ?",
            (id, min(before, LARGEST_NUMBER), HISTORY_PAGE + 1),
        ).fetchall()
        found = [{"version": row[0], "label": row[1], "made": row[2]} for row in rows[:HISTORY_PAGE]]
        return found, len(rows) > HISTORY_PAGE

    def version(self, id: str, version: int) -> str:
        return sheet_of(self.reading, id, version)

    async def remove(self, id: str, removed: bool) -> Kept:
        """Put a job away, or bring it back; nothing of it is deleted."""

        def work(db: sqlite3.Connection) -> Kept:
            kept(db, id)
            db.execute("UPDATE jobs SET removed = ?, changed = ? WHERE id = ?", (int(removed), now(), id))
            return kept(db, id)

        return await self.write(work)

    # ---- photographs and settings ----------------------------------------------------------------------------------

    async def add_photo(self, id: str, box: str, jpeg: bytes, most: int) -> dict[str, Any]:
        def work(db: sqlite3.Connection) -> dict[str, Any]:
            kept(db, id)
            if db.execute("SELECT count(*) FROM photos WHERE job = ? AND box = ?", (id, box)).fetchone()[0] >= most:
                raise AmpleroomError(f"{box} has {most} photographs already; take one away first")
            name, made = secrets.token_urlsafe(9), now()
            db.execute("INSERT INTO photos VALUES (?, ?, ?, ?, ?)", (name, id, box, jpeg, made))
            return {"id": name, "box": box, "bytes": len(jpeg), "made": made}

        return await self.write(work, len(jpeg))

    def photos(self, id: str) -> list[dict[str, Any]]:
        kept(self.reading, id)
        rows = self.reading.execute(
            "SELECT id, box, length(jpeg), made FROM photos WHERE job = ? ORDER BY made, rowid", (id,)
        ).fetchall()
        return [{"id": row[0], "box": row[1], "bytes": row[2], "made": row[3]} for row in rows]

    def photo(self, id: str) -> bytes:
        row = self.reading.execute("SELECT jpeg FROM photos WHERE id = ?", (id,)).fetchone()
        if row is None:
            raise NotThere("there is no such photograph")
        return bytes(row[0])

    def pictures(self, id: str) -> list[tuple[str, bytes]]:
        """Every photograph of a job with its box. Made for a thread: it has a connection of its own."""
        with closing(connection(self.path)) as db:
            kept(db, id)
            return db.execute("SELECT box, jpeg FROM photos WHERE job = ? ORDER BY made, rowid", (id,)).fetchall()

    async def drop_photo(self, id: str) -> None:
        def work(db: sqlite3.Connection) -> None:
            if db.execute("DELETE FROM photos WHERE id = ?", (id,)).rowcount == 0:
                raise NotThere("there is no such photograph")

        await self.write(work)

    def setting(self, key: str) -> str | None:
        row = self.reading.execute("SELECT value FROM settings WHERE key = ?", (key,)).fetchone()
        return None if row is None else str(row[0])

    async def set_setting(self, key: str, value: str) -> None:
        def work(db: sqlite3.Connection) -> None:
            db.execute(
                "INSERT INTO settings VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value",
                (key, value),
            )

        await self.write(work)


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


def back_up(store: Path, target: Path, force: bool = False) -> int:
    """A copy of a database as it is at one moment, while a server may be writing to it; how many jobs it holds.

    The copy is checked before it takes its place. ``target`` is never replaced without ``force``.
    """
    if not store.is_file():
        raise FileTrouble(f"there are no jobs in {store}; name the database with --store")
    if target.exists() and any(part.exists() and part.samefile(target) for part in beside(store)):
        raise FileTrouble(f"{target} is the database itself; name another file")
    if (target.exists() or target.is_symlink()) and not force:
        raise FileTrouble(f"{target} is there already; --force writes over it")
    if target.exists() and not target.is_file():
        raise FileTrouble(f"{target} is no regular file; name another")
    if any(part.exists() for part in beside(target)[1:]):
        raise FileTrouble(f"beside {target} is a -wal or -journal file: it is a database in use; name another file")
    try:
        handle, name = tempfile.mkstemp(
            prefix=f".{target.name}.", suffix=".tmp", dir=target.parent
        )  # for its user only
        os.close(handle)
        try:
            count = copied(store, Path(name))
            put_in_place(Path(name), target, force)
        finally:
            for part in beside(Path(name)):
                part.unlink(missing_ok=True)
    except OSError as error:
        raise FileTrouble(f"{target} cannot be written: {error.strerror or error}; nothing was changed") from None
    except sqlite3.Error as error:
        raise FileTrouble(f"{store} cannot be copied: {error}; nothing was changed") from None
    return count


def copied(store: Path, to: Path) -> int:
    """Copy a database into a file: SQLite shows a reader one moment of it, whatever is written meanwhile."""
    with closing(
        sqlite3.connect(f"{store.absolute().as_uri()}?mode=ro", uri=True, timeout=PATIENCE_MS / 1000)
    ) as source:
        if source.execute("PRAGMA user_version").fetchone()[0] == 0:
            raise FileTrouble(f"{store} holds no jobs of Ampleroom")
        with closing(sqlite3.connect(to, isolation_level=None)) as copy:
            source.backup(copy)
            copy.execute("PRAGMA journal_mode = DELETE")  # one file, with nothing beside it
            if damage := damage_in(copy):
                raise FileTrouble(f"{store} is damaged ({damage}); no copy was made")
            count: int = copy.execute("SELECT count(*) FROM jobs").fetchone()[0]
    with to.open("rb+") as file:
        os.fsync(file.fileno())
    return count


def put_in_place(made: Path, target: Path, force: bool) -> None:
    """In one step; without ``force`` only where nothing came there meanwhile."""
    if force:
        made.replace(target)
        return
    try:
        os.link(made, target)
    except FileExistsError:
        raise FileTrouble(f"{target} is there already; --force writes over it") from None
    except OSError:  # a disk without links
        with target.open("xb") as file:
            target.chmod(0o600)
            file.write(made.read_bytes())


def connection(path: Path) -> sqlite3.Connection:
    """A connection whose commits outlast a power cut: with FULL the log is flushed to the disk at every commit, in WAL too.

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
    """The tables are there and can be read and written; whatever is not so is told now, and a file like that left as it is."""
    db.execute(f"PRAGMA busy_timeout = {PATIENCE_MS}")
    found = db.execute("PRAGMA user_version").fetchone()[0]
    if found > FORM:
        raise FileTrouble("it was made by a later Ampleroom, which can go on with it")
    if found == FORM:
        if damage := damage_in(db):
            raise FileTrouble(f"it is damaged ({damage})")
        db.execute("BEGIN IMMEDIATE")
        db.execute(f"PRAGMA user_version = {FORM}")  # a file that may only be read refuses this
        db.execute("ROLLBACK")
    else:
        db.executescript(SCHEMA)
        db.execute(f"PRAGMA user_version = {FORM}")
    db.execute("PRAGMA busy_timeout = 0")


def kept(db: sqlite3.Connection, id: str) -> Kept:
    row = db.execute(
        "SELECT j.id, j.title, j.version, v.sheet, j.changed, j.undo, j.redo, j.removed FROM jobs j "
        "JOIN versions v ON v.job = j.id AND v.version = j.version WHERE j.id = ?",
        (id,),
    ).fetchone()
    if row is None:
        raise NotThere("there is no such job")
    return Kept(row[0], row[1], row[2], row[3], row[4], row[5] != "[]", row[6] != "[]", bool(row[7]))


def steps(db: sqlite3.Connection, id: str) -> tuple[list[int], list[int]]:
    """The versions undo and redo would bring back, the next one last."""
    undo, redo = db.execute("SELECT undo, redo FROM jobs WHERE id = ?", (id,)).fetchone()
    return json.loads(undo), json.loads(redo)


def sheet_of(db: sqlite3.Connection, id: str, version: int) -> str:
    row = db.execute(
        "SELECT sheet FROM versions WHERE job = ? AND version = ?", (id, min(version, LARGEST_NUMBER))
    ).fetchone()
    if row is None:
        raise NotThere(f"there is no version {version} of this job")
    return str(row[0])


def write_version(
    db: sqlite3.Connection, current: Kept, sheet: str, title: str, label: str, undo: list[int], redo: list[int]
) -> Kept:
    """The next version of a job."""
    made, version = now(), current.version + 1
    db.execute(VERSION, (current.id, version, label[:LONGEST_LABEL], made, sheet))
    db.execute(
        "UPDATE jobs SET version = ?, title = ?, changed = ?, undo = ?, redo = ? WHERE id = ?",
        (version, title, made, json.dumps(undo), json.dumps(redo), current.id),
    )
    return Kept(current.id, title, version, sheet, made, bool(undo), bool(redo), current.removed)
