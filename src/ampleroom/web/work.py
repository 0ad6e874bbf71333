"""What a worker process does: it answers questions one after the other, and can be ended without harm to the jobs.

A message is two lengths, a head in JSON and a body of bytes. The body of a question is what the browser sent, as it
came: the process that keeps the jobs neither reads a large sheet nor writes a large answer.
"""

from __future__ import annotations

import json
import logging
import os
import signal
import struct
import sys
import threading
import traceback
from base64 import b64encode
from collections.abc import Callable
from queue import SimpleQueue
from typing import Any, BinaryIO

import msgspec

from ampleroom.errors import AmpleroomError

LENGTHS = struct.Struct("!QQ")
MOST_MEMORY = 4_000_000_000
"""Bytes a worker may take, where the system can hold it to that."""

MOST_LINES = 20
LONGEST_LINE = 1_000

log = logging.getLogger("ampleroom.web")

Head = dict[str, Any]


class BadRequest(AmpleroomError):
    """A body that is not what this address takes."""


def object_in(body: bytes) -> dict[str, Any]:
    """The JSON object a request brings."""
    try:
        data = msgspec.json.decode(body)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError) as error:
        raise BadRequest(f"not JSON: {error}") from None
    if not isinstance(data, dict):
        raise BadRequest("send one JSON object")
    return data


# ---- messages ------------------------------------------------------------------------------------------------------


def send(pipe: BinaryIO, head: Head, body: bytes) -> None:
    """Write one message: the lengths of head and body, the head as JSON, the body."""
    words = json.dumps(head).encode()
    pipe.write(LENGTHS.pack(len(words), len(body)))
    pipe.write(words)
    pipe.write(body)
    pipe.flush()


def receive(pipe: BinaryIO) -> tuple[Head, bytes]:
    """The next message; ``EOFError`` where the other end is gone."""
    words, body = LENGTHS.unpack(exactly(pipe, LENGTHS.size))
    head: Head = json.loads(exactly(pipe, words))
    return head, exactly(pipe, body)


def exactly(pipe: BinaryIO, size: int) -> bytes:
    """So many bytes from a pipe. Raises ``EOFError`` where it ends before."""
    data = pipe.read(size)
    if len(data) < size:
        raise EOFError
    return data


# ---- what can be asked ---------------------------------------------------------------------------------------------


def do_answer(head: Head, body: bytes) -> tuple[Head, bytes]:
    """The answer to a question as JSON, and the status it has."""
    from ampleroom.web import engine
    from ampleroom.web.importing import imported

    sizes: list[tuple[str, int]] = head.get("photos") or []
    end = len(body) - sum(size for _, size in sizes)
    data = object_in(body[:end])
    data.pop("photos", None)  # only those kept by the server, which were encoded there
    if sizes:
        photos = data["photos"] = {}
        for box, size in sizes:
            photos.setdefault(box, []).append(b64encode(body[end : end + size]).decode("ascii"))
            end += size
    action = head["action"]
    answer = imported(data) if action == "import" else engine.answer(action, data)
    return {"status": 422 if "error" in answer else 200}, msgspec.json.encode(answer)


def do_edit(head: Head, body: bytes) -> tuple[Head, bytes]:
    """The sheet after a tap, then the rest of the answer as JSON; or only what is wrong with the tap."""
    from ampleroom.web import engine
    from ampleroom.web.engine.change import patch_of

    before = body.decode()
    answer = engine.answer("edit", {**head["data"], "sheet": before})
    if "error" in answer:
        return {"status": 422}, msgspec.json.encode(answer)
    after = answer.pop("sheet")
    if head["data"].get("patch"):
        answer["patch"] = patch_of(before, after)
    sheet = after.encode()
    return {"status": 200, "sheet": len(sheet)}, sheet + msgspec.json.encode(answer)


def do_stock(head: Head, body: bytes) -> tuple[Head, bytes]:
    """Nothing, where the stock file can be read."""
    from ampleroom.web import engine

    engine.stock_read(body.decode())
    return {}, b""


def do_box(head: Head, body: bytes) -> tuple[Head, bytes]:
    """A box's name as the sheet writes it."""
    from ampleroom.web import engine

    job, _ = engine.opened(body.decode())
    return {"name": job.box(head["box"]).name}, b""


def do_photo(head: Head, body: bytes) -> tuple[Head, bytes]:
    """A photograph made small, without its place and camera, as a JPEG."""
    from ampleroom.web.photos import cleaned

    return {}, cleaned(body)


TASKS: dict[str, Callable[[Head, bytes], tuple[Head, bytes]]] = {
    "answer": do_answer,
    "edit": do_edit,
    "stock": do_stock,
    "box": do_box,
    "photo": do_photo,
}


class Kept(logging.Handler):
    """Keeps what is logged during a task, for the server to write into its own log."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.lines: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        """Keep a record's message, shortened; past ``MOST_LINES`` nothing more."""
        if len(self.lines) < MOST_LINES:
            self.lines.append(record.getMessage()[:LONGEST_LINE])


def done(head: Head, body: bytes) -> tuple[Head, bytes]:
    """A task done, or told what kind of trouble there was; with what was logged meanwhile."""
    kept = Kept()
    log.addHandler(kept)
    try:
        outcome, answer = tried(head, body)
    finally:
        log.removeHandler(kept)
    return ({**outcome, "logged": kept.lines} if kept.lines else outcome), answer


def tried(head: Head, body: bytes) -> tuple[Head, bytes]:
    """A task's head and body, or the kind of trouble it met and the words for it."""
    try:
        return TASKS[head["task"]](head, body)
    except AmpleroomError as trouble:
        kind = "request" if isinstance(trouble, BadRequest) else "question"
        return {"trouble": kind, "words": str(trouble)}, b""
    except MemoryError:
        return {"trouble": "memory", "words": "it takes too much memory"}, b""
    except Exception:
        return {"trouble": "failure", "words": traceback.format_exc()}, b""


def main() -> None:
    """The process: tasks from standard input in turn, answers to standard output, until the server is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the server, which ends this process
    memory = int(sys.argv[1])
    questions, answers = os.fdopen(os.dup(0), "rb"), os.fdopen(os.dup(1), "wb")
    nothing = os.open(os.devnull, os.O_RDWR)
    os.dup2(nothing, 0)
    os.dup2(nothing, 1)  # whatever a library prints is no answer
    bounded(memory)
    waiting: SimpleQueue[tuple[Head, bytes]] = SimpleQueue()

    def listen() -> None:
        try:
            while True:
                waiting.put(receive(questions))
        except (EOFError, OSError):
            os._exit(0)  # the server is gone, and with it whoever asked

    threading.Thread(target=listen, daemon=True).start()
    from ampleroom.web import engine  # noqa: F401  (before the first question comes)

    while True:
        send(answers, *done(*waiting.get()))


def bounded(memory: int) -> None:
    """No more memory than there should be."""
    try:
        import resource
    except ImportError:
        return  # Windows: the time is bounded all the same
    resource.setrlimit(resource.RLIMIT_AS, (memory, memory))


if __name__ == "__main__":
    main()
