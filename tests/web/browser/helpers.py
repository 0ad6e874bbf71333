"""What the tests of the page share: a real Chromium, phones and desks in it, and what is watched on every one of
them.
"""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import subprocess
import tarfile
import time
from collections.abc import Callable
from importlib.util import find_spec
from pathlib import Path
from typing import Any, NoReturn

import pytest

from tests.web.helpers import Running

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
"""--no-sandbox, because in CI this is run by root."""
PHONE: dict[str, Any] = {
    "viewport": {"width": 360, "height": 740},
    "has_touch": True,
    "is_mobile": True,
    "locale": "en-US",
}
DESK: dict[str, Any] = {"viewport": {"width": 1280, "height": 860}, "locale": "en-US"}
PATIENCE = 1000.0 * float(os.environ.get("AMPLEROOM_TEST_PATIENCE", "15"))
"""Milliseconds until what should be there is missed."""
AXE = "axe-core@4.14.1"
AXE_HASH = "29348999450cdf2849a8e70b7912fc2da85a849da39c0d0d5394f51d4a9ed95c"

WATCH = """
window.__troubles = [];
document.addEventListener('securitypolicyviolation', (event) =>
  console.error(`CSP: ${event.violatedDirective} ${event.blockedURI} ${event.sample}`));
"""
"""Put into every page before its own scripts: what the content security policy refuses is written to the console."""


def lacking(what: str) -> NoReturn:
    """A plain machine may lack this: skipped in plain words, in CI a failure."""
    if os.environ.get("CI"):
        pytest.fail(f"{what}; CI brings all that the tests of the page need")
    pytest.skip(what)


def chromium() -> str:
    if find_spec("playwright") is None:
        lacking("playwright is not installed (it is in the group dev)")
    found = os.environ.get("CHROMIUM") or shutil.which("chromium")
    if found is None:
        lacking("chromium is not installed (Debian: apt-get install chromium)")
    return found


def once(folder: Path, name: str, make: Callable[[Path], object]) -> Path:
    """Something made once for all workers of a test run: the first makes it, the others wait. Where it cannot be made,
    why.
    """
    made, trouble, lock = folder / name, folder / f"{name}.trouble", folder / f"{name}.lock"
    try:
        os.close(os.open(lock, os.O_CREAT | os.O_EXCL))
    except FileExistsError:
        until = time.monotonic() + 600
        while not (trouble.exists() or (folder / f"{name}.done").exists()):
            assert time.monotonic() < until, f"another worker did not finish {name}"
            time.sleep(0.2)
    else:
        try:
            make(made)
            (folder / f"{name}.done").touch()
        except Exception as error:
            trouble.write_text(str(error) or type(error).__name__, "utf-8")
    if trouble.exists():
        lacking(f"{name} could not be made here: {trouble.read_text('utf-8')}")
    return made


def fetch_axe(out: Path) -> None:
    """The checker of accessibility, from npm; never kept in the repository."""
    place = out.with_name("axe-fetched")
    place.mkdir()
    if shutil.which("npm") is None:
        raise RuntimeError("axe-core is fetched with npm, and there is no npm here")
    done = subprocess.run(["npm", "pack", AXE, "--silent"], cwd=place, capture_output=True, text=True, check=False)
    found = list(place.glob("axe-core-*.tgz"))
    if done.returncode or not found:
        raise RuntimeError(f"npm could not fetch {AXE}: {(done.stderr or done.stdout).strip()[-200:]}")
    with tarfile.open(found[0]) as archive:
        member = archive.extractfile("package/axe.min.js")
        assert member is not None
        script = member.read()
    if hashlib.sha256(script).hexdigest() != AXE_HASH:
        raise RuntimeError(f"{AXE} is not the file the tests were written with")
    out.write_bytes(script)


class Window:
    """One page in a browser, in the words of who holds it. Whatever goes wrong in it is remembered."""

    def __init__(self, page: Any, server: Running) -> None:
        self.page = page
        self.server = server
        self.troubles: list[str] = []
        page.set_default_timeout(PATIENCE)
        page.on("dialog", self.dialog)
        page.on("pageerror", lambda error: self.troubles.append(f"page error: {error}"))
        page.on("console", self.console)

    def dialog(self, dialog: Any) -> None:
        self.troubles.append(f"a script opened a dialog: {dialog.message}")
        dialog.dismiss()

    def console(self, message: Any) -> None:
        if message.type == "error" and not re.search(r"Failed to load resource|net::ERR|status of 4\d\d", message.text):
            self.troubles.append(f"console: {message.text}")

    # ---- going ----

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.server.port}/"

    def open(self, place: str = "#/") -> None:
        self.page.goto(self.address + place)
        self.page.wait_for_selector("html[data-ready=yes]", state="attached", timeout=30_000)

    def go(self, place: str) -> None:
        """To another view of the page that is open, and wait until it is shown."""
        if self.page.evaluate("location.hash") == place:
            return
        self.page.evaluate("place => { delete document.documentElement.dataset.shown; location.hash = place; }", place)
        self.page.wait_for_selector("html[data-shown]", state="attached", timeout=30_000)

    def job(self, id: str, tab: str = "boxes") -> None:
        self.go(f"#/j/{id}/{tab}")

    def box(self, id: str, name: str) -> None:
        self.go(f"#/j/{id}/b/{name}")
        self.page.locator("#answer").wait_for()

    # ---- touching ----

    def has_cables(self, name: str, count: int) -> None:
        """Wait until the box that is shown has so many cables of a name; none: until it has no row of them."""
        found = self.page.locator(f'.entry.cables[data-key="cable-{name}"] .count')
        if count:
            found.filter(has_text=re.compile(f"^{count}$")).wait_for()
        else:
            found.wait_for(state="detached")

    def button(self, name: str | re.Pattern[str], exact: bool = True) -> Any:
        if name in ("Undo", "Redo"):  # what it would take back stands behind it
            name = re.compile(rf"^\W?{name}(:|$)")
        return self.page.get_by_role("button", name=name, exact=exact)

    def tap(self, name: str | re.Pattern[str]) -> None:
        """A finger on a button of that name; it has to be on the screen's page and not covered."""
        self.touch(self.button(name))

    def field(self, label: str) -> Any:
        return self.page.get_by_label(label, exact=True)

    def touch(self, found: Any) -> None:
        found.tap() if self.touches else found.click()

    @property
    def touches(self) -> bool:
        return bool(self.page.evaluate("navigator.maxTouchPoints > 0"))

    def drawn(self) -> None:
        """Wait until what stands around a verdict is drawn too: a tap draws the verdict first."""
        self.page.evaluate(
            "new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done, 50))))"
        )

    def close_dialog(self) -> None:
        self.page.locator("#dialog-close").click()
        self.page.locator("#dialog").wait_for(state="hidden")

    # ---- reading ----

    @property
    def answer(self) -> str:
        return str(self.page.locator("#answer").inner_text())

    @property
    def status(self) -> str:
        return str(
            self.page.evaluate(
                "document.getElementById('status').textContent + document.getElementById('dialog-status').textContent"
            )
        )

    @property
    def dialog_text(self) -> str:
        return str(self.page.locator("#dialog").inner_text())

    @property
    def id(self) -> str:
        """The job that is open, by the address."""
        return str(self.page.evaluate("location.hash.split('/')[2]"))

    def kept(self) -> str:
        """The sheet of the open job as this browser or the server keeps it, through the page's own store."""
        return str(self.page.evaluate("async (id) => (await (await import('./app.js')).get(id)).sheet", self.id))

    def worker_ready(self) -> None:
        self.page.wait_for_selector("[data-worker=ready]", state="attached", timeout=90_000)

    def kept_for_later(self) -> None:
        """Wait until the service worker has every file, so that all works without the server."""
        self.page.wait_for_selector("html[data-kept=kept]", state="attached", timeout=90_000)

    def offline(self) -> None:
        """Wait until the page has seen that nobody answers."""
        self.page.wait_for_selector("[data-mode=here]", state="attached", timeout=20_000)

    def online(self) -> None:
        self.page.wait_for_selector("[data-mode=server]", state="attached", timeout=20_000)

    def shot(self, name: str) -> None:
        """A picture of the whole page, where AMPLEROOM_SHOTS names a folder: to be looked at, not compared."""
        folder = os.environ.get("AMPLEROOM_SHOTS")
        if folder:
            Path(folder).mkdir(parents=True, exist_ok=True)
            self.page.screenshot(
                path=str(Path(folder) / f"{name}.png"), full_page=not self.page.locator("#dialog").is_visible()
            )


def wait_until(claim: Callable[[], bool], seconds: float = 10, what: str = "") -> None:
    until = time.monotonic() + seconds
    while not claim():
        assert time.monotonic() < until, what or "it did not come about"
        time.sleep(0.05)
