"""A link between a browser and a host on this machine: as slow as it is told, with every byte counted; and a host that
knows nothing but files.
"""

from __future__ import annotations

import functools
import http.server
import socket
import threading
import time
from contextlib import suppress
from pathlib import Path
from typing import Any


class Link:
    """Passes connections on to a port. ``received`` counts the bytes that came back, answers' heads among them; all
    connections together get at most ``speed`` bytes a second.
    """

    def __init__(self, port: int, speed: float) -> None:
        self.to, self.speed = port, speed
        self.received = 0
        self.came: list[tuple[float, int]] = []
        self.free_at = 0.0
        self.lock = threading.Lock()
        self.open: list[socket.socket] = []
        self.listener = socket.create_server(("127.0.0.1", 0))
        self.port = self.listener.getsockname()[1]
        threading.Thread(target=self.accept, daemon=True).start()

    def accept(self) -> None:
        while True:
            near, _ = self.listener.accept()
            try:
                far = socket.create_connection(("127.0.0.1", self.to))
            except OSError:
                near.close()
                continue
            self.open += [near, far]
            threading.Thread(target=self.carry, args=(near, far, False), daemon=True).start()
            threading.Thread(target=self.carry, args=(far, near, True), daemon=True).start()

    def carry(self, source: socket.socket, target: socket.socket, back: bool) -> None:
        with suppress(OSError):
            while piece := source.recv(65536):
                if back:
                    with self.lock:
                        self.received += len(piece)
                        self.came.append((time.time(), self.received))
                        self.free_at = max(self.free_at, time.monotonic()) + len(piece) / self.speed
                        wait = self.free_at - time.monotonic()
                    if wait > 0.001:
                        time.sleep(wait)
                target.sendall(piece)
        self.shut(source, target)

    def shut(self, *ends: socket.socket) -> None:
        for each in ends:
            with suppress(OSError):
                each.shutdown(socket.SHUT_RDWR)

    def cut(self) -> None:
        """Nothing gets through any more, until ``to`` is a port again."""
        self.to = 0
        self.shut(*self.open)

    def received_by(self, moment: float) -> int:
        """Bytes that had come at a moment, in seconds of the system's clock."""
        return max((count for when, count in self.came if when <= moment), default=0)


class Files(http.server.SimpleHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    disable_nagle_algorithm = True
    extensions_map = {
        ".html": "text/html",
        ".js": "text/javascript",
        ".mjs": "text/javascript",
        ".css": "text/css",
        "": "application/octet-stream",
    }

    def log_message(self, format: str, *values: Any) -> None:
        if self.command == "GET":
            self.server.asked.append(self.path)  # type: ignore[attr-defined]


class Host(http.server.ThreadingHTTPServer):
    """Serves a folder as any plain host does: it compresses nothing, and knows of no copies. ``asked`` has every path
    asked for.
    """

    daemon_threads = True

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A browser that goes away in the middle of an answer is what is tested."""

    def __init__(self, folder: Path) -> None:
        super().__init__(("127.0.0.1", 0), functools.partial(Files, directory=str(folder)))
        self.asked: list[str] = []
        self.port = self.server_address[1]
        threading.Thread(target=self.serve_forever, daemon=True).start()

    def stop(self) -> None:
        self.shutdown()
        self.server_close()
