"""The API as an OpenAPI document, written by hand beside the handlers and held to them by tests."""

from __future__ import annotations

from typing import Any

from ampleroom.report import VERSION
from ampleroom.web.edits import EDITS
from ampleroom.web.engine import ACTIONS

Schema = dict[str, Any]


def obj(required: list[str], **properties: Schema) -> Schema:
    return {"type": "object", "required": required, "properties": properties}


TEXT: Schema = {"type": "string"}
VERSION_NUMBER: Schema = {"type": "integer", "minimum": 1, "maximum": 9007199254740991}
ERROR = obj(["error", "kind"], error=TEXT, kind=TEXT)
JOB = obj(
    ["id", "title", "version", "sheet", "changed", "can_undo", "can_redo"],
    id=TEXT, title=TEXT, version=VERSION_NUMBER, sheet=TEXT, changed=TEXT, can_undo={"type": "boolean"}, can_redo={"type": "boolean"},
)  # fmt: skip
JOB_ROW = obj(["id", "title", "version", "changed"], id=TEXT, title=TEXT, version=VERSION_NUMBER, changed=TEXT)
CONFLICT = obj(
    ["error", "kind", "current", "base"],
    error=TEXT,
    kind=TEXT,
    current={"$ref": "#/components/schemas/Job"},
    base={"type": "integer"},
)
EDIT = obj(
    ["do"],
    do={"type": "string", "enum": list(EDITS)},
    box=TEXT,
    line=TEXT,
    cable=TEXT,
    index={"type": "integer"},
    way=TEXT,
    how=TEXT,
)


def ref(name: str) -> Schema:
    return {"$ref": f"#/components/schemas/{name}"}


def json_body(schema: Schema) -> dict[str, Any]:
    return {"required": True, "content": {"application/json": {"schema": schema}}}


def answer(schema: Schema, words: str = "the answer") -> dict[str, Any]:
    return {"description": words, "content": {"application/json": {"schema": schema}}}


def answers(schema: Schema, status: str = "200", *errors: str) -> dict[str, Any]:
    found = {status: answer(schema)}
    words = {
        "400": "the body is not what is taken",
        "404": "it is not there",
        "409": "it was changed meanwhile",
        "422": "it cannot be done as asked",
    }
    for error in errors:
        found[error] = answer(ref("Conflict") if error == "409" else ref("Error"), words[error])
    found["403"] = answer(ref("Error"), "asked from another page")
    found["413"] = answer(ref("Error"), "too large")
    return found


def path_parameter(name: str, schema: Schema | None = None) -> dict[str, Any]:
    return {"name": name, "in": "path", "required": True, "schema": schema or TEXT}


ID = path_parameter("id")


def openapi() -> dict[str, Any]:
    """The document, OpenAPI 3.1."""
    any_object: Schema = {"type": "object"}
    base_only = obj(["base"], base=VERSION_NUMBER)
    paths: dict[str, Any] = {
        "/api/hello": {"get": {"summary": "Which version answers", "responses": answers(obj(["ampleroom", "api"], ampleroom=TEXT, api={"type": "integer"}))}},
        "/api/examples": {"get": {"summary": "Jobs to try, and a starter sheet", "responses": answers(any_object)}},
        "/api/jobs": {
            "get": {"summary": "All jobs, the last changed first", "responses": answers(obj(["jobs"], jobs={"type": "array", "items": ref("JobRow")}))},
            "post": {
                "summary": "A new job from a sheet",
                "requestBody": json_body(obj(["sheet"], sheet=TEXT, label=TEXT)),
                "responses": answers(ref("Job"), "201", "400"),
            },
        },
        "/api/jobs/{id}": {
            "parameters": [ID],
            "get": {"summary": "A job", "responses": answers(ref("Job"), "200", "404")},
            "put": {
                "summary": "Write the whole sheet, on top of a version",
                "requestBody": json_body(obj(["base", "sheet"], base=VERSION_NUMBER, sheet=TEXT, label=TEXT)),
                "responses": answers(ref("Job"), "200", "400", "404", "409"),
            },
            "delete": {"summary": "Put a job away (it can be brought back)", "responses": answers(any_object, "200", "404")},
        },
        "/api/jobs/{id}/edit": {
            "parameters": [ID],
            "post": {
                "summary": "One change, on top of a version; the box as it is then",
                "requestBody": json_body(obj(["base", "edit"], base=VERSION_NUMBER, edit=ref("Edit"), box=TEXT)),
                "responses": answers(any_object, "200", "400", "404", "409", "422"),
            },
        },
        "/api/jobs/{id}/undo": step("Undo the last change", base_only),
        "/api/jobs/{id}/redo": step("Do again what was undone", base_only),
        "/api/jobs/{id}/restore": {"parameters": [ID], "post": {"summary": "Bring a job back", "responses": answers(ref("Job"), "200", "404")}},
        "/api/jobs/{id}/history": {"parameters": [ID], "get": {"summary": "Every version", "responses": answers(any_object, "200", "404")}},
        "/api/jobs/{id}/history/{version}": {
            "parameters": [ID, path_parameter("version", {"type": "integer", "minimum": 1, "maximum": 1000000})],
            "get": {"summary": "One version's sheet", "responses": answers(any_object, "200", "404")},
        },
        "/api/jobs/{id}/photos": {
            "parameters": [ID],
            "get": {"summary": "Photographs of a job", "responses": answers(any_object, "200", "404")},
            "post": {
                "summary": "A photograph of a box; encoded anew, its place and camera removed",
                "parameters": [{"name": "box", "in": "query", "required": True, "schema": TEXT}],
                "requestBody": {"required": True, "content": {"image/jpeg": {"schema": {"type": "string", "format": "binary"}}}},
                "responses": answers(any_object, "201", "400", "404", "422"),
            },
        },
        "/api/photos/{id}": {
            "parameters": [ID],
            "get": {
                "summary": "A photograph",
                "responses": {"200": {"description": "the picture", "content": {"image/jpeg": {}}}, "404": answer(ref("Error"), "it is not there"), "403": answer(ref("Error"), "asked from another page")},
            },
            "delete": {"summary": "Take a photograph away", "responses": answers(any_object, "200", "404")},
        },
        "/api/stock": {
            "get": {"summary": "Parts and prices", "responses": answers(obj(["stock"], stock=TEXT))},
            "put": {"summary": "Keep parts and prices", "requestBody": json_body(obj(["stock"], stock=TEXT)), "responses": answers(any_object, "200", "400", "422")},
        },
    }  # fmt: skip
    for action in ACTIONS:
        paths[f"/api/answer/{action}"] = {
            "post": {
                "summary": f"The question {action!r}, answered from a sheet's text as --json does",
                "requestBody": json_body(
                    obj([], sheet=TEXT, box=TEXT, edition={"type": "integer"}, stock=TEXT, name=TEXT, content=TEXT)
                ),
                "responses": answers(any_object, "200", "400", "422"),
            }
        }
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "Ampleroom",
            "version": VERSION,
            "description": "The page's own server, on this machine only.",
        },
        "paths": paths,
        "components": {"schemas": {"Job": JOB, "JobRow": JOB_ROW, "Error": ERROR, "Conflict": CONFLICT, "Edit": EDIT}},
    }


def step(summary: str, body: Schema) -> dict[str, Any]:
    return {
        "parameters": [ID],
        "post": {
            "summary": summary,
            "requestBody": json_body(body),
            "responses": answers(ref("Job"), "200", "400", "404", "409"),
        },
    }
