"""Jobs kept in SQLite: every version whole, so that undo reaches back across restarts and nothing is ever overwritten.

``database.py`` is the file and its tables, ``writer.py`` how changes reach the disk, ``versions.py`` a job's rows,
``backup.py`` a copy of all of it.
"""

from __future__ import annotations

import secrets
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

from ampleroom.errors import AmpleroomError
from ampleroom.web.store.backup import back_up
from ampleroom.web.store.database import connection, private
from ampleroom.web.store.versions import (
    LARGEST_NUMBER,
    LONGEST_LABEL,
    VERSION,
    Conflict,
    Kept,
    NotThere,
    kept,
    now,
    sheet_of,
    steps,
    write_version,
)
from ampleroom.web.store.writer import Writer

MOST_UNDO = 500
HISTORY_PAGE = 1000


class Store:
    """The jobs in the database under a path: one connection that writes, one that reads what is on the disk. For one
    event loop.
    """

    def __init__(self, path: Path) -> None:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        private(path)
        self.path = path
        self.writer = Writer(path)
        try:
            self.reading = connection(path)
            self.reading.execute("PRAGMA query_only = ON")
        except BaseException:
            self.writer.close()
            raise

    def close(self) -> None:
        """What was answered is on the disk already; what waits is given up."""
        self.writer.close()
        self.reading.close()

    # ---- jobs ------------------------------------------------------------------------------------------------------

    def jobs(self, removed: bool = False) -> list[dict[str, Any]]:
        """All jobs, or all that were put away; the last changed first."""
        rows = self.reading.execute(
            "SELECT id, title, version, changed FROM jobs WHERE removed = ? ORDER BY changed DESC, rowid DESC",
            (int(removed),),
        )
        return [{"id": row[0], "title": row[1], "version": row[2], "changed": row[3]} for row in rows.fetchall()]

    async def create(self, sheet: str, title: str, label: str = "new") -> Kept:
        """A new job at version 1; back when it is on the disk."""

        def work(db: sqlite3.Connection) -> Kept:
            id, made = secrets.token_urlsafe(9), now()
            db.execute("INSERT INTO jobs VALUES (?, ?, 1, ?, ?, '[]', '[]', 0)", (id, title, made, made))
            db.execute(VERSION, (id, 1, label[:LONGEST_LABEL], made, sheet))
            return kept(db, id)

        return await self.writer.write(work, len(sheet))

    def get(self, id: str) -> Kept:
        """A job as it is kept now. Raises ``NotThere``."""
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
            undo = [*undo, (current.version, label[:LONGEST_LABEL])][-MOST_UNDO:]
            return write_version(db, current, sheet, title, label, undo, [])

        return await self.writer.write(work, len(sheet))

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
            to, label = source.pop()
            other.append((current.version, label))
            sheet = sheet_of(db, id, to)
            return write_version(
                db,
                current,
                sheet,
                title_of(sheet),
                f"{'undo' if back else 'redo'}: {label}".removesuffix(": "),
                undo,
                redo,
            )

        return await self.writer.write(work, len(kept(self.reading, id).sheet))

    def history(self, id: str, before: int = LARGEST_NUMBER) -> tuple[list[dict[str, Any]], bool]:
        """Versions from the newest back, a page at a time; and whether there are older ones."""
        kept(self.reading, id)
        rows = self.reading.execute(
            "SELECT version, label, made FROM versions WHERE job = ? AND version < ? ORDER BY version DESC LIMIT ?",
            (id, min(before, LARGEST_NUMBER), HISTORY_PAGE + 1),
        ).fetchall()
        page = [{"version": row[0], "label": row[1], "made": row[2]} for row in rows[:HISTORY_PAGE]]
        return page, len(rows) > HISTORY_PAGE

    def version(self, id: str, version: int) -> str:
        """The sheet of one version. Raises ``NotThere``."""
        return sheet_of(self.reading, id, version)

    async def remove(self, id: str, removed: bool) -> Kept:
        """Put a job away, or bring it back; nothing of it is deleted."""

        def work(db: sqlite3.Connection) -> Kept:
            kept(db, id)
            db.execute("UPDATE jobs SET removed = ?, changed = ? WHERE id = ?", (int(removed), now(), id))
            return kept(db, id)

        return await self.writer.write(work)

    # ---- photographs and settings ----------------------------------------------------------------------------------

    async def add_photo(self, id: str, box: str, jpeg: bytes, most: int) -> dict[str, Any]:
        """Keep a photograph of a box. Raises ``AmpleroomError`` where the box has ``most`` of them already."""

        def work(db: sqlite3.Connection) -> dict[str, Any]:
            kept(db, id)
            if db.execute("SELECT count(*) FROM photos WHERE job = ? AND box = ?", (id, box)).fetchone()[0] >= most:
                raise AmpleroomError(f"{box} has {most} photos already; remove one first")
            name, made = secrets.token_urlsafe(9), now()
            db.execute("INSERT INTO photos VALUES (?, ?, ?, ?, ?)", (name, id, box, jpeg, made))
            return {"id": name, "box": box, "bytes": len(jpeg), "made": made}

        return await self.writer.write(work, len(jpeg))

    def photos(self, id: str) -> list[dict[str, Any]]:
        """The photographs of a job, the oldest first, without their bytes. Raises ``NotThere``."""
        kept(self.reading, id)
        rows = self.reading.execute(
            "SELECT id, box, length(jpeg), made FROM photos WHERE job = ? ORDER BY made, rowid", (id,)
        ).fetchall()
        return [{"id": row[0], "box": row[1], "bytes": row[2], "made": row[3]} for row in rows]

    def photo(self, id: str) -> bytes:
        """A photograph's JPEG. Raises ``NotThere``."""
        row = self.reading.execute("SELECT jpeg FROM photos WHERE id = ?", (id,)).fetchone()
        if row is None:
            raise NotThere("that photo is not here any more")
        return bytes(row[0])

    def pictures(self, id: str) -> list[tuple[str, bytes]]:
        """Every photograph of a job with its box. Made for a thread: it has a connection of its own."""
        with closing(connection(self.path)) as db:
            kept(db, id)
            return db.execute("SELECT box, jpeg FROM photos WHERE job = ? ORDER BY made, rowid", (id,)).fetchall()

    async def drop_photo(self, id: str) -> None:
        """Delete a photograph for good. Raises ``NotThere``."""

        def work(db: sqlite3.Connection) -> None:
            if db.execute("DELETE FROM photos WHERE id = ?", (id,)).rowcount == 0:
                raise NotThere("that photo is not here any more")

        await self.writer.write(work)

    def setting(self, key: str) -> str | None:
        """A setting's value, or None where it was never set."""
        row = self.reading.execute("SELECT value FROM settings WHERE key = ?", (key,)).fetchone()
        return None if row is None else str(row[0])

    async def set_setting(self, key: str, value: str) -> None:
        """Keep a setting; back when it is on the disk."""

        def work(db: sqlite3.Connection) -> None:
            db.execute(
                "INSERT INTO settings VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value",
                (key, value),
            )

        await self.writer.write(work)


__all__ = ["Conflict", "Kept", "NotThere", "Store", "back_up"]
