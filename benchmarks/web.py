"""How quick the server is: its start, its first page, a tap on a 200-box job, thirty writers at once,
and light questions while others ask large ones.

    ./run bench web [--seconds N]

A server process of its own, asked from this process over the loopback address; medians, all in one run on one machine.
The load is bounded: thirty connections, each sending its next change only when the last is answered. Afterwards every
answered change is looked for in the history. What else the machine was doing is printed, for it tells on every figure.
"""

from __future__ import annotations

import argparse
import http.client
import json
import os
import re
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parents[1]
MORE = (
    "\n"
    "box X{n} at loft, place {n}\n"
    "  marked 34 in3 plastic 2-gang\n"
    "  clamps tabs\n"
    "  switch #14\n"
    "run X{n} > ? 14/2 nm-b\n"
)
LARGE = "box B{n}\n  marked 20.3 in3 plastic\n  receptacle #12\nrun B{n} > ? 12/2 nm-b\n"
PART = '[[device]]\nname = "part {n}"\nis = "switch"\nprice = 1.00\n\n'
WRITERS = 30
TAPS = 200


class Server:
    """A server process with a store of its own."""

    def __init__(self, home: Path) -> None:
        began = time.perf_counter()
        self.store = home / "jobs.db"
        self.process = subprocess.Popen(
            [sys.executable, "-m", "ampleroom", "serve", "--port", "0", "--store", str(self.store)],
            stdout=subprocess.PIPE,
            text=True,
            env={**os.environ, "PYTHONPATH": str(HERE / "src")},
        )
        assert self.process.stdout is not None
        found = re.search(r":(\d+)/", self.process.stdout.readline())
        assert found, "the server did not start"
        self.port = int(found[1])
        with self.linked() as link:
            asked(link, "GET", "/api/hello")
        self.start_took = time.perf_counter() - began

    @contextmanager
    def linked(self) -> Iterator[http.client.HTTPConnection]:
        link = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        try:
            yield link
        finally:
            link.close()

    def processor_time(self) -> float:
        """Seconds, where the system tells them of another process; it does on Linux."""
        try:
            said = Path(f"/proc/{self.process.pid}/stat").read_text().rpartition(")")[2].split()
        except OSError:
            return 0.0
        return (int(said[11]) + int(said[12])) / os.sysconf("SC_CLK_TCK")

    def stop(self) -> None:
        self.process.terminate()
        self.process.communicate(timeout=20)


def asked(link: http.client.HTTPConnection, method: str, path: str, data: Any = None) -> bytes:
    body = None if data is None else json.dumps(data)
    link.request(method, path, body, {"content-type": "application/json"} if body else {})
    got = link.getresponse()
    answer = got.read()
    assert got.status in (200, 201), (got.status, answer[:200])
    return answer


def first_page(server: Server) -> float:
    """The page with all it needs before it can be used, over a fresh connection; without a browser's own work."""
    began = time.perf_counter()
    with server.linked() as link:
        wanted, seen = ["/"], set[str]()
        while wanted:
            path = wanted.pop()
            if path in seen:
                continue
            seen.add(path)
            said = asked(link, "GET", path).decode()
            found = re.findall(r'(?:from |import )[\'"]\./([\w.]+)[\'"]', said) if path.endswith(".js") else []
            found += re.findall(r'(?:src|href)="\.?/?([\w.]+)"', said) if path == "/" else []
            wanted += ["/" + name for name in found]
        asked(link, "GET", "/api/jobs")
        asked(link, "GET", "/api/examples")
    assert len(seen) > 5, "the page has no parts"
    return time.perf_counter() - began


def sheet_of_200() -> str:
    text = (HERE / "examples" / "rowhouse.job").read_text("utf-8")
    return text + "".join(MORE.format(n=n) for n in range(20))


def sheet_of_4000() -> str:
    return "job Harbor\nedition 2020\n" + "".join(MORE.format(n=n) for n in range(4000))


def taps(server: Server, sheet: str, number_of_taps: int = TAPS, item: bool = False) -> list[float]:
    """A cable in and out of box X3, to the whole answer with verdict, worksheet and pictures. ``item``: a switch
    instead, so that every line below X3 moves.
    """
    found = []
    with server.linked() as link:
        job = json.loads(asked(link, "POST", "/api/jobs", {"sheet": sheet}))
        view: dict[str, Any] = {}
        for number in range(number_of_taps + 10):
            edit: dict[str, Any] = {"do": "add-cable", "box": "X3", "cable": "12/2 nm-b"}
            if number % 2:
                edit = {"do": "drop-run", "box": "X3", "index": view["runs"][-1]["index"]}
            if item:
                edit = {"do": "add-item", "box": "X3", "line": "switch #14"}
                if number % 2:
                    edit = {"do": "drop-item", "box": "X3", "index": view["items"][-1]["index"]}
            began = time.perf_counter()
            said = asked(
                link, "POST", f"/api/jobs/{job['id']}/edit", {"base": job["version"], "edit": edit, "box": "X3"}
            )
            found.append(time.perf_counter() - began)
            job = json.loads(said)
            view = job["view"]
            assert view["verdict"] in ("passes", "fails")
    return found[10:]


def write(server: Server, box: str, until: threading.Event, answered: dict[str, dict[int, str]]) -> None:
    """One writer on a job of its own: taps on a box, or changes of the title; each once the last is answered."""
    sheet = (HERE / "examples" / "studio.job").read_text("utf-8")
    with server.linked() as link:
        job = json.loads(asked(link, "POST", "/api/jobs", {"sheet": sheet}))
        mine = answered[job["id"]] = {1: job["sheet"]}
        while not until.is_set():
            edit = {"do": "set-title", "title": f"Job {job['id']}, change {job['version']}"}
            if box:
                edit = {"do": "set-clamps", "box": box, "way": ("inside", "outside")[job["version"] % 2]}
            data = {"base": job["version"], "edit": edit, "box": box}
            job = json.loads(asked(link, "POST", f"/api/jobs/{job['id']}/edit", data))
            mine[job["version"]] = job["sheet"]


def many_writers(server: Server, seconds: float, box: str) -> tuple[float, float, int]:
    """Edits answered a second, processor seconds of the server for each, and how many of the answered are lost."""
    answered: dict[str, dict[int, str]] = {}
    until = threading.Event()
    threads = [threading.Thread(target=write, args=(server, box, until, answered)) for _ in range(WRITERS)]
    began, busy = time.perf_counter(), server.processor_time()
    for thread in threads:
        thread.start()
    time.sleep(seconds)
    until.set()
    for thread in threads:
        thread.join()
    took, busy = time.perf_counter() - began, server.processor_time() - busy
    assert len(answered) == WRITERS, "a writer did not get on"
    with sqlite3.connect(f"file:{server.store}?mode=ro", uri=True) as db:
        rows = db.execute("SELECT job, version, sheet FROM versions").fetchall()
    db.close()
    kept = {(job, version): text for job, version, text in rows}
    edits = sum(len(versions) - 1 for versions in answered.values())
    lost = sum(kept.get((job, version)) != text for job, mine in answered.items() for version, text in mine.items())
    return edits / took, busy / edits, lost


def meanwhile(server: Server, seconds: float) -> dict[str, list[float]]:
    """How long light questions take while others ask about a 40,000-box job and bring 2,000 parts."""
    large = "job Harbor\nedition 2020\namendments harbor.toml\n" + "".join(LARGE.format(n=n) for n in range(40_000))
    parts = "".join(PART.format(n=n) for n in range(2000))
    until = threading.Event()

    def ask(method: str, path: str, data: dict[str, Any]) -> None:
        """Asked again and again; what is refused or stopped for its time is an answer as well."""
        while not until.is_set():
            link = http.client.HTTPConnection("127.0.0.1", server.port, timeout=300)
            try:
                link.request(method, path, json.dumps(data), {"content-type": "application/json"})
                link.getresponse().read()
            except OSError:
                pass  # the server was stopped
            finally:
                link.close()

    heavy = [
        ("POST", f"/api/answer/{name}", {"sheet": large, "box": "B7"}) for name in ("check", "map", "remedies", "job")
    ]
    heavy.append(("PUT", "/api/stock", {"stock": parts}))
    for each in heavy:
        threading.Thread(target=ask, args=each, daemon=True).start()
    time.sleep(1)
    sheet = (HERE / "examples" / "studio.job").read_text("utf-8")
    found: dict[str, list[float]] = {"hello": [], "jobs": [], "tap": []}
    with server.linked() as link:
        job = json.loads(asked(link, "POST", "/api/jobs", {"sheet": sheet}))
        end = time.perf_counter() + seconds
        while time.perf_counter() < end:
            for name, path in (("hello", "/api/hello"), ("jobs", "/api/jobs")):
                began = time.perf_counter()
                asked(link, "GET", path)
                found[name].append(time.perf_counter() - began)
            way = ("inside", "outside")[job["version"] % 2]
            data = {"base": job["version"], "edit": {"do": "set-clamps", "box": "J1", "way": way}, "box": "J1"}
            began = time.perf_counter()
            job = json.loads(asked(link, "POST", f"/api/jobs/{job['id']}/edit", data))
            found["tap"].append(time.perf_counter() - began)
            time.sleep(0.02)
    until.set()
    return found


def commits(home: Path, seconds: float = 2.0) -> float:
    """What the disk gives a single writer that waits for every commit, in the same mode: the measure beside it."""
    with sqlite3.connect(home / "bare.db", isolation_level=None) as db:
        db.execute("PRAGMA journal_mode = WAL")
        db.execute("PRAGMA synchronous = FULL")
        db.execute("CREATE TABLE t (x TEXT)")
        count, began = 0, time.perf_counter()
        while time.perf_counter() - began < seconds:
            db.execute("INSERT INTO t VALUES (?)", ("x" * 4000,))
            count += 1
        took = time.perf_counter() - began
    db.close()
    return count / took


def told(name: str, values: list[float], aim: str) -> None:
    ranked = sorted(value * 1000 for value in values)
    late = ranked[max(0, int(len(ranked) * 0.95) - 1)]
    print(f"{name:<52} median {statistics.median(ranked):7.1f} ms   95 of 100 under {late:7.1f} ms   aim {aim}")


def main() -> int:
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--seconds", type=float, default=5.0, help="how long the thirty write (5)")
    seconds = options.parse_args().seconds
    print(f"{os.cpu_count()} processors; load before: {os.getloadavg()[0]:.1f}")
    with tempfile.TemporaryDirectory() as folder:
        starts = []
        for number in range(5):
            home = Path(folder) / str(number)
            home.mkdir()
            server = Server(home)
            starts.append(server.start_took)
            if number < 4:
                server.stop()
        told("start of serve, to its first answer, a new store", starts, "none")
        told("first page and its parts, from the server", [first_page(server) for _ in range(15)], "500 ms")
        told("tap to verdict, as JSON, on a 200-box job", taps(server, sheet_of_200()), "50 ms")
        told("the same on a 4,000-box job", taps(server, sheet_of_4000(), 40), "50 ms")
        told("the same of a line that moves all lines below", taps(server, sheet_of_4000(), 40, item=True), "50 ms")
        lost = 0
        for name, box, aim in (
            ("30 writers, a change each", "", "300, 0 lost"),
            ("30 writers, a tap each, with verdict and pictures", "J1", "none, 0 lost"),
        ):
            rate, each, gone = many_writers(server, seconds, box)
            lost += gone
            print(
                f"{name:<52} {rate:5.0f} a second   {each * 1000:4.1f} ms of the server's processor each   "
                f"lost {gone}   aim {aim}"
            )
        for name, values in meanwhile(server, 2 * seconds).items():
            ranked = sorted(value * 1000 for value in values)
            name = f"{name}, while five large questions are asked"
            print(
                f"{name:<52} median {statistics.median(ranked):7.1f} ms   "
                f"99 of 100 under {ranked[int(len(ranked) * 0.99)]:7.1f} ms   longest {ranked[-1]:7.1f} ms"
            )
        server.stop()
        print(f"{'one writer waiting for each commit, SQLite alone':<52} {commits(Path(folder)):5.0f} a second")
    print(f"load after: {os.getloadavg()[0]:.1f}")
    return 1 if lost else 0


if __name__ == "__main__":
    raise SystemExit(main())
