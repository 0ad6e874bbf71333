"""The API as an OpenAPI document, held to the server by tests.

``question_types.py`` declares what is asked, ``forms.py`` the forms of the answers, ``addresses`` here what leads from
one to the other.
"""

from __future__ import annotations

import json
import re
from typing import Any

from ampleroom.report import VERSION
from ampleroom.web.forms import FORMS, Schema, form_schema
from ampleroom.web.question_types import QUESTIONS, Body, NewJob, OnTop, StockFile, Tap, WholeSheet, schemas

SCHEMAS = schemas()
PARTS = ("Edit", "Limits")
"""Parts of questions, which the document names by themselves."""


def text(words: str = "", **more: Any) -> Schema:
    """The schema of a text; ``words`` describe it, ``more`` are further keywords of JSON Schema."""
    return {"type": "string", **({"description": words} if words else {}), **more}


def body_schema(kind: type[Body]) -> Schema:
    """What a request brings, without the name of its class."""
    return {key: value for key, value in SCHEMAS[kind.__name__].items() if key not in ("title", "description")}


# ---- how it is answered --------------------------------------------------------------------------------------------

REFUSALS = {
    "400": "the request is not what is taken here",
    "403": "asked from another page",
    "404": "it is not there",
    "408": "it came too slowly",
    "409": "it was changed meanwhile; what it is now",
    "413": "too large",
    "421": "asked by another name than this machine's own",
    "422": "it cannot be done as asked, and why",
    "503": "too much is asked at once, or it took too long; nothing was changed",
}
ALWAYS = ("403", "408", "413", "421", "503")
"""What anything may be answered with, by the guard at the door."""


def ref(name: str) -> Schema:
    """A reference to a schema of the document."""
    return {"$ref": f"#/components/schemas/{name}"}


def content(kind: str, schema: Schema) -> dict[str, Any]:
    """The content of a request or an answer, by its media type."""
    return {"content": {kind: {"schema": schema}}}


def of_form(form: str) -> Schema:
    """The schema of a form, or of any of several: ``"kept or removed"``."""
    ways = [ref(way) for way in form.split(" or ")]
    return ways[0] if len(ways) == 1 else {"anyOf": ways}


def answered(form: str, errors: str = "", status: str = "200") -> dict[str, Any]:
    """The answers of an operation: its own, those errors, and what the guard refuses."""
    good = content("image/jpeg", text()) if form == "image/jpeg" else content("application/json", of_form(form))
    by_status = {status: {"description": "the answer", **good}}
    for error in sorted({*errors.split(), *ALWAYS}):
        form = "conflict" if error == "409" else "refusal"
        by_status[error] = {"description": REFUSALS[error], **content("application/json", ref(form))}
    return by_status


def operation(
    summary: str,
    form: str,
    errors: str = "",
    *,
    body: Schema | None = None,
    query: Schema | None = None,
    status: str = "200",
) -> dict[str, Any]:
    """One thing that can be done; one that takes a body or a query refuses those that are not as they should be."""
    parts: dict[str, Any] = {"summary": summary}
    if query is not None:
        parts["parameters"] = [query]
    if body is not None:
        parts["requestBody"] = {"required": True, **content("application/json", body)}
    errors += " 400" if body or query else ""
    return {**parts, "responses": answered(form, errors, status)}


def parameter(where: str, name: str, schema: Schema, required: bool = True) -> dict[str, Any]:
    """A parameter in the ``"path"`` or the ``"query"`` of an address."""
    return {"name": name, "in": where, "required": required, "schema": schema}


def addresses() -> dict[str, dict[str, Any]]:
    """Every address but those of the questions: its methods, and what they take and give."""
    on_base = body_schema(OnTop)
    put_away = parameter("query", "removed", text("those put away instead", enum=["yes"]), required=False)
    older = parameter(
        "query",
        "before",
        {"type": "integer", "description": "versions older than this one", "minimum": 0, "maximum": 10**18 - 1},
        required=False,
    )
    of_box = parameter("query", "box", text("a box's name", examples=["J1"], minLength=1, maxLength=60))
    photograph = {
        **operation(
            "A photograph of a box; kept small, without its place and camera",
            "photo",
            "404 422",
            query=of_box,
            status="201",
        ),
        "requestBody": {"required": True, **content("image/jpeg", text(format="binary"))},
    }
    return {
        "/api/hello": {"get": operation("Which version answers", "hello")},
        "/api/examples": {"get": operation("Jobs to try, a starter sheet, a stock file", "examples")},
        "/api/jobs": {
            "get": operation("All jobs, the last changed first", "jobs", query=put_away),
            "post": operation("A new job from a sheet", "kept", body=body_schema(NewJob), status="201"),
        },
        "/api/jobs/{id}": {
            "get": operation("A job", "kept", "404"),
            "put": operation(
                "Write the whole sheet, on top of a version",
                "kept",
                "404 409",
                body=body_schema(WholeSheet),
            ),
            "delete": operation("Put a job away; it can be brought back", "removed", "404"),
        },
        "/api/jobs/{id}/edit": {
            "post": operation(
                "One change, on top of a version; and the box as it is then",
                "edited",
                "404 409 422",
                body=body_schema(Tap),
            )
        },
        "/api/jobs/{id}/standing": {"get": operation("How a job stands, in a few words", "standing-of-job", "404 422")},
        "/api/jobs/{id}/undo": {"post": operation("Undo the last change", "kept", "404 409", body=on_base)},
        "/api/jobs/{id}/redo": {"post": operation("Do again what was undone", "kept", "404 409", body=on_base)},
        "/api/jobs/{id}/restore": {"post": operation("Bring a job back", "kept", "404")},
        "/api/jobs/{id}/history": {
            "get": operation("Versions, the newest first, a thousand at a time", "history", "404", query=older)
        },
        "/api/jobs/{id}/history/{version}": {"get": operation("One version's sheet", "version-sheet", "404")},
        "/api/jobs/{id}/photos": {"get": operation("Photographs of a job", "photos", "404"), "post": photograph},
        "/api/photos/{id}": {
            "get": operation("A photograph", "image/jpeg", "404"),
            "delete": operation("Take a photograph away", "removed", "404"),
        },
        "/api/stock": {
            "get": operation("Parts and prices", "stock"),
            "put": operation("Keep parts and prices", "stock", "422", body=body_schema(StockFile)),
        },
    }


def question(action: str) -> dict[str, Any]:
    """The operation of a question: its class's own words, its fields, and the form of its answer."""
    kind = QUESTIONS[action]
    errors = "404 422" if action == "packet" else "422"
    return {"post": operation(str(kind.__doc__).rstrip("."), kind.answer, errors, body=body_schema(kind))}


def openapi() -> dict[str, Any]:
    """The document, OpenAPI 3.1."""
    paths = {**addresses(), **{f"/api/answer/{action}": question(action) for action in QUESTIONS}}
    for path, item in paths.items():
        if names := re.findall(r"{(\w+)}", path):
            schemas: dict[str, Schema] = {"id": text(), "version": {"type": "integer", "minimum": 1}}
            item["parameters"] = [parameter("path", name, schemas[name]) for name in names]
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "Ampleroom",
            "version": VERSION,
            "description": "The page's own server, on this machine only.",
        },
        "paths": paths,
        "components": {"schemas": {**{name: SCHEMAS[name] for name in PARTS}, **used_forms(json.dumps(paths))}},
    }


def used_forms(document: str) -> dict[str, Schema]:
    """The forms that are spoken of, and those they speak of in turn."""
    schemas_by_name: dict[str, Schema] = {}
    new = re.findall(r"#/components/schemas/([\w-]+)", document)
    while new:
        name = new.pop()
        if name in FORMS and name not in schemas_by_name:
            schemas_by_name[name] = form_schema(name)
            new += re.findall(r"#/components/schemas/([\w-]+)", json.dumps(schemas_by_name[name]))
    return dict(sorted(schemas_by_name.items()))
