"""How quick the page is in a real Chromium: first paint, touch to verdict, and Python ready in the browser.

    ./run bench web_browser [--offline FOLDER]

The jobs are examples/rowhouse.job with twenty more boxes, 200 in all, and one of 4,000. Times are of the browser's own
clock, from the tap to the frame in which the new verdict stands; medians of many taps, all in one run on one machine.
The load of the machine is printed beside.
"""

from __future__ import annotations

import argparse
import json
import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parents[1]
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--no-first-run",
]
MORE = (
    "\n"
    "box X{n} at loft, place {n}\n"
    "  marked 34 in3 plastic 2-gang\n"
    "  clamps tabs\n"
    "  switch #14\n"
    "run X{n} > ? 14/2 nm-b\n"
)

TAP = """
async (name) => {
  const verdict = () => document.querySelector('#answer')?.textContent;
  const frame = () => new Promise((done) => requestAnimationFrame(done));
  const named = (each) => each.getAttribute('aria-label') === name;
  let button; // of a row that is drawn right after the verdict
  while (!(button = [...document.querySelectorAll('main button')].find(named))) await frame();
  const before = verdict();
  const began = performance.now();
  button.click();
  while (verdict() === before) await frame();
  return performance.now() - began;
}
"""


@contextmanager
def server(store: Path, pages: Path | None = None, port: int = 0) -> Iterator[tuple[str, subprocess.Popen[str]]]:
    command = [sys.executable, "-m", "ampleroom", "serve", "--port", str(port), "--store", str(store)]
    command += ["--pages", str(pages)] if pages else []
    running = subprocess.Popen(
        command, stdout=subprocess.PIPE, text=True, env={**os.environ, "PYTHONPATH": str(HERE / "src")}
    )
    try:
        assert running.stdout is not None
        line = running.stdout.readline()
        yield line.split()[1], running
    finally:
        running.kill()
        running.wait()


def sheet(boxes: int) -> str:
    """A job of so many boxes: 200, or any larger one of boxes alike."""
    text = (HERE / "examples" / "rowhouse.job").read_text("utf-8")
    if boxes > 200:
        return "job Harbor\nedition 2020\n" + "".join(MORE.format(n=n) for n in range(boxes))
    return text + "".join(MORE.format(n=n) for n in range(20))


def taps(page: Any, count: int) -> list[float]:
    """Cables brought in and taken out, one after another."""
    found = []
    for _ in range(count // 2):
        found.append(page.evaluate(TAP, "Add one 12/2"))
        found.append(page.evaluate(TAP, "One less 12/2"))
    return found


def touch_to_verdict(page: Any, address: str, boxes: int, count: int) -> list[float]:
    """Make a job through the page's own store, open one of its boxes, and tap."""
    make = "async (text) => (await (await import('./app.js')).create(text)).id"
    place = f"{address}#/j/{page.evaluate(make, sheet(boxes))}/b/X3"
    page.goto("about:blank")  # an answer that stands there already is not waited for
    page.goto(place)
    page.wait_for_selector("#answer", timeout=90_000)
    taps(page, 10)
    return taps(page, count)


PAINTED = "performance.getEntriesByName('first-contentful-paint')[0].startTime"


def told(name: str, values: list[float], aim: str) -> None:
    ranked = sorted(values)
    print(
        f"{name:<52} median {statistics.median(ranked):7.1f} ms   95 of 100 under "
        f"{ranked[int(len(ranked) * 0.95) - 1]:7.1f} ms   aim {aim}   load {os.getloadavg()[0]:.1f}"
    )


def main() -> int:
    from playwright.sync_api import sync_playwright

    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--offline", metavar="FOLDER", help="a folder made by: ampleroom offline FOLDER")
    options.add_argument("--taps", type=int, default=100)
    chosen = options.parse_args()
    chromium = shutil.which("chromium")
    if chromium is None:
        print("There is no chromium here.")
        return 1
    with tempfile.TemporaryDirectory() as made, sync_playwright() as playwright:
        folder = Path(made)
        phone: dict[str, Any] = {"viewport": {"width": 360, "height": 740}, "has_touch": True, "is_mobile": True}
        with server(folder / "jobs.db") as (address, _):
            browser = playwright.chromium.launch(executable_path=chromium, args=FLAGS)
            first, painted = [], []
            for _ in range(7):
                page = browser.new_page(**phone)
                began = time.perf_counter()
                page.goto(address)
                page.wait_for_selector("[data-ready=yes]", state="attached")
                first.append((time.perf_counter() - began) * 1000)
                painted.append(page.evaluate(PAINTED))
                page.close()
            told("first page, a fresh window", first, "500 ms")
            told("first contentful paint, a fresh window", painted, "200 ms")
            page = browser.new_page(**phone)
            page.goto(address)
            page.wait_for_selector("[data-ready=yes]", state="attached")
            for boxes, aim in ((200, "30 ms"), (4000, "50 ms")):
                name = f"touch to verdict, with the server, {boxes} boxes"
                told(name, touch_to_verdict(page, address, boxes, chosen.taps), aim)
            browser.close()
        if chosen.offline:
            offline(playwright, Path(chosen.offline), folder, phone, chosen.taps, chromium)
    return 0


def without_picture(pages: Path) -> None:
    """The same folder as it is where no picture of memory could be taken."""
    sys.path.insert(0, str(HERE / "src"))
    from ampleroom.web.offline import write_plan

    plan = json.loads((pages / "offline.json").read_text("utf-8"))
    for made in pages.glob("snapshot.bin*"):
        made.unlink()
    keeper = pages / "sw.js"
    text = re.sub(r"\bLIST ?= ?'[^']*'", "LIST=''", keeper.read_text("utf-8"))
    keeper.write_text(text, "utf-8")
    write_plan(pages, plan["mark"], plan["wheels"], False)


def offline(playwright: Any, pages: Path, folder: Path, phone: dict[str, Any], count: int, chromium: str) -> None:
    """The pages kept by the service worker, the server killed, Python in the page."""
    for name, snapshot in (("from a picture of memory", True), ("the plain way", False)):
        copy = folder / name.replace(" ", "-")
        shutil.copytree(pages, copy)
        if not snapshot:
            without_picture(copy)
        profile = folder / f"profile-{snapshot}"
        with server(folder / f"{snapshot}.db", copy) as (address, running):
            context = playwright.chromium.launch_persistent_context(
                str(profile), executable_path=chromium, args=FLAGS, **phone
            )
            page = context.new_page()
            page.goto(address)
            page.wait_for_selector("[data-worker=ready]", state="attached", timeout=90_000)
            kept_by = time.monotonic() + 120
            while not page.evaluate("Boolean(navigator.serviceWorker.controller)"):
                assert time.monotonic() < kept_by, "the service worker does not keep the pages"
                time.sleep(0.2)
            running.kill()
            running.wait()
            ready, shown, painted = [], [], []
            for _ in range(6):
                began = time.perf_counter()
                page.goto("about:blank")
                page.goto(address)
                page.wait_for_selector("[data-ready=yes]", state="attached")
                shown.append((time.perf_counter() - began) * 1000)
                page.wait_for_selector("[data-worker=ready]", state="attached", timeout=90_000)
                painted.append(page.evaluate(PAINTED))
                ready.append(float(page.evaluate("import('./app.js').then((page) => page.state.readyAfter)")))
            told(f"first page offline ({name})", shown, "500 ms")
            told(f"first contentful paint offline ({name})", painted, "200 ms")
            aim = "1200 ms in six of six" if snapshot else "3000 ms"
            told(f"Python ready offline, {name}", ready, f"{aim}; slowest {max(ready):.0f} ms")
            if snapshot:
                for boxes, aim in ((200, "25 ms"), (4000, "50 ms")):
                    name = f"touch to verdict offline, {boxes} boxes"
                    told(name, touch_to_verdict(page, address, boxes, count), aim)
            context.close()


if __name__ == "__main__":
    raise SystemExit(main())
