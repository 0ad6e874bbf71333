"""Debian's Firefox, driven as the standard says: WebDriver BiDi (W3C), over the socket the browser itself opens."""

from __future__ import annotations

import itertools
import json
import os
import re
import shutil
import subprocess
import time
from contextlib import ExitStack
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from tests.web.browser.helpers import PATIENCE, lacking

HARMLESS = re.compile(r"Loading failed|NetworkError|status of 4\d\d|NS_ERROR_|Feature Policy|unreachable code")


def firefox() -> str:
    """The program; skipped in plain words where there is none, and a failure in CI."""
    if find_spec("websockets") is None:
        lacking("websockets is not installed (it is in the group dev)")
    found = os.environ.get("FIREFOX") or shutil.which("firefox-esr") or shutil.which("firefox")
    if found is None:
        lacking("Firefox is not installed (Debian: apt-get install firefox-esr)")
    return found


class Firefox:
    """One Firefox with one window of a phone's size. ``troubles`` has every error it wrote down."""

    def __init__(self, profile: Path) -> None:
        from websockets.sync.client import connect

        profile.mkdir()
        command = [firefox(), "--headless", "--no-remote", "--profile", str(profile), "--remote-debugging-port", "0"]
        self.held = ExitStack()
        self.log = (profile / "log.txt").open("w+")
        self.process = subprocess.Popen(command, stderr=self.log, stdout=subprocess.DEVNULL)
        self.socket = self.held.enter_context(connect(f"{self.address()}/session", max_size=None, open_timeout=60))
        self.numbers = itertools.count(1)
        self.troubles: list[str] = []
        self.ask("session.new", capabilities={})
        self.ask("session.subscribe", events=["log.entryAdded"])
        self.window = self.ask("browsingContext.getTree")["contexts"][0]["context"]
        self.ask("browsingContext.setViewport", context=self.window, viewport={"width": 390, "height": 780})

    def address(self) -> str:
        """Where the browser listens, as it says itself."""
        until = time.monotonic() + 90
        while time.monotonic() < until and self.process.poll() is None:
            said = Path(self.log.name).read_text("utf-8", "replace")
            if found := re.search(r"WebDriver BiDi listening on (ws://\S+)", said):
                return found[1]
            time.sleep(0.1)
        raise AssertionError(f"Firefox did not start: {Path(self.log.name).read_text('utf-8', 'replace')}")

    def stop(self) -> None:
        self.held.close()
        self.process.terminate()
        try:
            self.process.wait(20)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait(20)
        self.log.close()

    def ask(self, method: str, **parameters: Any) -> Any:
        """One command and its result. Raises AssertionError with the browser's words where it refuses."""
        number = next(self.numbers)
        self.socket.send(json.dumps({"id": number, "method": method, "params": parameters}))
        while True:
            message = json.loads(self.socket.recv(timeout=120))
            if message.get("method") == "log.entryAdded":
                entry = message["params"]
                if entry["level"] == "error" and not HARMLESS.search(entry["text"] or ""):
                    self.troubles.append(entry["text"])
            elif message.get("id") == number:
                assert message["type"] == "success", message
                return message["result"]

    def run(self, expression: str) -> Any:
        """The value of an expression in the page, a promise's when it is kept; plain data only."""
        wanted = f"Promise.resolve({expression}).then((value) => JSON.stringify(value ?? null))"
        got = self.ask("script.evaluate", expression=wanted, target={"context": self.window}, awaitPromise=True)
        assert got["type"] == "success", got["exceptionDetails"]["text"]
        return json.loads(got["result"]["value"])

    def wait(self, expression: str, seconds: float = PATIENCE / 1000) -> None:
        """Until an expression in the page is true."""
        until = time.monotonic() + seconds
        while not self.run(f"Boolean({expression})"):
            shown = self.run("document.body.innerText.slice(0, 600)")
            assert time.monotonic() < until, f"not so: {expression}; the page shows: {shown}"
            time.sleep(0.1)

    def open(self, url: str) -> None:
        self.ask("browsingContext.navigate", context=self.window, url=url, wait="interactive")
        self.wait("document.documentElement.dataset.ready === 'yes'", 60)

    def node(self, selector: str, name: str = "") -> str:
        """An expression for the first element in sight of a selector, with that accessible name or text where one is
        given.
        """
        named = f"(each.ariaLabel ?? each.textContent).trim() === {json.dumps(name)}" if name else "true"
        return (
            f"[...document.querySelectorAll({json.dumps(selector)})].find((each) => each.checkVisibility() && {named})"
        )

    def press(self, selector: str, name: str = "") -> None:
        """A finger at the middle of an element; it has to be what lies there."""
        node = self.node(selector, name)
        self.wait(node)
        place = self.run(f"""(() => {{
            const node = {node};
            node.scrollIntoView({{ block: 'center' }});
            const {{ left, top, width, height }} = node.getBoundingClientRect();
            const [x, y] = [Math.round(left + width / 2), Math.round(top + height / 2)];
            return {{ x, y, free: node.contains(document.elementFromPoint(x, y)) }};
        }})()""")
        assert place.pop("free"), f"{name or selector} is covered"
        touch = [
            {"type": "pointerMove", **place},
            {"type": "pointerDown", "button": 0},
            {"type": "pointerUp", "button": 0},
        ]
        finger = {"type": "pointer", "id": "finger", "parameters": {"pointerType": "touch"}, "actions": touch}
        self.ask("input.performActions", context=self.window, actions=[finger])

    def type(self, words: str) -> None:
        """Keys, one after another, into what has the focus."""
        keys = [{"type": kind, "value": letter} for letter in words for kind in ("keyDown", "keyUp")]
        self.ask("input.performActions", context=self.window, actions=[{"type": "key", "id": "keys", "actions": keys}])
