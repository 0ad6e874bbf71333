"""The local server: the page, the jobs, and the same answers the browser's Python gives."""

from __future__ import annotations

import asyncio
import logging
import re
import sqlite3
from collections.abc import Awaitable, Callable
from functools import cached_property
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
from ampleroom.web.bounds import USUAL_SHEET
from ampleroom.web.compressed import copy_to_send
from ampleroom.web.fields import Fields, WrongField, checked
from ampleroom.web.guard import PATIENCE, Guard, Receive, Scope, Send, shown
from ampleroom.web.photos import MOST_A_BOX
from ampleroom.web.question_fields import BODIES, QUESTIONS
from ampleroom.web.store import Conflict, NotThere, Store
from ampleroom.web.work import BadRequest, object_in
from ampleroom.web.workers import LARGE, SMALL, TAP, TooBusy, Workers

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
TAPS = {"box", "job", "show", "rules", "rule", "words"}
"""Questions that are answered quickly where the sheet is of a usual size."""
LONG = {"plan", "apply", "against", "packet", "workbook", "import"}
"""Questions that take long about any sheet."""

LONGEST_TITLE = 120
USUAL_PHOTO = 5_000_000
"""Bytes of a photograph as a phone takes it."""

NOT_KEPT = {"cache-control": "no-store"}

Handler = Callable[[Request], Awaitable[Response]]


def reply(data: Any, status: int = 200, headers: dict[str, str] | None = None) -> Response:
    """An answer as JSON, which no browser keeps."""
    headers = {**NOT_KEPT, **(headers or {})}
    return Response(msgspec.json.encode(data), status, headers, media_type="application/json")


class Prepared(Response):
    """An answer that is JSON already, handed on in pieces: copying a long one whole would hold up all others."""

    media_type = "application/json"
    piece = 256 * 1024

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        await send({"type": "http.response.start", "status": self.status_code, "headers": self.raw_headers})
        whole = memoryview(self.body)
        for start in range(0, max(1, len(whole)), self.piece):
            piece, more = bytes(whole[start : start + self.piece]), start + self.piece < len(whole)
            await send({"type": "http.response.body", "body": piece, "more_body": more})
            await asyncio.sleep(0)


async def json_of(request: Request) -> bytes:
    """The body of a request that says it is JSON."""
    if request.headers.get("content-type", "").split(";")[0].strip() != "application/json":
        raise BadRequest("send JSON: content-type application/json")
    return await request.body()


async def body_of(request: Request, *declared: Fields) -> dict[str, Any]:
    """The JSON object of a request, as it is declared. Raises WrongField for a field that is not so."""
    data = object_in(await json_of(request))
    for fields in declared:
        checked(data, fields)
    return data


def label_of(data: dict[str, Any], usual: str) -> str:
    """What the history says of a change: what the request says, or else the usual words."""
    return data.get("label") or usual


def title_of(sheet: str) -> str:
    """The job's name in a sheet, without reading all of it."""
    for line in sheet.removeprefix("\ufeff").split("\n", 400)[:400]:
        words = without_remark(line).split(None, 1)
        if len(words) == 2 and words[0].lower() == "job":
            return words[1].strip()[:LONGEST_TITLE]
    return "Job without a name"


class Server:
    """The handlers, with the store they work on."""

    def __init__(self, store: Store, pages: Path, examples: Path | None, workers: Workers) -> None:
        self.store = store
        self.pages = pages
        self.examples = examples
        self.locks: WeakValueDictionary[str, asyncio.Lock] = WeakValueDictionary()
        self.workers = workers
        self.standings: dict[str, tuple[int, dict[str, Any]]] = {}
        """How each job stands, with the version that was judged."""

    def lock(self, id: str) -> asyncio.Lock:
        """Changes to one job one after another; jobs do not wait for each other."""
        return self.locks.setdefault(id, asyncio.Lock())

    # ---- jobs ------------------------------------------------------------------------------------------------------

    async def hello(self, request: Request) -> Response:
        """GET: the version, and whether the page can work without the server."""
        return reply({"ampleroom": VERSION, "api": 1, "offline": (self.pages / "offline.json").is_file()})

    async def jobs(self, request: Request) -> Response:
        """GET: all jobs, or with ``?removed=yes`` those put away. POST: a new job; 201."""
        if request.method == "GET":
            removed = request.query_params.get("removed")
            if removed not in (None, "yes"):
                raise BadRequest("'removed' is yes, or left out")
            return reply({"jobs": self.store.jobs(removed == "yes")})
        data = await body_of(request, BODIES["NewJob"])
        sheet = data["sheet"]
        return reply((await self.store.create(sheet, title_of(sheet), label_of(data, "new"))).data(), 201)

    async def job(self, request: Request) -> Response:
        """GET: a job. PUT: its whole sheet, on top of a version. DELETE: put it away."""
        id = request.path_params["id"]
        if request.method == "DELETE":
            await self.store.remove(id, True)
            return reply({"removed": id})
        if request.method == "PUT":
            data = await body_of(request, BODIES["WholeSheet"])
            base, sheet = data["base"], data["sheet"]
            async with self.lock(id):
                saved = await self.store.save(id, base, sheet, title_of(sheet), label_of(data, "sheet written"))
            return reply(saved.data())
        return reply(self.store.get(id).data())

    async def standing(self, request: Request) -> Response:
        """GET: how a kept job stands, in a few words; worked out once for a version."""
        id = request.path_params["id"]
        current = self.store.get(id)
        known = self.standings.get(id)
        if known is None or known[0] != current.version:
            body = msgspec.json.encode({"sheet": current.sheet})
            head = {"task": "answer", "action": "standing"}
            got, answer = await self.workers.do(rank_of(len(body), "standing"), head, body)
            if got["status"] != 200:
                return Prepared(answer, got["status"], NOT_KEPT)
            known = (current.version, msgspec.json.decode(answer, type=dict[str, Any]))
            self.standings[id] = known
        return reply({"version": known[0], **known[1]})

    async def edit(self, request: Request) -> Response:
        """A tap: the change made, kept, and the box as it is then, in one answer."""
        id = request.path_params["id"]
        data = await body_of(request, BODIES["OnTop"])  # the worker checks the change itself
        base = data["base"]
        async with self.lock(id):
            current = self.store.get(id)
            if current.version != base:
                raise Conflict(current, base)
            data.pop("sheet", None)
            rank = TAP if len(current.sheet) <= USUAL_SHEET else LARGE
            head = {"task": "edit", "data": data}
            got, answer = await self.workers.do(rank, head, current.sheet.encode(), key=id)
            if got["status"] != 200:
                return Prepared(answer, got["status"], NOT_KEPT)
            kept = {"sheet": answer[: got["sheet"]].decode()}
            checked(kept, {"sheet": BODIES["WholeSheet"]["sheet"]})
            sheet = kept["sheet"]
            rest = msgspec.json.decode(answer[got["sheet"] :], type=dict[str, msgspec.Raw])
            label = msgspec.json.decode(rest["label"], type=str)
            saved = await self.store.save(id, base, sheet, title_of(sheet), label)
        kept_now = saved.data()
        if data.get("patch"):
            del kept_now["sheet"]  # it is most of the answer, and the page has nearly all of it
        return reply({**rest, **kept_now})

    async def undo(self, request: Request) -> Response:
        """POST: the sheet before the last change, as a new version."""
        return await self.step(request, back=True)

    async def redo(self, request: Request) -> Response:
        """POST: the sheet before the last undo, as a new version."""
        return await self.step(request, back=False)

    async def step(self, request: Request, back: bool) -> Response:
        """One step of undo or redo, on top of the version the request names."""
        id = request.path_params["id"]
        base = (await body_of(request, BODIES["OnTop"]))["base"]
        async with self.lock(id):
            return reply((await self.store.step(id, base, back, title_of)).data())

    async def restore(self, request: Request) -> Response:
        """POST: a job that was put away, brought back."""
        return reply((await self.store.remove(request.path_params["id"], False)).data())

    async def history(self, request: Request) -> Response:
        """The newest versions first; ``?before=N`` goes on with those older than N."""
        before = request.query_params.get("before")
        if before is not None and not re.fullmatch("[0-9]{1,18}", before):
            raise BadRequest("'before' is a version: a whole number")
        page, more = self.store.history(request.path_params["id"], *([] if before is None else [int(before)]))
        return reply({"versions": page, "more": more})

    async def version(self, request: Request) -> Response:
        """GET: the sheet of one version."""
        version = request.path_params["version"]
        return reply({"version": version, "sheet": self.store.version(request.path_params["id"], version)})

    # ---- photographs, stock, answers -------------------------------------------------------------------------------

    async def photos(self, request: Request) -> Response:
        """GET: the photographs of a job, without their bytes. POST: one more for ``?box=NAME``; 201."""
        id = request.path_params["id"]
        if request.method == "GET":
            return reply({"photos": self.store.photos(id)})
        box = request.query_params.get("box", "")
        if not box or len(box) > 60:
            raise BadRequest("say which box: ?box=J1")
        sheet = self.store.get(id).sheet
        got, _ = await self.workers.do(rank_of(len(sheet)), {"task": "box", "box": box}, sheet.encode(), key=id)
        try:
            data = await request.body()
            _, jpeg = await self.workers.do(SMALL if len(data) <= USUAL_PHOTO else LARGE, {"task": "photo"}, data)
        except TooBusy:
            raise
        except AmpleroomError as trouble:
            log.warning("refused a photograph: %s", trouble)
            raise
        return reply(await self.store.add_photo(id, got["name"], jpeg, MOST_A_BOX), 201)

    async def photo(self, request: Request) -> Response:
        """GET: a photograph as a JPEG. DELETE: take it away."""
        id = request.path_params["id"]
        if request.method == "DELETE":
            await self.store.drop_photo(id)
            return reply({"removed": id})
        headers = {"cache-control": "private, max-age=31536000, immutable"}
        return Response(self.store.photo(id), media_type="image/jpeg", headers=headers)

    async def stock(self, request: Request) -> Response:
        """GET: the stock file, the example's until one is kept. PUT: keep one that can be read."""
        if request.method == "GET":
            kept = self.store.setting("stock")
            return reply({"stock": self.example("stock.toml") if kept is None else kept})
        stock = (await body_of(request, BODIES["StockFile"]))["stock"]
        await self.workers.do(
            rank_of(len(stock)), {"task": "stock"}, stock.encode()
        )  # faults are told, and nothing is kept
        await self.store.set_setting("stock", stock)
        return reply({"stock": stock})

    async def answers(self, request: Request) -> Response:
        """POST: the answer to a question, worked out by a worker; for a packet of a job with its photographs."""
        action = request.path_params["action"]
        body = await json_of(request)
        if action not in QUESTIONS:
            object_in(body)
            raise NotThere(f"no question {action!r}")
        head: dict[str, Any] = {"task": "answer", "action": action}
        if action == "packet" and isinstance(id := object_in(body).get("job"), str):
            photos = await run_in_threadpool(self.store.pictures, id)
            head["photos"] = [(box, len(jpeg)) for box, jpeg in photos]
            body = b"".join([body, *(jpeg for _, jpeg in photos)])
        more = (
            10.0 if action == "import" else 0.0
        )  # the process that reads a workbook has a bound of its own, and its own words
        got, answer = await self.workers.do(rank_of(len(body), action), head, body, more=more)
        return Prepared(answer, got["status"], NOT_KEPT)

    def example(self, name: str) -> str:
        """The text of a file among the examples; empty where there is none."""
        path = self.examples / name if self.examples else None
        return path.read_text("utf-8") if path and path.is_file() else ""

    async def examples_list(self, request: Request) -> Response:
        """GET: jobs to try, a starter sheet, a stock file."""
        names = sorted(path.name for path in self.examples.glob("*.job")) if self.examples else []
        rows = [{"name": name, "title": title_of(self.example(name)), "sheet": self.example(name)} for name in names]
        return reply({"examples": rows, "starter": starter_sheet(), "stock": self.example("stock.toml")})

    async def api_document(self, request: Request) -> Response:
        """GET: the OpenAPI document."""
        return Prepared(self.document, headers=NOT_KEPT)

    @cached_property
    def document(self) -> bytes:
        """The API's document; it is seldom asked for, and what makes it takes a while to load."""
        from ampleroom.web.openapi import openapi

        return msgspec.json.encode(openapi())

    # ---- the page --------------------------------------------------------------------------------------------------

    async def page(self, request: Request) -> Response:
        """GET: a file of the page. Raises ``NotThere`` for a name that is not one of its files."""
        name = request.path_params.get("path") or "index.html"
        path = self.page_named(name)
        if path is None:
            log.warning("no page %s", shown(name))
            raise NotThere("there is no such page")
        cached = (
            "no-cache" if path.suffix in (".html", ".js", ".mjs", ".css", ".json", ".webmanifest") else "max-age=86400"
        )
        sent, coding = copy_to_send(path, request.headers.get("accept-encoding", ""))
        headers = {"cache-control": cached, "vary": "accept-encoding"}
        if coding:
            headers["content-encoding"] = coding
        answer = FileResponse(sent, media_type=TYPES[path.suffix], headers=headers, stat_result=sent.stat())
        if answer.headers["etag"] in request.headers.get("if-none-match", ""):
            return Response(status_code=304, headers={**headers, "etag": answer.headers["etag"]})
        return answer

    def page_named(self, name: str) -> Path | None:
        """A file of the pages' folder and of no other, of a kind that is served; whatever the name says."""
        try:
            path = (self.pages / name).resolve()
            inside = path.is_relative_to(self.pages.resolve()) and path.suffix in TYPES and path.is_file()
        except (ValueError, OSError):  # a zero byte, a name too long
            return None
        return path if inside else None


def rank_of(size: int, action: str = "") -> int:
    """How heavy a task is, by the size of what it brings."""
    if size > USUAL_SHEET or action in LONG:
        return LARGE
    return TAP if action in TAPS else SMALL


def answering_troubles(handler: Handler) -> Handler:
    """A handler whose troubles become answers: what a person can put right with its words, the rest logged and a plain
    500.
    """

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
        except (BadRequest, WrongField) as trouble:
            return reply({"error": str(trouble), "kind": "request"}, 400)
        except TooBusy as trouble:
            log.warning("gave up %s %s: %s", request.method, shown(request.scope["path"]), trouble)
            return reply({"error": str(trouble), "kind": "busy"}, 503)
        except AmpleroomError as trouble:
            return reply({"error": str(trouble), "kind": "question"}, 422)
        except sqlite3.Error as trouble:
            log.error("answering %s %s: the file of jobs: %s", request.method, shown(request.scope["path"]), trouble)
            explained = f"the file the jobs are kept in cannot be read or written ({trouble}); what you see is not kept"
            return reply({"error": explained, "kind": "server"}, 500)
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


def application(
    store: Store,
    pages: Path = STATIC,
    examples: Path | None = None,
    patience: float = PATIENCE,
    workers: Workers | None = None,
) -> Guard:
    """The whole server as an ASGI application. The API is mounted by itself: none of its addresses is ever taken for a
    page.
    """
    server = Server(store, pages, examples, workers or Workers())
    api = [
        ("/hello", server.hello, ["GET"]),
        ("/openapi.json", server.api_document, ["GET"]),
        ("/examples", server.examples_list, ["GET"]),
        ("/jobs", server.jobs, ["GET", "POST"]),
        ("/jobs/{id}", server.job, ["GET", "PUT", "DELETE"]),
        ("/jobs/{id}/edit", server.edit, ["POST"]),
        ("/jobs/{id}/standing", server.standing, ["GET"]),
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
    routes = [Route(path, answering_troubles(handler), methods=methods) for path, handler, methods in api]
    app = Starlette(
        routes=[
            Mount("/api", Router(routes, redirect_slashes=False)),
            Route("/{path:path}", answering_troubles(server.page), methods=["GET"]),
        ],
        exception_handlers={HTTPException: no_such},
    )
    app.router.redirect_slashes = False
    return Guard(app, patience)


__all__ = ["Server", "application"]
