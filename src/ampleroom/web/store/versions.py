"""A job and its versions: what is kept of them, and the rows they are kept in."""

from __future__ import annotations

import json
import sqlite3
from datetime import UTC, datetime
from typing import Any

from ampleroom.errors import AmpleroomError
from ampleroom.record import Record

VERSION = "INSERT INTO versions (job, version, label, made, sheet) VALUES (?, ?, ?, ?, ?)"
LONGEST_LABEL = 120
LARGEST_NUMBER = 2**63 - 1
"""SQLite's largest whole number; a version past it is not there, and asking for it is no trouble."""


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
    undo_label: str = ""
    """What undo would take back: ``one 12/2 more in K1``; empty where nobody wrote it down."""
    redo_label: str = ""

    def data(self) -> dict[str, Any]:
        """The job as the API sends it."""
        return {
            "id": self.id,
            "title": self.title,
            "version": self.version,
            "sheet": self.sheet,
            "changed": self.changed,
            "can_undo": self.can_undo,
            "can_redo": self.can_redo,
            "removed": self.removed,
            "undo_label": self.undo_label,
            "redo_label": self.redo_label,
        }


class Conflict(AmpleroomError):
    """Somebody else changed the job meanwhile; nothing was overwritten."""

    def __init__(self, current: Kept, base: int) -> None:
        super().__init__(f"the job was changed meanwhile: it is at version {current.version}, not {base}")
        self.current = current
        self.base = base


def now() -> str:
    """The time now in UTC, ISO 8601 to the millisecond."""
    return datetime.now(UTC).isoformat(timespec="milliseconds")


def kept(db: sqlite3.Connection, id: str) -> Kept:
    """A job as it is kept now, put away or not. Raises ``NotThere``."""
    row = db.execute(
        "SELECT j.id, j.title, j.version, v.sheet, j.changed, j.undo, j.redo, j.removed FROM jobs j "
        "JOIN versions v ON v.job = j.id AND v.version = j.version WHERE j.id = ?",
        (id,),
    ).fetchone()
    if row is None:
        raise NotThere("that job is not here any more")
    undo, redo = steps_of(row[5]), steps_of(row[6])
    return Kept(
        row[0], row[1], row[2], row[3], row[4], bool(undo), bool(redo), bool(row[7]), next_label(undo), next_label(redo)
    )


Step = tuple[int, str]
"""A version undo or redo would bring back, and what the change was that lies between."""


def steps_of(text: str) -> list[Step]:
    """The steps as they are kept; those of older databases are versions alone, and their change has no name."""
    return [(step, "") if isinstance(step, int) else (step[0], step[1]) for step in json.loads(text)]


def next_label(steps: list[Step]) -> str:
    """What the next step would take back; empty where there is none, or where nobody wrote it down."""
    return steps[-1][1] if steps else ""


def steps(db: sqlite3.Connection, id: str) -> tuple[list[Step], list[Step]]:
    """The steps undo and redo would take, the next one last."""
    undo, redo = db.execute("SELECT undo, redo FROM jobs WHERE id = ?", (id,)).fetchone()
    return steps_of(undo), steps_of(redo)


def sheet_of(db: sqlite3.Connection, id: str, version: int) -> str:
    """The sheet of one version of a job. Raises ``NotThere``."""
    row = db.execute(
        "SELECT sheet FROM versions WHERE job = ? AND version = ?", (id, min(version, LARGEST_NUMBER))
    ).fetchone()
    if row is None:
        raise NotThere(f"there is no version {version} of this job")
    return str(row[0])


def write_version(
    db: sqlite3.Connection, current: Kept, sheet: str, title: str, label: str, undo: list[Step], redo: list[Step]
) -> Kept:
    """The next version of a job."""
    made, version = now(), current.version + 1
    db.execute(VERSION, (current.id, version, label[:LONGEST_LABEL], made, sheet))
    db.execute(
        "UPDATE jobs SET version = ?, title = ?, changed = ?, undo = ?, redo = ? WHERE id = ?",
        (version, title, made, json.dumps(undo), json.dumps(redo), current.id),
    )
    return Kept(
        current.id,
        title,
        version,
        sheet,
        made,
        bool(undo),
        bool(redo),
        current.removed,
        next_label(undo),
        next_label(redo),
    )
