"""Kills the server in mid-save, again and again, and sees that nothing answered is lost.

    python scripts/kill_server.py NUMBER [SEED]      so many kills; prints a figure

Writers change jobs as fast as they can: taps, whole sheets, undo and redo. At a random moment the server process is
killed with SIGKILL, which no process can answer. After each restart every change that was answered is there with its
very text, the history of every job has no gap and holds besides only what was on its way, SQLite finds the database
whole, and undo still works. Exit status 1 if anything was lost.
"""

from __future__ import annotations

import http.client
import json
import os
import random
import re
import signal
import sqlite3
import subprocess
import sys
import tempfile
import threading
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
SHEET = "job Kiln shed\nedition 2020\nbox J1\n  square 4 x 2-1/8\n  clamps inside\nrun J1 > ? 12/2 nm-b\n"
WRITERS = 6
LONGEST = 0.6
"""Seconds a server lives at most before it is killed, once its writers write."""


class Lost(Exception):
    """Something answered is not there, or something is there that nobody wrote."""


@dataclass(slots=True)
class Job:
    """What one writer knows of its job."""

    id: str = ""
    answered: dict[int, str] = field(default_factory=dict)
    """The text of every version the server answered for."""
    on_its_way: str | None = None
    """What was sent last and not answered; any text, for an undo."""


def serve(home: Path) -> tuple[subprocess.Popen[str], int]:
    process = subprocess.Popen(
        [sys.executable, "-m", "ampleroom", "serve", "--port", "0"],
        env={**os.environ, "PYTHONPATH": str(ROOT / "src"), "AMPLEROOM_HOME": str(home)},
        stdout=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    said = process.stdout.readline()
    found = re.search(r"http://[^/]*:(\d+)/", said)
    if not found:
        raise Lost(f"the server did not start again: {said!r}")
    return process, int(found[1])


def ask(
    link: http.client.HTTPConnection, method: str, path: str, data: dict[str, Any] | None = None
) -> tuple[int, Any]:
    body = None if data is None else json.dumps(data)
    link.request(method, path, body, {"content-type": "application/json"} if body else {})
    got = link.getresponse()
    return got.status, json.loads(got.read())


def write(port: int, job: Job, dice: random.Random) -> None:
    """Change a job until the server is gone."""
    link = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
    try:
        if not job.id:
            status, made = ask(link, "POST", "/api/jobs", {"sheet": SHEET})
            assert status == 201
            job.id, job.answered[1] = made["id"], made["sheet"]
        while True:
            base = max(job.answered)
            path, data, method = change(job, base, dice)
            job.on_its_way = data.get("sheet", "?")
            status, kept = ask(link, method, f"/api/jobs/{job.id}{path}", data)
            job.on_its_way = None
            if status == 200:
                job.answered[kept["version"]] = kept["sheet"]
            elif status != 404:  # nothing to undo
                raise Lost(f"{method} {path} on version {base} was answered {status}: {kept}")
    except (OSError, http.client.HTTPException):
        pass  # killed
    finally:
        link.close()


def change(job: Job, base: int, dice: random.Random) -> tuple[str, dict[str, Any], str]:
    match dice.randrange(4):
        case 0:
            return "", {"base": base, "sheet": SHEET + f"note {dice.random()}\n" * dice.choice([1, 1, 1, 400])}, "PUT"
        case 1:
            return dice.choice(["/undo", "/redo"]), {"base": base}, "POST"
        case _:
            edit = {"do": "set-title", "title": f"Kiln shed {dice.random()}"}
            return "/edit", {"base": base, "edit": edit}, "POST"


def proved(database: Path, jobs: list[Job], port: int) -> int:
    """Look at all there is after a restart; so many versions were on their way and got to the disk unanswered."""
    with sqlite3.connect(f"file:{database}?mode=ro", uri=True) as db:
        said = [row[0] for row in db.execute("PRAGMA integrity_check")]
        rows = db.execute("SELECT job, version, sheet FROM versions").fetchall()
    db.close()
    if said != ["ok"]:
        raise Lost(f"SQLite says {said[:3]}")
    kept: dict[str, dict[int, str]] = {}
    for id, version, sheet in rows:
        kept.setdefault(id, {})[version] = sheet
    link = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
    extra = 0
    for job in jobs:
        if not job.id:
            continue
        there = kept.pop(job.id, {})
        newest = max(job.answered)
        if sorted(there) != list(range(1, len(there) + 1)):
            raise Lost(f"the history of a job has a gap: {sorted(there)}")
        for version, sheet in job.answered.items():
            if there.get(version) != sheet:
                raise Lost(f"version {version} was answered and is not there as it was")
        for version in set(there) - set(job.answered):
            if job.on_its_way is None or version != newest + 1 or job.on_its_way not in ("?", there[version]):
                raise Lost(f"version {version} was written by nobody")
            extra += 1
            job.answered[version] = there[version]
        job.on_its_way = None
        status, now = ask(link, "GET", f"/api/jobs/{job.id}")
        if status != 200 or (now["version"], now["sheet"]) != (max(there), there[max(there)]):
            raise Lost("a job is not at its last version")
        if now["can_undo"]:
            status, back = ask(link, "POST", f"/api/jobs/{job.id}/undo", {"base": now["version"]})
            if status != 200 or back["sheet"] not in there.values():
                raise Lost(f"undo was answered {status}")
            job.answered[back["version"]] = back["sheet"]
    link.close()
    if len(kept) > sum(not job.id for job in jobs):
        raise Lost("there is a job nobody made")
    return extra


def kill(number: int, seed: int, home: Path) -> dict[str, int]:
    """Kill so many servers, one after the other on the same database."""
    dice = random.Random(seed)
    jobs = [Job() for _ in range(WRITERS)]
    found = {"kills": 0, "answered": 0, "unanswered but kept": 0}
    troubles: list[BaseException] = []

    def guarded(port: int, job: Job, seed: int) -> None:
        try:
            write(port, job, random.Random(seed))
        except BaseException as trouble:
            troubles.append(trouble)

    process, port = serve(home)
    for _ in range(number):
        writers = [threading.Thread(target=guarded, args=(port, job, dice.getrandbits(32))) for job in jobs]
        for writer in writers:
            writer.start()
        time.sleep(dice.uniform(0.02, LONGEST))
        process.send_signal(signal.SIGKILL)
        process.wait()
        for writer in writers:
            writer.join()
        if process.stdout is not None:
            process.stdout.close()
        if troubles:
            raise troubles[0]
        process, port = serve(home)
        found["kills"] += 1
        found["unanswered but kept"] += proved(home / "jobs.db", jobs, port)
        found["answered"] = sum(len(job.answered) for job in jobs)
    process.kill()
    process.wait()
    if process.stdout is not None:
        process.stdout.close()
    return found


def main() -> int:
    number = int(sys.argv[1]) if len(sys.argv) > 1 else 20
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else random.randrange(10**6)
    with tempfile.TemporaryDirectory() as folder:
        try:
            found = kill(number, seed, Path(folder))
        except Lost as trouble:
            print(f"seed {seed}: LOST: {trouble}")
            return 1
    print(
        f"seed {seed}: killed {found['kills']} times in mid-save; {found['answered']} changes answered, none lost; "
        f"{found['unanswered but kept']} were on the disk before they could be answered"
    )
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
