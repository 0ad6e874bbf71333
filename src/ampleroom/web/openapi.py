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
WHOLE: Schema = {"type": "integer"}
YES_OR_NO: Schema = {"type": "boolean"}
ANYTHING: Schema = {"type": "object"}
EXAMPLE = """job Kiln shed
edition 2020
box J1 at the rafters
  square 4 x 2-1/8
  clamps inside
  switch #14
run J1 > ? 2 x 12/2 nm-b
"""
SHEET: Schema = {"type": "string", "description": "a job sheet's text", "examples": [EXAMPLE]}
BOX: Schema = {"type": "string", "description": "a box's name", "examples": ["J1"]}
EDITION: Schema = {"type": "integer", "description": "another edition than the sheet's", "examples": [2017]}
STOCK: Schema = {"type": "string", "description": "a stock file's text", "examples": ["currency = 'USD'\n"]}
VERSION_NUMBER: Schema = {"type": "integer", "minimum": 1, "maximum": 9007199254740991}
ERROR = obj(["error", "kind"], error=TEXT, kind=TEXT, faults={"type": "array", "items": ANYTHING})
JOB = obj(
    ["id", "title", "version", "sheet", "changed", "can_undo", "can_redo", "removed"],
    id=TEXT, title=TEXT, version=VERSION_NUMBER, sheet=TEXT, changed=TEXT, can_undo=YES_OR_NO, can_redo=YES_OR_NO, removed=YES_OR_NO,
)  # fmt: skip
JOB_ROW = obj(["id", "title", "version", "changed"], id=TEXT, title=TEXT, version=VERSION_NUMBER, changed=TEXT)
CONFLICT = obj(
    ["error", "kind", "current", "base"],
    error=TEXT,
    kind=TEXT,
    current={"$ref": "#/components/schemas/Job"},
    base=WHOLE,
)
EDITED = obj(
    [*JOB["required"], "faults", "view"],
    **JOB["properties"],
    faults={"type": "array"},
    view={"type": ["object", "null"]},
)
PHOTO = obj(["id", "box", "bytes", "made"], id=TEXT, box=TEXT, bytes=WHOLE, made=TEXT)
EDIT = obj(
    ["do"],
    do={"type": "string", "enum": list(EDITS)},
    box=BOX,
    line={"type": "string", "examples": ["receptacle #12"]},
    cable={"type": "string", "examples": ["14/2 nm-b"]},
    index={"type": "integer", "examples": [0]},
    count={"type": ["integer", "string"], "examples": [2]},
    way={"type": "string", "examples": ["inside", "outside", "tabs", "none", "?"]},
    how={"type": "string", "enum": ["ends", "passes", "looped", "landed"]},
    to=TEXT, space=TEXT, name={"type": "string", "examples": ["J2"]}, at=TEXT, title=TEXT, edition=EDITION, text=SHEET,
)  # fmt: skip
LIMITS = obj(
    [],
    no_plaster=YES_OR_NO,
    only_in_stock=YES_OR_NO,
    most_kinds={"type": ["integer", "null"]},
    spare={"type": "string", "examples": ["12/2 nm-b"]},
    margin={"type": "string", "examples": ["2.25"]},
)
QUESTIONS: dict[str, Schema] = {
    "job": obj(["sheet"], sheet=SHEET, edition=EDITION),
    "check": obj(["sheet"], sheet=SHEET, edition=EDITION),
    "show": obj(["sheet", "box"], sheet=SHEET, box=BOX, edition=EDITION),
    "box": obj(["sheet", "box"], sheet=SHEET, box=BOX, edition=EDITION),
    "edit": obj(["sheet", "edit"], sheet=SHEET, edit={"$ref": "#/components/schemas/Edit"}, box=BOX, edition=EDITION),
    "fits": obj(
        ["sheet", "box"], sheet=SHEET, box=BOX, edition=EDITION, what={"type": "string", "examples": ["14/2 nm-b"]}
    ),
    "remedies": obj(["sheet", "box"], sheet=SHEET, box=BOX, edition=EDITION, stock=STOCK, limits=LIMITS),
    "apply": obj(["sheet"], sheet=SHEET, box=BOX, choose=WHOLE, edition=EDITION, stock=STOCK, limits=LIMITS),
    "plan": obj(["sheet"], sheet=SHEET, edition=EDITION, stock=STOCK, limits=LIMITS, solver=YES_OR_NO),
    "takeoff": obj(["sheet"], sheet=SHEET, stock=STOCK),
    "editions": obj(["sheet"], sheet=SHEET),
    "against": obj(["sheet", "against"], sheet=SHEET, against=EDITION, edition=EDITION, stock=STOCK, limits=LIMITS),
    "rule": obj(["name"], name={"type": "string", "examples": ["box-fill-grounds", "plastic-tabs"]}, edition=EDITION),
    "rules": obj([]),
    "map": obj(["sheet"], sheet=SHEET, edition=EDITION),
    "words": obj([]),
    "packet": obj(
        ["sheet"],
        sheet=SHEET,
        edition=EDITION,
        stock=STOCK,
        paper={"type": "string", "enum": ["us-letter", "a4"]},
        only_failing=YES_OR_NO,
        job={"type": "string", "description": "the job whose photographs are shown"},
    ),
    "workbook": obj(["sheet"], sheet=SHEET, edition=EDITION),
    "import": obj(
        ["name", "content"],
        name={"type": "string", "examples": ["kiln.job"]},
        content={"type": "string", "description": "the file, in base64", "examples": ["Ym94IEoxCg=="]},
    ),
}
"""What each question takes; more is passed over."""
ANSWERS: dict[str, Schema] = {
    "check": obj(
        ["schema", "boxes", "verdict"], schema={"const": "ampleroom-report/1"}, boxes={"type": "array"}, verdict=TEXT
    ),
    "show": obj(
        ["schema", "boxes", "verdict"], schema={"const": "ampleroom-report/1"}, boxes={"type": "array"}, verdict=TEXT
    ),
    "edit": obj(["sheet", "title", "faults", "view"], sheet=TEXT, title=TEXT),
    "apply": obj(["sheet", "title", "faults", "view"], sheet=TEXT, title=TEXT),
    "fits": obj(["schema", "more"], schema={"const": "ampleroom-fits/1"}, more={"type": "array"}),
    "remedies": obj(["schema", "remedies"], schema={"const": "ampleroom-remedies/1"}),
    "plan": obj(["schema", "remedies"], schema={"const": "ampleroom-plan/1"}),
    "takeoff": obj(["schema", "lines"], schema={"const": "ampleroom-takeoff/1"}),
    "against": obj(["schema", "plan"], schema={"const": "ampleroom-reexamined/1"}),
    "rule": obj(["schema", "name", "title", "says"], schema={"const": "ampleroom-rule/1"}),
    "rules": obj(["schema", "rules", "readings"], schema={"const": "ampleroom-rule/1"}),
    "map": obj(["svg", "alt", "title"], svg=TEXT, alt=TEXT, title=TEXT),
    "packet": obj(["pdf", "fingerprint", "name"], pdf=TEXT, fingerprint=TEXT, name=TEXT),
    "workbook": obj(["xlsx", "name"], xlsx=TEXT, name=TEXT),
    "import": obj(["sheet"], sheet=TEXT),
}
"""The forms of the answers, where there is more to say than that they are objects; docs/json.md has all of it."""


def ref(name: str) -> Schema:
    return {"$ref": f"#/components/schemas/{name}"}


def json_body(schema: Schema) -> dict[str, Any]:
    return {"required": True, "content": {"application/json": {"schema": schema}}}


def answer(schema: Schema, words: str = "the answer") -> dict[str, Any]:
    return {"description": words, "content": {"application/json": {"schema": schema}}}


WORDS = {
    "400": "the body is not what is taken",
    "404": "it is not there",
    "409": "it was changed meanwhile",
    "422": "it cannot be done as asked",
}


def answers(schema: Schema, status: str = "200", *errors: str) -> dict[str, Any]:
    found = {status: answer(schema)}
    for error in errors:
        found[error] = answer(ref("Conflict") if error == "409" else ref("Error"), WORDS[error])
    return {**found, **REFUSED}


REFUSED: dict[str, Any] = {
    "403": answer(ref("Error"), "asked from another page"),
    "408": answer(ref("Error"), "it came too slowly"),
    "413": answer(ref("Error"), "too large"),
    "421": answer(ref("Error"), "asked by another name than this machine's own"),
}


def query(name: str, schema: Schema, required: bool = False, words: str = "") -> dict[str, Any]:
    return {"name": name, "in": "query", "required": required, "schema": schema, "description": words}


def path_parameter(name: str, schema: Schema | None = None) -> dict[str, Any]:
    return {"name": name, "in": "path", "required": True, "schema": schema or TEXT}


ID = path_parameter("id")


def openapi() -> dict[str, Any]:
    """The document, OpenAPI 3.1."""
    base_only = obj(["base"], base=VERSION_NUMBER)
    paths: dict[str, Any] = {
        "/api/hello": {"get": {"summary": "Which version answers", "responses": answers(obj(["ampleroom", "api"], ampleroom=TEXT, api={"type": "integer"}))}},
        "/api/examples": {"get": {"summary": "Jobs to try, and a starter sheet", "responses": answers(ANYTHING)}},
        "/api/jobs": {
            "get": {"summary": "All jobs, the last changed first", "parameters": [query("removed", {"type": "string", "enum": ["yes"]}, words="those put away instead")], "responses": answers(obj(["jobs"], jobs={"type": "array", "items": ref("JobRow")}))},
            "post": {
                "summary": "A new job from a sheet",
                "requestBody": json_body(obj(["sheet"], sheet=SHEET, label=TEXT)),
                "responses": answers(ref("Job"), "201", "400"),
            },
        },
        "/api/jobs/{id}": {
            "parameters": [ID],
            "get": {"summary": "A job", "responses": answers(ref("Job"), "200", "404")},
            "put": {
                "summary": "Write the whole sheet, on top of a version",
                "requestBody": json_body(obj(["base", "sheet"], base=VERSION_NUMBER, sheet=SHEET, label=TEXT)),
                "responses": answers(ref("Job"), "200", "400", "404", "409"),
            },
            "delete": {"summary": "Put a job away (it can be brought back)", "responses": answers(ANYTHING, "200", "404")},
        },
        "/api/jobs/{id}/edit": {
            "parameters": [ID],
            "post": {
                "summary": "One change, on top of a version; the box as it is then",
                "requestBody": json_body(obj(["base", "edit"], base=VERSION_NUMBER, edit=ref("Edit"), box=BOX, edition=EDITION)),
                "responses": answers(EDITED, "200", "400", "404", "409", "422"),
            },
        },
        "/api/jobs/{id}/undo": step("Undo the last change", base_only),
        "/api/jobs/{id}/redo": step("Do again what was undone", base_only),
        "/api/jobs/{id}/restore": {"parameters": [ID], "post": {"summary": "Bring a job back", "responses": answers(ref("Job"), "200", "404")}},
        "/api/jobs/{id}/history": {"parameters": [ID], "get": {"summary": "Versions, the newest first, a thousand at a time", "parameters": [query("before", VERSION_NUMBER, words="those older than this one")], "responses": answers(obj(["versions", "more"], versions={"type": "array"}, more=YES_OR_NO), "200", "400", "404")}},
        "/api/jobs/{id}/history/{version}": {
            "parameters": [ID, path_parameter("version", {"type": "integer", "minimum": 1, "maximum": 1000000})],
            "get": {"summary": "One version's sheet", "responses": answers(obj(["version", "sheet"], version=VERSION_NUMBER, sheet=TEXT), "200", "404")},
        },
        "/api/jobs/{id}/photos": {
            "parameters": [ID],
            "get": {"summary": "Photographs of a job", "responses": answers(obj(["photos"], photos={"type": "array", "items": PHOTO}), "200", "404")},
            "post": {
                "summary": "A photograph of a box; encoded anew, its place and camera removed",
                "parameters": [query("box", BOX, required=True)],
                "requestBody": {"required": True, "content": {"image/jpeg": {"schema": {"type": "string", "format": "binary"}}}},
                "responses": answers(PHOTO, "201", "400", "404", "422"),
            },
        },
        "/api/photos/{id}": {
            "parameters": [ID],
            "get": {
                "summary": "A photograph",
                "responses": {"200": {"description": "the picture", "content": {"image/jpeg": {}}}, "404": answer(ref("Error"), "it is not there"), "403": answer(ref("Error"), "asked from another page")},
            },
            "delete": {"summary": "Take a photograph away", "responses": answers(ANYTHING, "200", "404")},
        },
        "/api/stock": {
            "get": {"summary": "Parts and prices", "responses": answers(obj(["stock"], stock=TEXT))},
            "put": {"summary": "Keep parts and prices", "requestBody": json_body(obj(["stock"], stock=STOCK)), "responses": answers(obj(["stock"], stock=TEXT), "200", "400", "422")},
        },
    }  # fmt: skip
    for action in ACTIONS:
        paths[f"/api/answer/{action}"] = {
            "post": {
                "summary": f"The question {action!r}, answered from a sheet's text as --json does",
                "requestBody": json_body(QUESTIONS[action]),
                "responses": answers(ANSWERS.get(action, ANYTHING), "200", "400", "404", "422"),
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
