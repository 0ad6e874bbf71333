"""A copy of the database while a server may be writing to it."""

from __future__ import annotations

import os
import sqlite3
import tempfile
from contextlib import closing
from pathlib import Path

from ampleroom.errors import FileTrouble
from ampleroom.web.store.database import PATIENCE_MS, beside, damage_in


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
