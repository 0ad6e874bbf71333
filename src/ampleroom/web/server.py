"""The local server: the page, the jobs, and the same answers the browser's Python gives."""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any

import msgspec
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import FileResponse, Response
from starlette.routing import Route

from ampleroom.errors import AmpleroomError
from ampleroom.report import VERSION
from ampleroom.web import engine
from ampleroom.web.guard import Guard
from ampleroom.web.openapi import openapi
from ampleroom.web.photos import MOST_A_BOX, cleaned
from ampleroom.web.store import Conflict, Kept, NotThere, Store

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
LONG = {"plan", "packet", "workbook", "import", "against", "takeoff", "editions", "remedies", "fits", "map"}
"""Questions that take long enough to be answered beside the others."""

Handler = Callable[[Request], Awaitable[Response]]


def reply(data: Any, status: int = 200) -> Response:
    return Response(
        msgspec.json.encode(data), status, media_type="application/json", headers={"cache-control": "no-store"}
    )


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


def base_of(data: dict[str, Any]) -> int:
    base = data.get("base")
    if not isinstance(base, int) or isinstance(base, bool) or not 0 < base < 2**53:
        raise BadRequest("'base' is the version you changed: a whole number")
    return base


def title_of(sheet: str) -> str:
    """The job's name in a sheet, without reading all of it."""
    for line in sheet.split("\n", 400)[:400]:
        words = line.split(None, 1)
        if len(words) == 2 and words[0].lower() == "job":
            return words[1].split(" #")[0].strip()[:120]
    return "Job without a name"


class Server:
    """The handlers, with the store they work on."""

    def __init__(self, store: Store, pages: Path, examples: Path | None) -> None:
        self.store = store
        self.pages = pages
        self.examples = examples
        self.locks: dict[str, asyncio.Lock] = {}

    def lock(self, id: str) -> asyncio.Lock:
        """Changes to one job one after another; jobs do not wait for each other."""
        return self.locks.setdefault(id, asyncio.Lock())

    # ---- jobs ------------------------------------------------------------------------------------------------------

    async def hello(self, request: Request) -> Response:
        return reply({"ampleroom": VERSION, "api": 1, "offline": (self.pages / "offline.json").is_file()})

    async def jobs(self, request: Request) -> Response:
        if request.method == "GET":
            return reply({"jobs": await asyncio.wrap_future(self.store.jobs())})
        data = await body_of(request)
        sheet = text(data, "sheet")
        made = await asyncio.wrap_future(self.store.create(sheet, title_of(sheet), str(data.get("label") or "new")))
        return reply(made.data(), 201)

    async def job(self, request: Request) -> Response:
        id = request.path_params["id"]
        if request.method == "GET":
            return reply((await self.get(id)).data())
        if request.method == "DELETE":
            await asyncio.wrap_future(self.store.remove(id, True))
            return reply({"removed": id})
        data = await body_of(request)
        base, sheet = base_of(data), text(data, "sheet")
        async with self.lock(id):
            saved = self.store.save(id, base, sheet, title_of(sheet), str(data.get("label") or "sheet written"))
            return reply((await asyncio.wrap_future(saved)).data())

    async def get(self, id: str) -> Kept:
        return await asyncio.wrap_future(self.store.get(id))

    async def edit(self, request: Request) -> Response:
        """A tap: the change made, kept, and the box as it is then, in one answer."""
        id = request.path_params["id"]
        data = await body_of(request)
        base = base_of(data)
        async with self.lock(id):
            current = await self.get(id)
            if current.version != base:
                raise Conflict(current, base)
            answer = engine.answer("edit", {**data, "sheet": current.sheet})
            if "error" in answer:
                return reply(answer, 422)
            label = str((data.get("edit") or {}).get("do", "change"))
            saved = await asyncio.wrap_future(
                self.store.save(id, base, answer["sheet"], answer["title"] or title_of(answer["sheet"]), label)
            )
        return reply({**answer, **saved.data()})

    async def undo(self, request: Request) -> Response:
        return await self.step(request, back=True)

    async def redo(self, request: Request) -> Response:
        return await self.step(request, back=False)

    async def step(self, request: Request, back: bool) -> Response:
        id = request.path_params["id"]
        base = base_of(await body_of(request))
        async with self.lock(id):
            return reply((await asyncio.wrap_future(self.store.step(id, base, back, title_of))).data())

    async def restore(self, request: Request) -> Response:
        return reply((await asyncio.wrap_future(self.store.remove(request.path_params["id"], False))).data())

    async def history(self, request: Request) -> Response:
        return reply({"versions": await asyncio.wrap_future(self.store.history(request.path_params["id"]))})

    async def version(self, request: Request) -> Response:
        found = self.store.version(request.path_params["id"], request.path_params["version"])
        return reply({"version": request.path_params["version"], "sheet": await asyncio.wrap_future(found)})

    # ---- photographs, stock, answers -------------------------------------------------------------------------------

    async def photos(self, request: Request) -> Response:
        id = request.path_params["id"]
        if request.method == "GET":
            return reply({"photos": await asyncio.wrap_future(self.store.photos(id))})
        box = request.query_params.get("box", "")
        if not box or len(box) > 60:
            raise BadRequest("say which box: ?box=J1")
        current = await self.get(id)
        job, _ = engine.opened(current.sheet)
        name = job.box(box).name
        jpeg = await run_in_threadpool(cleaned, await request.body())
        return reply(await asyncio.wrap_future(self.store.add_photo(id, name, jpeg, MOST_A_BOX)), 201)

    async def photo(self, request: Request) -> Response:
        id = request.path_params["id"]
        if request.method == "DELETE":
            await asyncio.wrap_future(self.store.drop_photo(id))
            return reply({"removed": id})
        jpeg = await asyncio.wrap_future(self.store.photo(id))
        return Response(
            jpeg, media_type="image/jpeg", headers={"cache-control": "private, max-age=31536000, immutable"}
        )

    async def stock(self, request: Request) -> Response:
        if request.method == "GET":
            return reply({"stock": await asyncio.wrap_future(self.store.setting("stock", self.example("stock.toml")))})
        stock = text(await body_of(request), "stock", 1_000_000)
        engine.stock_read(stock)  # faults are told, and nothing is kept
        await asyncio.wrap_future(self.store.set_setting("stock", stock))
        return reply({"stock": stock})

    async def answers(self, request: Request) -> Response:
        action = request.path_params["action"]
        data = await body_of(request)
        if action not in engine.ACTIONS:
            raise NotThere(f"no question {action!r}")
        if action == "packet" and isinstance(data.get("job"), str):
            data["photos"] = await self.photos_of(data["job"])
        answer = await run_in_threadpool(engine.answer, action, data) if action in LONG else engine.answer(action, data)
        return reply(answer, 422 if "error" in answer else 200)

    async def photos_of(self, id: str) -> dict[str, list[str]]:
        from base64 import b64encode

        found: dict[str, list[str]] = {}
        for row in await asyncio.wrap_future(self.store.photos(id)):
            jpeg = await asyncio.wrap_future(self.store.photo(row["id"]))
            found.setdefault(row["box"], []).append(b64encode(jpeg).decode("ascii"))
        return found

    def example(self, name: str) -> str:
        path = self.examples / name if self.examples else None
        return path.read_text("utf-8") if path and path.is_file() else ""

    async def examples_list(self, request: Request) -> Response:
        from ampleroom.cli.new import STARTER

        names = sorted(path.name for path in self.examples.glob("*.job")) if self.examples else []
        rows = [{"name": name, "title": title_of(self.example(name)), "sheet": self.example(name)} for name in names]
        return reply({"examples": rows, "starter": STARTER.read_text("utf-8"), "stock": self.example("stock.toml")})

    async def api_document(self, request: Request) -> Response:
        return reply(openapi())

    # ---- the page --------------------------------------------------------------------------------------------------

    async def page(self, request: Request) -> Response:
        name = request.path_params.get("path") or "index.html"
        path = (self.pages / name).resolve()
        if not path.is_relative_to(self.pages.resolve()) or not path.is_file() or path.suffix not in TYPES:
            raise NotThere("there is no such page")
        cached = (
            "no-cache" if path.suffix in (".html", ".js", ".mjs", ".css", ".json", ".webmanifest") else "max-age=86400"
        )
        return FileResponse(path, media_type=TYPES[path.suffix], headers={"cache-control": cached})


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
        except Exception:
            log.exception("answering %s %s", request.method, request.url.path[:200])
            return reply(
                {
                    "error": "something went wrong here; nothing was lost, and it was written to the log",
                    "kind": "server",
                },
                500,
            )

    return safe


def application(store: Store, pages: Path = STATIC, examples: Path | None = None) -> Guard:
    """The whole server as an ASGI application."""
    server = Server(store, pages, examples)
    routes = [
        ("/api/hello", server.hello, ["GET"]),
        ("/api/openapi.json", server.api_document, ["GET"]),
        ("/api/examples", server.examples_list, ["GET"]),
        ("/api/jobs", server.jobs, ["GET", "POST"]),
        ("/api/jobs/{id}", server.job, ["GET", "PUT", "DELETE"]),
        ("/api/jobs/{id}/edit", server.edit, ["POST"]),
        ("/api/jobs/{id}/undo", server.undo, ["POST"]),
        ("/api/jobs/{id}/redo", server.redo, ["POST"]),
        ("/api/jobs/{id}/restore", server.restore, ["POST"]),
        ("/api/jobs/{id}/history", server.history, ["GET"]),
        ("/api/jobs/{id}/history/{version:int}", server.version, ["GET"]),
        ("/api/jobs/{id}/photos", server.photos, ["GET", "POST"]),
        ("/api/photos/{id}", server.photo, ["GET", "DELETE"]),
        ("/api/stock", server.stock, ["GET", "PUT"]),
        ("/api/answer/{action}", server.answers, ["POST"]),
        ("/{path:path}", server.page, ["GET"]),
    ]
    app = Starlette(routes=[Route(path, told(handler), methods=methods) for path, handler, methods in routes])
    return Guard(app)


__all__ = ["Server", "application"]
