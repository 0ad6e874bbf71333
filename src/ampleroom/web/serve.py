"""Starting the server: on the loopback address, with its store in the user's own folder."""

from __future__ import annotations

import logging
import os
import socket
import sqlite3
import sys
from pathlib import Path

from ampleroom.errors import AmpleroomError, FileTrouble

LOOPBACK = ("127.0.0.1", "localhost", "::1")


def data_folder() -> Path:
    """Where jobs are kept: AMPLEROOM_HOME, or the user's data folder."""
    chosen = os.environ.get("AMPLEROOM_HOME")
    if chosen:
        return Path(chosen)
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA", Path.home())) / "Ampleroom"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "Ampleroom"
    return Path(os.environ.get("XDG_DATA_HOME", Path.home() / ".local" / "share")) / "ampleroom"


def examples_folder() -> Path | None:
    """The examples of the checkout, where this runs from one."""
    place = Path(__file__).resolve().parents[3] / "examples"
    return place if place.is_dir() else None


def patience() -> float:
    """Seconds a slow client is waited for; AMPLEROOM_PATIENCE sets others, such as a test that will not wait so
    long.
    """
    from ampleroom.web.guard import PATIENCE

    try:
        return max(0.1, float(os.environ.get("AMPLEROOM_PATIENCE") or PATIENCE))
    except ValueError:
        raise AmpleroomError("AMPLEROOM_PATIENCE is a number of seconds") from None


def begin_log() -> None:
    """The log goes to standard error, and no flood of requests can make it grow without end."""
    from ampleroom.web.bounded_log import Bounded

    form = "%(asctime)s %(name)s %(levelname)s %(message)s"
    logging.basicConfig(level=logging.WARNING, format=form, handlers=[Bounded()])


def listening_at(host: str, port: int) -> socket.socket:
    """A socket that listens at an address: whoever asks before all else is ready waits until it is."""
    # Its protocol is named: without that asyncio does not see a TCP connection, and small answers wait 40 ms for each
    # other.
    listener = socket.socket(socket.AF_INET6 if ":" in host else socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((host, port))
        listener.listen(128)
    except OSError as error:
        listener.close()
        raise AmpleroomError(f"port {port} cannot be used ({error.strerror}); choose another with --port") from None
    return listener


def serve(host: str, port: int, store_path: Path, pages: Path | None = None) -> None:
    """Serve until stopped. Refuses any address but this machine's own: a team's server would need accounts."""
    if host not in LOOPBACK:
        raise AmpleroomError(
            f"the server listens on this machine only (127.0.0.1), not on {host}: it has no accounts, so "
            "anybody on the network could read and change your jobs"
        )
    try:
        import uvicorn

        from ampleroom.web.connection import Connection
        from ampleroom.web.server import STATIC, application
        from ampleroom.web.store import Store
        from ampleroom.web.workers import Workers
    except ImportError as error:
        raise AmpleroomError(
            f"the page needs {error.name}: ./run serve brings it, or pip install 'ampleroom[web]'"
        ) from None
    wait = patience()
    begin_log()
    listening = listening_at(host, port)
    try:
        store = Store(store_path)
    except (OSError, sqlite3.Error, AmpleroomError) as error:
        listening.close()
        raise FileTrouble(
            f"jobs cannot be kept in {store_path}: {error}. Move that file aside, "
            "or name another with --store, such as a copy made with --backup"
        ) from None
    name = f"[{host}]" if ":" in host else host
    print(
        f"Ampleroom: http://{name}:{listening.getsockname()[1]}/   (jobs are kept in {store_path}; stop with Ctrl-C)",
        flush=True,
    )
    workers = Workers()
    config = uvicorn.Config(
        application(store, pages or STATIC, examples_folder(), wait, workers),
        http=type("Connection", (Connection,), {"patience": wait}),
        ws="none",
        proxy_headers=False,
        log_level="warning",
        log_config=None,  # its lines stand in the log with all others, within the same bounds
        access_log=False,
        timeout_keep_alive=max(1, round(wait)),
        timeout_graceful_shutdown=5,
        h11_max_incomplete_event_size=64_000,
        server_header=False,
    )

    class Serving(uvicorn.Server):
        async def startup(self, sockets: list[socket.socket] | None = None) -> None:
            await super().startup(sockets)
            await workers.start()

        async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
            """The store is closed while it can be: afterwards uvicorn lets the signal that ended it end the process."""
            workers.close()
            await super().shutdown(sockets)
            store.close()

    try:
        Serving(config).run(sockets=[listening])
    finally:
        workers.close()
        store.close()
