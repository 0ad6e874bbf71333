"""The local server: the page, the jobs, and the same answers the browser's Python gives."""

from __future__ import annotations

import asyncio
import logging
import re
import sqlite3
from base64 import b64encode
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any
from weakref import WeakValueDictionary

import msgspec
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import FileResponse, Response
from starlette.routing import Mount, Route, Router

from ampleroom.errors import AmpleroomError
from ampleroom.job import starter_sheet
from ampleroom.job.sheet import without_remark
from ampleroom.report import VERSION
from ampleroom.web import engine
from ampleroom.web.guard import PATIENCE, Guard, shown
from ampleroom.web.importing import imported
from ampleroom.web.openapi import openapi
from ampleroom.web.photos import MOST_A_BOX, NoPhoto, cleaned
from ampleroom.web.store import Conflict, NotThere, Store

log = logging.getLogger("ampleroom.web")

STATIC = Path(__file__).with_name("static")
TYPES = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".mjs": "text/javascript; charset=utf-8",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".webmanifest": "application/manifest+json",
    ".wasm": "application/wasm",
    ".whl": "application/zip",
    ".zip": "application/zip",
    ".json": "application/json",
    ".ttf": "font/ttf",
    ".bin": "application/octet-stream",
}
QUICK = {"rules", "rule", "words"}
LIGHT = {"box", "edit"}
"""Questions that are answered quickly whatever they are about, and those that are where the sheet is of a usual size."""

LONGEST_TITLE = 120

Handler = Callable[[Request], Awaitable[Response]]


def reply(data: Any, status: int = 200, headers: dict[str, str] | None = None) -> Response:
    headers = {"cache-control": "no-store", **(headers or {})}
    return Response(msgspec.json.encode(data), status, headers, media_type="application/json")


class BadRequest(AmpleroomError):
    """A body that is not what this address takes."""


async def body_of(request: Request) -> dict[str, Any]:
    """The JSON object of a request."""
    if request.headers.get("content-type", "").split(";")[0].strip() != "application/json":
        raise BadRequest("send JSON: content-type application/json")
    try:
        data = msgspec.json.decode(await request.body())
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError) as error:
        raise BadRequest(f"that is no JSON: {error}") from None
    if not isinstance(data, dict):
        raise BadRequest("send one JSON object")
    return data


def text(data: dict[str, Any], key: str, most: int = engine.LARGEST_SHEET) -> str:
    value = data.get(key)
    if not isinstance(value, str):
        raise BadRequest(f"{key!r} is a text")
    if len(value) > most:
        raise BadRequest(f"{key!r} has {len(value)} letters; up to {most} are taken")
    try:
        value.encode("utf-8")
    except UnicodeEncodeError:
        raise BadRequest(f"{key!r} holds half a letter that cannot be kept") from None
    return value


def label_of(data: dict[str, Any], usual: str) -> str:
    return usual if data.get("label") is None else text(data, "label") or usual


def base_of(data: dict[str, Any]) -> int:
    base = data.get("base")
    if not isinstance(base, int | float) or isinstance(base, bool) or not 0 < base < 2**53 or base != int(base):
        raise BadRequest("'base' is the version you changed: a whole number")
    return int(base)


def title_of(sheet: str) -> str:
    """The job's name in a sheet, without reading all of it."""
    for line in sheet.removeprefix("\ufeff").split("\n", 400)[:400]:
        words = without_remark(line).split(None, 1)
        if len(words) == 2 and words[0].lower() == "job":
            return words[1].strip()[:LONGEST_TITLE]
    return "Job without a name"


class Server:
    """The handlers, with the store they work on."""

    def __init__(self, store: Store, pages: Path, examples: Path | None) -> None:
        self.store = store
        self.pages = pages
        self.examples = examples
        self.locks: WeakValueDictionary[str, asyncio.Lock] = WeakValueDictionary()
        self.darkroom = asyncio.Semaphore(2)
        """So many files that may take much memory are worked on at once."""

    def lock(self, id: str) -> asyncio.Lock:
        """Changes to one job one after another; jobs do not wait for each other."""
        return self.locks.setdefault(id, asyncio.Lock())

    # ---- jobs ------------------------------------------------------------------------------------------------------

    async def hello(self, request: Request) -> Response:
        return reply({"ampleroom": VERSION, "api": 1, "offline": (self.pages / "offline.json").is_file()})

    async def jobs(self, request: Request) -> Response:
        if request.method == "GET":
            removed = request.query_params.get("removed")
            if removed not in (None, "yes"):
                raise BadRequest("'removed' is yes, or left out")
            return reply({"jobs": self.store.jobs(removed == "yes")})
        data = await body_of(request)
        sheet = text(data, "sheet")
        return reply((await self.store.create(sheet, title_of(sheet), label_of(data, "new"))).data(), 201)

    async def job(self, request: Request) -> Response:
        id = request.path_params["id"]
        if request.method == "DELETE":
            await self.store.remove(id, True)
            return reply({"removed": id})
        if request.method == "PUT":
            data = await body_of(request)
            base, sheet = base_of(data), text(data, "sheet")
            async with self.lock(id):
                saved = await self.store.save(id, base, sheet, title_of(sheet), label_of(data, "sheet written"))
            return reply(saved.data())
        return reply(self.store.get(id).data())

    async def edit(self, request: Request) -> Response:
        """A tap: the change made, kept, and the box as it is then, in one answer."""
        id = request.path_params["id"]
        data = await body_of(request)
        base = base_of(data)
        async with self.lock(id):
            current = self.store.get(id)
            if current.version != base:
                raise Conflict(current, base)
            answer = await self.ask("edit", {**data, "sheet": current.sheet})
            if "error" in answer:
                return reply(answer, 422)
            sheet = text(answer, "sheet")
            saved = await self.store.save(id, base, sheet, title_of(sheet), str(data["edit"]["do"]))
        return reply({**answer, **saved.data()})

    async def undo(self, request: Request) -> Response:
        return await self.step(request, back=True)

    async def redo(self, request: Request) -> Response:
        return await self.step(request, back=False)

    async def step(self, request: Request, back: bool) -> Response:
        id = request.path_params["id"]
        base = base_of(await body_of(request))
        async with self.lock(id):
            return reply((await self.store.step(id, base, back, title_of)).data())

    async def restore(self, request: Request) -> Response:
        return reply((await self.store.remove(request.path_params["id"], False)).data())

    async def history(self, request: Request) -> Response:
        """The newest versions first; ``?before=N`` goes on with those older than N."""
        before = request.query_params.get("before")
        if before is not None and not re.fullmatch("[0-9]{1,18}", before):
            raise BadRequest("'before' is a version: a whole number")
        found, more = self.store.history(request.path_params["id"], *([] if before is None else [int(before)]))
        return reply({"versions": found, "more": more})

    async def version(self, request: Request) -> Response:
        version = request.path_params["version"]
        return reply({"version": version, "sheet": self.store.version(request.path_params["id"], version)})

    # ---- photographs, stock, answers -------------------------------------------------------------------------------

    async def photos(self, request: Request) -> Response:
        id = request.path_params["id"]
        if request.method == "GET":
            return reply({"photos": self.store.photos(id)})
        box = request.query_params.get("box", "")
        if not box or len(box) > 60:
            raise BadRequest("say which box: ?box=J1")
        job, _ = engine.opened(self.store.get(id).sheet)
        name = job.box(box).name
        async with self.darkroom:
            try:
                jpeg = await run_in_threadpool(cleaned, await request.body())
            except NoPhoto as trouble:
                log.warning("refused a photograph: %s", trouble)
                raise
        return reply(await self.store.add_photo(id, name, jpeg, MOST_A_BOX), 201)

    async def photo(self, request: Request) -> Response:
        id = request.path_params["id"]
        if request.method == "DELETE":
            await self.store.drop_photo(id)
            return reply({"removed": id})
        headers = {"cache-control": "private, max-age=31536000, immutable"}
        return Response(self.store.photo(id), media_type="image/jpeg", headers=headers)

    async def stock(self, request: Request) -> Response:
        if request.method == "GET":
            kept = self.store.setting("stock")
            return reply({"stock": self.example("stock.toml") if kept is None else kept})
        stock = text(await body_of(request), "stock", 1_000_000)
        engine.stock_read(stock)  # faults are told, and nothing is kept
        await self.store.set_setting("stock", stock)
        return reply({"stock": stock})

    async def answers(self, request: Request) -> Response:
        action = request.path_params["action"]
        data = await body_of(request)
        if action not in engine.ACTIONS:
            raise NotThere(f"no question {action!r}")
        data.pop("photos", None)  # only those kept here, which were encoded here
        if action == "packet" and isinstance(data.get("job"), str):
            data["photos"] = self.photos_of(data["job"])
        answer = await self.ask(action, data)
        return reply(answer, 422 if "error" in answer else 200)

    async def ask(self, action: str, data: dict[str, Any]) -> dict[str, Any]:
        """A question to the engine: at once where the answer is quick, else beside the others."""
        if action == "import":
            async with self.darkroom:
                return await run_in_threadpool(imported, data)
        sheet = data.get("sheet")
        if action in QUICK or (action in LIGHT and isinstance(sheet, str) and len(sheet) <= engine.USUAL_SHEET):
            return engine.answer(action, data)
        return await run_in_threadpool(engine.answer, action, data)

    def photos_of(self, id: str) -> dict[str, list[str]]:
        found: dict[str, list[str]] = {}
        for row in self.store.photos(id):
            found.setdefault(row["box"], []).append(b64encode(self.store.photo(row["id"])).decode("ascii"))
        return found

    def example(self, name: str) -> str:
        path = self.examples / name if self.examples else None
        return path.read_text("utf-8") if path and path.is_file() else ""

    async def examples_list(self, request: Request) -> Response:
        names = sorted(path.name for path in self.examples.glob("*.job")) if self.examples else []
        rows = [{"name": name, "title": title_of(self.example(name)), "sheet": self.example(name)} for name in names]
        return reply({"examples": rows, "starter": starter_sheet(), "stock": self.example("stock.toml")})

    async def api_document(self, request: Request) -> Response:
        return reply(openapi())

    # ---- the page --------------------------------------------------------------------------------------------------

    async def page(self, request: Request) -> Response:
        name = request.path_params.get("path") or "index.html"
        path = self.page_named(name)
        if path is None:
            log.warning("no page %s", shown(name))
            raise NotThere("there is no such page")
        cached = (
            "no-cache" if path.suffix in (".html", ".js", ".mjs", ".css", ".json", ".webmanifest") else "max-age=86400"
        )
        return FileResponse(path, media_type=TYPES[path.suffix], headers={"cache-control": cached})

    def page_named(self, name: str) -> Path | None:
        """A file of the pages' folder and of no other, of a kind that is served; whatever the name says."""
        try:
            path = (self.pages / name).resolve()
            inside = path.is_relative_to(self.pages.resolve()) and path.suffix in TYPES and path.is_file()
        except (ValueError, OSError):  # a zero byte, a name too long
            return None
        return path if inside else None


def told(handler: Handler) -> Handler:
    """A handler whose troubles become answers: what a person can put right with its words, the rest logged and a plain 500."""

    async def safe(request: Request) -> Response:
        try:
            return await handler(request)
        except Conflict as trouble:
            return reply(
                {"error": str(trouble), "kind": "conflict", "current": trouble.current.data(), "base": trouble.base},
                409,
            )
        except NotThere as trouble:
            return reply({"error": str(trouble), "kind": "missing"}, 404)
        except BadRequest as trouble:
            return reply({"error": str(trouble), "kind": "request"}, 400)
        except AmpleroomError as trouble:
            return reply({"error": str(trouble), "kind": "question"}, 422)
        except sqlite3.Error as trouble:
            log.error("answering %s %s: the file of jobs: %s", request.method, shown(request.scope["path"]), trouble)
            said = f"the file the jobs are kept in cannot be read or written ({trouble}); what you see is not kept"
            return reply({"error": said, "kind": "server"}, 500)
        except Exception:
            log.exception("answering %s %s", request.method, shown(request.scope["path"]))
            return reply(
                {
                    "error": "something went wrong here; nothing was lost, and it was written to the log",
                    "kind": "server",
                },
                500,
            )

    return safe


def no_such(request: Request, trouble: Exception) -> Response:
    """What the router refuses by itself: a method that an address does not take."""
    assert isinstance(trouble, HTTPException)
    kind = "missing" if trouble.status_code == 404 else "request"
    return reply({"error": trouble.detail.lower(), "kind": kind}, trouble.status_code, dict(trouble.headers or {}))


def application(store: Store, pages: Path = STATIC, examples: Path | None = None, patience: float = PATIENCE) -> Guard:
    """The whole server as an ASGI application. The API is mounted by itself: none of its addresses is ever taken for a page."""
    server = Server(store, pages, examples)
    api = [
        ("/hello", server.hello, ["GET"]),
        ("/openapi.json", server.api_document, ["GET"]),
        ("/examples", server.examples_list, ["GET"]),
        ("/jobs", server.jobs, ["GET", "POST"]),
        ("/jobs/{id}", server.job, ["GET", "PUT", "DELETE"]),
        ("/jobs/{id}/edit", server.edit, ["POST"]),
        ("/jobs/{id}/undo", server.undo, ["POST"]),
        ("/jobs/{id}/redo", server.redo, ["POST"]),
        ("/jobs/{id}/restore", server.restore, ["POST"]),
        ("/jobs/{id}/history", server.history, ["GET"]),
        ("/jobs/{id}/history/{version:int}", server.version, ["GET"]),
        ("/jobs/{id}/photos", server.photos, ["GET", "POST"]),
        ("/photos/{id}", server.photo, ["GET", "DELETE"]),
        ("/stock", server.stock, ["GET", "PUT"]),
        ("/answer/{action}", server.answers, ["POST"]),
    ]
    routes = [Route(path, told(handler), methods=methods) for path, handler, methods in api]
    app = Starlette(
        routes=[
            Mount("/api", Router(routes, redirect_slashes=False)),
            Route("/{path:path}", told(server.page), methods=["GET"]),
        ],
        exception_handlers={HTTPException: no_such},
    )
    app.router.redirect_slashes = False
    return Guard(app, patience)


__all__ = ["Server", "application"]
