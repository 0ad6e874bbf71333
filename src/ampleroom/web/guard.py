"""What stands before the server: this machine only, this page only, bodies of a bounded size in a bounded time."""

from __future__ import annotations

import asyncio
import logging
import re
from collections.abc import Awaitable, Callable, MutableMapping
from json import dumps
from typing import Any

log = logging.getLogger("ampleroom.web")

Message = MutableMapping[str, Any]
Scope = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]

OWN_HOST = re.compile(r"(127\.0\.0\.1|localhost|\[::1\])(:[0-9]{1,5})?")
OWN_SITES = {"same-origin", "none"}
"""What a browser says of a page of this server, and of an address somebody typed."""
MOST_BODY = 30_000_000
PATIENCE = 20.0
"""Seconds a request may take to arrive, and a client to take the next piece of an answer."""

CSP = (
    "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; "
    "connect-src 'self'; manifest-src 'self'; worker-src 'self'; font-src 'self'; form-action 'none'; "
    "base-uri 'none'; frame-ancestors 'none'"
)
HEADERS = [
    (b"content-security-policy", CSP.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"x-frame-options", b"DENY"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"geolocation=(), microphone=(), camera=(self)"),
]


class Refused(Exception):
    """A request that is not served: its status and why."""

    def __init__(self, status: int, why: str) -> None:
        super().__init__(why)
        self.status, self.why = status, why


def too_large_a_body() -> Refused:
    """One of its own for every request: an exception that is raised again and again keeps the frames of all of them."""
    return Refused(413, f"the request is over {MOST_BODY / 1e6:.0f} MB; send less")


class Guard:
    """Wraps an application: refuses what comes from elsewhere, too large, or too slow; logs it; goes on serving."""

    def __init__(self, app: Callable[[Scope, Receive, Send], Awaitable[None]], patience: float = PATIENCE) -> None:
        self.app = app
        self.patience = patience

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "websocket":
            await receive()
            await send({"type": "websocket.close", "code": 1008})
            return
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        try:
            check_origin(scope)
            body = await whole_body(scope, receive, self.patience)
        except Refused as trouble:
            log.warning("refused %s %s: %s", scope["method"], shown(scope["path"]), trouble.why)
            await answer(send, trouble.status, trouble.why)
            return
        done = started = False

        async def again() -> Message:
            nonlocal done
            if done:
                return await receive()
            done = True
            return {"type": "http.request", "body": body, "more_body": False}

        async def with_headers(message: Message) -> None:
            nonlocal started
            if message["type"] == "http.response.start":
                started = True
                message["headers"] = [*message.get("headers", []), *HEADERS]
            await send(message)

        try:
            await self.app(scope, again, with_headers)
        except Exception:
            log.exception("answering %s %s", scope["method"], shown(scope["path"]))
            if started:
                raise  # half an answer is out; the connection has to be cut
            await answer(send, 500, "something went wrong here, and it was written to the log", "server")


def shown(path: str) -> str:
    """A path as it may stand in a log: nothing in it can begin a line or color a terminal."""
    return repr(path[:200])


def check_origin(scope: Scope) -> None:
    """Only pages of this very server may ask: by Host, by Origin, and by what the browser says of the asking page."""
    headers: dict[str, list[str]] = {}
    for name, value in scope["headers"]:
        headers.setdefault(name.decode("latin-1").lower(), []).append(value.decode("latin-1"))
    hosts = headers.get("host", [])
    if len(hosts) != 1 or not OWN_HOST.fullmatch(hosts[0]):
        raise Refused(421, "this server answers on this machine's own address only")
    origins = headers.get("origin", [])
    if len(origins) > 1 or not {*origins} <= {f"http://{hosts[0]}", f"https://{hosts[0]}"}:
        raise Refused(403, "requests from other pages are refused")
    sites = {site.strip().lower() for site in headers.get("sec-fetch-site", [])}
    if not sites <= OWN_SITES and scope["path"].startswith("/api/"):
        raise Refused(403, "requests from other pages are refused")


async def whole_body(scope: Scope, receive: Receive, patience: float) -> bytes:
    """The body of a request, within its bounds. An oversized body is read and discarded, so the client receives the
    413.
    """
    length = dict(scope["headers"]).get(b"content-length", b"")
    too_large = length.isdigit() and int(length) > MOST_BODY
    if too_large and int(length) > 4 * MOST_BODY:
        raise too_large_a_body()
    chunks: list[bytes] = []
    size = 0
    try:
        async with asyncio.timeout(patience):
            while True:
                message = await receive()
                if message["type"] == "http.disconnect":
                    raise Refused(400, "the connection was closed")
                size += len(message.get("body", b""))
                if size > MOST_BODY:
                    too_large = True
                    chunks.clear()
                if size > 4 * MOST_BODY:
                    raise too_large_a_body()
                if not too_large:
                    chunks.append(message.get("body", b""))
                if not message.get("more_body"):
                    break
    except TimeoutError:
        raise Refused(408, "the request came too slowly") from None
    if too_large:
        raise too_large_a_body()
    return b"".join(chunks)


def refusal(why: str, kind: str = "refused") -> tuple[list[tuple[bytes, bytes]], bytes]:
    """The headers and the body of an answer that refuses; the connection ends with it."""
    body = dumps({"error": why, "kind": kind}).encode()
    headers = [
        (b"content-type", b"application/json"),
        (b"content-length", str(len(body)).encode()),
        (b"connection", b"close"),
        *HEADERS,
    ]
    return headers, body


async def answer(send: Send, status: int, why: str, kind: str = "refused") -> None:
    """Send a refusal as JSON: a status, a sentence for whoever asked, and the kind of trouble."""
    headers, body = refusal(why, kind)
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body})
