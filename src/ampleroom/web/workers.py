"""The worker processes do what takes more than a few milliseconds, so that the server can answer others meanwhile.

A thread would not do: it shares Python's lock with the event loop, and it cannot be ended when its time is up.
"""

from __future__ import annotations

import asyncio
import logging
import os
import subprocess
import sys
import threading
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import BinaryIO, cast

from ampleroom.errors import AmpleroomError
from ampleroom.web.work import MOST_MEMORY, BadRequest, Head, receive, send

log = logging.getLogger("ampleroom.web")

SOURCE = Path(__file__).resolve().parents[2]

TAP, SMALL, LARGE = 0, 1, 2
"""How heavy a task is: a tap, a question about a usual sheet, anything else."""
RANKS = (TAP, SMALL, LARGE, LARGE)
"""The heaviest task each worker takes: one is always free for taps soon, and one for small questions."""
SECONDS = 60.0
"""How long a task may take, and how long it may wait for a worker."""
MOST_KEYS = 64
STOPPING = "the server is being stopped; nothing was changed. Ask again when it is back"


class TooBusy(AmpleroomError):
    """A task that was not done, or not to its end, so that others can be."""


class Failure(Exception):
    """A defect met in a worker; its traceback."""


class Worker:
    """One process, started when it is needed; another after it was ended."""

    def __init__(self, rank: int, memory: int) -> None:
        self.rank = rank
        self.memory = memory
        self.process: subprocess.Popen[bytes] | None = None
        self.turn = threading.Lock()
        self.keys: dict[str, None] = {}
        """What it worked on last: it has read that already."""

    def started(self) -> subprocess.Popen[bytes]:
        """The process, started where there is none or it has ended."""
        if self.process is None or self.process.poll() is not None:
            self.end()
            path = os.pathsep.join([str(SOURCE), *filter(None, [os.environ.get("PYTHONPATH")])])
            self.process = subprocess.Popen(
                [sys.executable, "-m", "ampleroom.web.work", str(self.memory)],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                env={**os.environ, "PYTHONPATH": path},
            )
        return self.process

    def asked(self, head: Head, body: bytes) -> tuple[Head, bytes]:
        """A task done in the process. Called in a thread: it waits."""
        with self.turn:
            process = self.started()
            send(cast(BinaryIO, process.stdin), head, body)
            return receive(cast(BinaryIO, process.stdout))

    def end(self) -> None:
        """Kill the process; the next task starts another."""
        process, self.process = self.process, None
        self.keys.clear()
        if process is not None:
            process.kill()
            threading.Thread(target=process.wait).start()  # the system may take a while to take much memory back

    def remember(self, key: str) -> None:
        """Note what was worked on last; past ``MOST_KEYS`` the one noted longest ago goes."""
        if key:
            self.keys.pop(key, None)
            self.keys[key] = None
            if len(self.keys) > MOST_KEYS:
                del self.keys[next(iter(self.keys))]


class Workers:
    """All workers of a server. For one event loop."""

    def __init__(self, seconds: float = SECONDS, memory: int = MOST_MEMORY) -> None:
        self.seconds = seconds
        self.all = [Worker(rank, memory) for rank in RANKS]
        self.idle = list(self.all)
        self.closed = False
        self.waiting: list[tuple[int, asyncio.Future[Worker]]] = []
        self.threads = ThreadPoolExecutor(2 * len(RANKS), "worker")

    async def start(self) -> None:
        """Have the first worker ready before anybody asks."""
        await asyncio.get_running_loop().run_in_executor(self.threads, self.all[0].started)

    def close(self) -> None:
        """End all work: whoever waits is told so."""
        self.closed = True
        for _, turn in self.waiting:
            if not turn.done():
                turn.set_exception(TooBusy(STOPPING))
        for worker in self.all:
            worker.end()  # and with it the thread that waits for it
        self.threads.shutdown(wait=False)

    async def do(
        self, rank: int, head: Head, body: bytes = b"", key: str = "", more: float = 0.0
    ) -> tuple[Head, bytes]:
        """A task done by a worker. One that takes too long is ended, and its worker with it.

        ``more``: seconds it may take beyond the usual.

        Raises TooBusy, AmpleroomError for what a person can mend, Failure for a defect.
        """
        if self.closed:
            raise TooBusy(STOPPING)
        worker = await self.free(rank, key)
        whole = False
        try:
            async with asyncio.timeout(self.seconds + more):
                got, answer = await asyncio.get_running_loop().run_in_executor(self.threads, worker.asked, head, body)
            whole = got.get("trouble") != "memory"
            worker.remember(key)
        except TimeoutError:
            raise TooBusy(
                f"this takes more than {self.seconds:g} seconds, so it was stopped; nothing was changed. "
                "Ask about a smaller sheet, or use the command line"
            ) from None
        except (EOFError, OSError):
            if self.closed:
                raise TooBusy(STOPPING) from None
            raise TooBusy(
                "this was stopped before it was done, perhaps for lack of memory; nothing was changed"
            ) from None
        finally:
            if not whole:
                worker.end()
            self.release(worker)
        for line in got.pop("logged", ()):
            log.warning("%s", line)
        match got.get("trouble"):
            case None:
                return got, answer
            case "request":
                raise BadRequest(got["words"])
            case "question":
                raise AmpleroomError(got["words"])
            case "memory":
                raise TooBusy(
                    "this takes too much memory, so it was stopped; nothing was changed. Ask about a smaller sheet"
                )
            case _:
                raise Failure(got["words"])

    async def free(self, rank: int, key: str) -> Worker:
        """A worker that is free for such a task: one that knows what it is about, else the lightest there is."""
        fitting = [worker for worker in self.idle if worker.rank >= rank]
        if fitting:
            worker = min(fitting, key=lambda worker: (key not in worker.keys if key else False, worker.rank))
            self.idle.remove(worker)
            return worker
        turn: asyncio.Future[Worker] = asyncio.get_running_loop().create_future()
        self.waiting.append((rank, turn))
        try:
            async with asyncio.timeout(self.seconds):
                return await turn
        except BaseException as trouble:
            if turn.done() and not turn.cancelled() and not turn.exception():
                self.release(turn.result())  # it came in the very moment nobody waited for it any more
            if isinstance(trouble, TimeoutError):
                raise TooBusy("too many large questions at once; ask again in a minute") from None
            raise

    def release(self, worker: Worker) -> None:
        """Hand a worker to whoever waits for one; the lightest task first."""
        self.waiting = [(rank, turn) for rank, turn in self.waiting if not turn.done()]
        fitting = [entry for entry in self.waiting if entry[0] <= worker.rank]
        if not fitting:
            self.idle.append(worker)
            return
        entry = min(fitting, key=lambda entry: entry[0])
        self.waiting.remove(entry)
        entry[1].set_result(worker)
