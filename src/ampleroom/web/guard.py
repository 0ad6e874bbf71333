"""What stands before the server: this machine only, this page only, bodies of a bounded size in a bounded time."""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any

log = logging.getLogger("ampleroom.web")

Scope = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[MutableMapping[str, Any]]]
Send = Callable[[MutableMapping[str, Any]], Awaitable[None]]

LOOPBACK = {"127.0.0.1", "localhost", "[::1]"}
MOST_BODY = 30_000_000
SLOWEST_BODY = 20.0
"""Seconds a body may take to arrive."""

CSP = (
    "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; "
    "manifest-src 'self'; worker-src 'self'; font-src 'self'; form-action 'none'; base-uri 'none'; frame-ancestors 'none'"
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


class Guard:
    """Wraps an application: refuses what comes from elsewhere, too large, or too slow; logs it; goes on serving."""

    def __init__(self, app: Callable[[Scope, Receive, Send], Awaitable[None]]) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        try:
            check_origin(scope)
            body = await whole_body(scope, receive)
        except Refused as trouble:
            log.warning("refused %s %s: %s", scope["method"], scope["path"][:200], trouble.why)
            await answer(send, trouble.status, trouble.why)
            return
        done = False

        async def again() -> MutableMapping[str, Any]:
            nonlocal done
            if done:
                return await receive()
            done = True
            return {"type": "http.request", "body": body, "more_body": False}

        async def with_headers(message: MutableMapping[str, Any]) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = [*message.get("headers", []), *HEADERS]
            await send(message)

        await self.app(scope, again, with_headers)


def check_origin(scope: Scope) -> None:
    """Only pages of this very server may ask: by Host, by Origin, and by what the browser says of the asking page."""
    headers = {name.decode("latin-1").lower(): value.decode("latin-1") for name, value in scope["headers"]}
    host = headers.get("host", "")
    if host.rpartition(":")[0] not in LOOPBACK and host not in LOOPBACK:
        raise Refused(421, "this server answers on this machine's own address only")
    origin = headers.get("origin")
    if origin is not None and origin not in (f"http://{host}", f"https://{host}"):
        raise Refused(403, "requests from other pages are refused")
    if headers.get("sec-fetch-site") in ("cross-site", "same-site") and scope["path"].startswith("/api/"):
        raise Refused(403, "requests from other pages are refused")


async def whole_body(scope: Scope, receive: Receive) -> bytes:
    """The body, up to its bounds."""
    headers = dict(scope["headers"])
    length = headers.get(b"content-length")
    if length is not None and length.isdigit() and int(length) > MOST_BODY:
        raise Refused(413, f"more than {MOST_BODY / 1e6:.0f} MB is not taken")
    chunks: list[bytes] = []
    size = 0
    try:
        async with asyncio.timeout(SLOWEST_BODY):
            while True:
                message = await receive()
                if message["type"] == "http.disconnect":
                    raise Refused(400, "the connection was closed")
                chunks.append(message.get("body", b""))
                size += len(chunks[-1])
                if size > MOST_BODY:
                    raise Refused(413, f"more than {MOST_BODY / 1e6:.0f} MB is not taken")
                if not message.get("more_body"):
                    return b"".join(chunks)
    except TimeoutError:
        raise Refused(408, "the request came too slowly") from None


async def answer(send: Send, status: int, why: str) -> None:
    from json import dumps

    body = dumps({"error": why, "kind": "refused"}).encode()
    headers = [
        (b"content-type", b"application/json"),
        (b"content-length", str(len(body)).encode()),
        (b"connection", b"close"),
        *HEADERS,
    ]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body})
