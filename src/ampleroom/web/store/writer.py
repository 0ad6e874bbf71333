"""One writer of the database: what waits while a commit is on its way to the disk is committed together after it.

So thirty writers do not wait for thirty disk flushes; each is told only when its own change is on the disk. The
statements themselves run in the thread of the event loop and only the flush beside it: a second thread would have to
wait for Python's lock after every statement. Where a large sheet is among them, the statements run beside the loop as
well.
"""

from __future__ import annotations

import asyncio
import sqlite3
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any, TypeVar

from ampleroom.web.store.database import PATIENCE_MS, connection, made_ready

T = TypeVar("T")
Work = Callable[[sqlite3.Connection], T]

LARGE = 200_000
"""Letters or bytes that take SQLite more than a few milliseconds to write."""


class Writer:
    """The connection that writes to the database under a path, which is made ready first. For one event loop."""

    def __init__(self, path: Path) -> None:
        self.writing = connection(path)
        try:
            made_ready(self.writing)
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
        self.writing.close()

    async def write(self, work: Work[T], size: int = 0) -> T:
        """Do something to the database; back when it is on the disk. ``size``: how many letters or bytes it writes."""
        future: asyncio.Future[T] = asyncio.get_running_loop().create_future()
        self.waiting.append((work, future))
        self.large = self.large or size > LARGE
        if self.committing is None:
            self.committing = asyncio.create_task(self.commit_all())
        return await future

    async def commit_all(self) -> None:
        """Commit what waits, batch after batch, until nothing does."""
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
                done = await loop.run_in_executor(self.disk, lambda: [self.tried(work) for work, _ in wanted])
            else:
                done = [self.tried(work) for work, _ in wanted]
            results = [(future, *outcome) for (_, future), outcome in zip(wanted, done, strict=True)]
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
        """Run a statement in the disk's thread, so that the event loop goes on meanwhile."""
        await asyncio.get_running_loop().run_in_executor(self.disk, self.writing.execute, statement)

    def tried(self, work: Work[T]) -> tuple[T | None, Exception | None]:
        """One piece of work, taken back whole if it goes wrong."""
        self.writing.execute("SAVEPOINT one")
        try:
            result = work(self.writing)
        except Exception as error:
            self.writing.execute("ROLLBACK TO one")
            self.writing.execute("RELEASE one")
            return None, error
        self.writing.execute("RELEASE one")
        return result, None
