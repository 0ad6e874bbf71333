"""What the tests of the server share: two ways to ask it, and what to ask about."""

from __future__ import annotations

import asyncio
import atexit
import http.client
import json
import os
import re
import signal
import sqlite3
import subprocess
import sys
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple, Self
from urllib.parse import urlsplit

ROOT = Path(__file__).resolve().parent.parent.parent
EXAMPLES = ROOT / "examples"
STOCK = (EXAMPLES / "stock.toml").read_text("utf-8")
STUDIO = (EXAMPLES / "studio.job").read_text("utf-8")

SHEET = """job Kiln shed
edition 2020

panel P at the landing

box J1 at the rafters
  square 4 x 2-1/8
  clamps inside
box S1 at the door
  marked 34 in3 plastic 2-gang
  clamps tabs
  switch #14
run P > J1 12/2 nm-b
run J1 > S1 14/2 nm-b
"""


class Answer(NamedTuple):
    status: int
    headers: dict[str, str]
    body: bytes

    @property
    def json(self) -> Any:
        return json.loads(self.body)


class Asking:
    """Questions in the words of the page; ``ask`` is how they get there."""

    def ask(self, method: str, path: str, body: bytes = b"", headers: dict[str, str] | None = None) -> Answer:
        raise NotImplementedError

    def get(self, path: str, **headers: str) -> Answer:
        return self.ask("GET", path, headers=headers)

    def send(self, method: str, path: str, data: Any) -> Answer:
        return self.ask(method, path, json.dumps(data).encode(), {"content-type": "application/json"})

    def post(self, path: str, **data: Any) -> Answer:
        return self.send("POST", path, data)

    def put(self, path: str, **data: Any) -> Answer:
        return self.send("PUT", path, data)

    def answer(self, action: str, **data: Any) -> Answer:
        return self.post(f"/api/answer/{action}", **data)

    def new(self, sheet: str = SHEET) -> dict[str, Any]:
        made = self.post("/api/jobs", sheet=sheet)
        assert made.status == 201, made
        found: dict[str, Any] = made.json
        return found

    def job(self, id: str) -> dict[str, Any]:
        found: dict[str, Any] = self.get(f"/api/jobs/{id}").json
        return found

    def edit(self, job: dict[str, Any], do: str, **more: Any) -> Answer:
        """A tap on a job as it was last seen."""
        return self.post(
            f"/api/jobs/{job['id']}/edit", base=job["version"], edit={"do": do, **more}, box=more.get("box", "")
        )

    def whole_history(self, id: str) -> list[str]:
        """Every version's sheet, the first one first."""
        rows = self.get(f"/api/jobs/{id}/history").json["versions"]
        assert [row["version"] for row in rows] == list(range(len(rows), 0, -1))
        return [self.get(f"/api/jobs/{id}/history/{row['version']}").json["sheet"] for row in reversed(rows)]


@cache
def shared_workers() -> Any:
    """The worker processes all applications of a test process share: they keep nothing, and take a while to start."""
    from ampleroom.web.workers import Workers

    workers = Workers()
    atexit.register(workers.close)
    return workers


class Application(Asking):
    """The application asked in this process, as a server would ask it."""

    def __init__(self, database: Path, patience: float = 20.0, pages: Path | None = None, **bounds: float) -> None:
        from ampleroom.web.server import STATIC, application
        from ampleroom.web.store import Store
        from ampleroom.web.workers import Workers

        self.there: dict[str, str] = {}
        self.runner = asyncio.Runner()
        self.store = Store(database)
        self.workers = Workers(**bounds) if bounds else shared_workers()  # type: ignore[arg-type]
        self.app = application(self.store, pages or STATIC, EXAMPLES, patience, self.workers)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *trouble: object) -> None:
        self.runner.close()
        if self.workers is not shared_workers():
            self.workers.close()
        self.store.close()

    def ask(self, method: str, path: str, body: bytes = b"", headers: dict[str, str] | None = None) -> Answer:
        return self.runner.run(self.asked(method, path, body, headers))

    async def asked(self, method: str, path: str, body: bytes = b"", headers: dict[str, str] | None = None) -> Answer:
        from urllib.parse import unquote

        parts = urlsplit("http://here" + path) if path.startswith("/") else urlsplit(path)
        given = {"host": "127.0.0.1:8617", "content-length": str(len(body)), **(headers or {})}
        scope = {
            "type": "http",
            "asgi": {"version": "3.0"},
            "http_version": "1.1",
            "method": method,
            "scheme": "http",
            "path": unquote(parts.path),
            "raw_path": parts.path.encode(),
            "root_path": "",
            "query_string": parts.query.encode(),
            "headers": [(name.replace("_", "-").lower().encode(), value.encode()) for name, value in given.items()],
            "client": ("127.0.0.1", 1),
            "server": ("127.0.0.1", 8617),
        }
        sent: list[Any] = []
        coming = [{"type": "http.request", "body": body, "more_body": False}]

        async def receive() -> dict[str, Any]:
            if coming:
                return coming.pop()
            await asyncio.Event().wait()  # the asking side stays there until it is answered
            raise AssertionError

        async def send(message: Any) -> None:
            sent.append(message)

        await self.app(scope, receive, send)
        pairs = [(name.decode().lower(), value.decode()) for name, value in sent[0]["headers"]]
        assert len(dict(pairs)) == len(pairs), "a header is there twice"
        return Answer(sent[0]["status"], dict(pairs), b"".join(message["body"] for message in sent[1:]))


class Running(Asking):
    """A server process on a free port, its jobs in a folder of its own."""

    def __init__(self, home: Path, *options: str, patience: float | None = None) -> None:
        self.home = home
        self.log = home / "log.txt"
        home.mkdir(parents=True, exist_ok=True)
        environment = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "AMPLEROOM_HOME": str(home)}
        if patience is not None:
            environment["AMPLEROOM_PATIENCE"] = str(patience)
        with self.log.open("ab") as log:
            self.process = subprocess.Popen(
                [sys.executable, "-m", "ampleroom", "serve", "--port", "0", *options],
                env=environment,
                stdout=subprocess.PIPE,
                stderr=log,
            )
        assert self.process.stdout is not None
        said = self.process.stdout.readline().decode()
        found = re.search(r"http://[^/]*:(\d+)/", said)
        assert found, f"the server did not start: {said!r} {self.log.read_text()!r}"
        self.port = int(found[1])

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *trouble: object) -> None:
        self.stop()

    def stop(self, how: int = signal.SIGKILL) -> int:
        if self.process.poll() is None:
            self.process.send_signal(how)
        code = self.process.wait(20)
        assert self.process.stdout is not None
        self.process.stdout.close()
        return code

    def ask(self, method: str, path: str, body: bytes = b"", headers: dict[str, str] | None = None) -> Answer:
        link = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        try:
            link.request(
                method, path, body or None, {name.replace("_", "-"): value for name, value in (headers or {}).items()}
            )
            got = link.getresponse()
            return Answer(got.status, {name.lower(): value for name, value in got.getheaders()}, got.read())
        finally:
            link.close()

    @property
    def logged(self) -> str:
        return self.log.read_text("utf-8", "replace")

    @property
    def database(self) -> Path:
        return self.home / "jobs.db"


def whole(database: Path) -> list[str]:
    """What SQLite itself says of a database: ``["ok"]``."""
    with sqlite3.connect(database) as db:
        found = [row[0] for row in db.execute("PRAGMA integrity_check")] + db.execute(
            "PRAGMA foreign_key_check"
        ).fetchall()
    db.close()
    return found
