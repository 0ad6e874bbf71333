"""The API as an OpenAPI document, written by hand beside the handlers and held to them by tests.

``QUESTIONS`` is what each question takes, ``ANSWERS`` the form of its answer, ``addresses`` the rest; the forms themselves
are in ``forms.py``.
"""

from __future__ import annotations

import json
import re
from typing import Any

from ampleroom.report import VERSION
from ampleroom.web.edits import EDITS
from ampleroom.web.engine import ACTIONS
from ampleroom.web.forms import FORMS, Schema, form_schema

EXAMPLE = """job Kiln shed
edition 2020
box J1 at the rafters
  square 4 x 2-1/8
  clamps inside
  switch #14
run J1 > ? 2 x 12/2 nm-b
"""


def obj(required: list[str], **properties: Schema) -> Schema:
    """A body, or a part of one; what need not be there may be null too."""
    optional = {
        name: {"anyOf": [schema, {"type": "null"}]} for name, schema in properties.items() if name not in required
    }
    return {"type": "object", "required": required, "properties": properties | optional}


def text(words: str = "", *examples: str, **more: Any) -> Schema:
    said: dict[str, Any] = {"description": words} if words else {}
    return {"type": "string", **said, **({"examples": list(examples)} if examples else {}), **more}


# ---- what is asked -------------------------------------------------------------------------------------------------

YES_OR_NO: Schema = {"type": "boolean"}
SHEET = text("a job sheet's text", EXAMPLE)
BOX = text("a box's name", "J1")
EDITION: Schema = {"type": "integer", "description": "another edition than the sheet's", "examples": [2017]}
STOCK = text("a stock file's text", "currency = 'USD'\n")
LABEL = text("what the history says of this change")
BASE: Schema = {"type": "integer", "description": "the version you changed", "minimum": 1, "maximum": 2**53 - 1}
EDIT = obj(
    ["do"],
    do={"type": "string", "enum": list(EDITS)},
    box=BOX,
    line=text("a line of the sheet", "receptacle #12", "marked 20.3 in3", "run J1 > ? 10/2 mc"),
    cable=text("", "14/2 nm-b"),
    to=text("the place at the cable's far end; ? or nothing: not known", "S1"),
    space=text("the side of a barrier it goes to", "left"),
    index={"type": "integer", "description": "which of the box's items, or of the job's runs", "examples": [0]},
    count={"type": ["integer", "string"], "description": "so many alike; ? is not known, 0 takes it out", "examples": [2]},
    way=text("where the clamps are; what a barrier is of", "inside", "outside", "tabs", "none", "?", "metal", "plastic"),
    how=text("what a run does here; the sides a barrier makes", "ends", "passes", "looped", "landed", "left 1/2, right 1/2"),
    name=text("a new box's name", "J2"),
    at=text("where a new box is"),
    title=text("the job's name"),
    edition=EDITION,
    text=SHEET,
)  # fmt: skip
LIMITS = obj(
    [],
    no_plaster=YES_OR_NO,
    only_in_stock=YES_OR_NO,
    most_kinds={"type": "integer", "description": "kinds of box on the van at most"},
    spare=text("a cable every box keeps room for", "12/2 nm-b"),
    margin=text("in3 every box keeps free", "2.25"),
)
KIND = text("the kind of subject, where it is no box", "conduit body")
SOLVER: Schema = {"type": "boolean", "description": "false: without HiGHS, as in the browser"}
ASKED: dict[str, Schema] = {
    "sheet": SHEET, "box": BOX, "kind": KIND, "edition": EDITION, "stock": STOCK, "limits": LIMITS, "solver": SOLVER, "against": EDITION,
    "edit": {"$ref": "#/components/schemas/edit"},
    "choose": {"type": "integer", "description": "the number of the remedy, from 1"},
    "question": text("a box and what is in it, with commas between", "square 4 x 1-1/2, 3 x 12/2 nm-b, clamps inside"),
    "adopted": text("a place; the edition it had adopted", "Colorado"),
    "what": text("a cable or conductors that would come in", "14/2 nm-b"),
    "paper": {"type": "string", "enum": ["letter", "a4"]},
    "only_failing": YES_OR_NO,
    "job": text("the id of the job whose photographs are shown"),
}  # fmt: skip
"""Whatever a question may bring, by its name."""


def asks(required: str, may_have: str = "") -> Schema:
    return obj(required.split(), **{name: ASKED[name] for name in f"{required} {may_have}".split()})


QUESTIONS: dict[str, Schema] = {
    "ask": asks("question", "edition adopted"),
    "job": asks("sheet", "edition"),
    "check": asks("sheet", "edition"),
    "show": asks("sheet box", "edition"),
    "box": asks("sheet box", "edition kind"),
    "edit": asks("sheet edit", "box edition"),
    "fits": asks("sheet box", "edition what"),
    "remedies": asks("sheet box", "edition stock limits"),
    "apply": asks("sheet", "box choose edition stock limits solver"),
    "plan": asks("sheet", "edition stock limits solver"),
    "takeoff": asks("sheet", "stock"),
    "editions": asks("sheet"),
    "against": asks("sheet against", "edition stock limits solver"),
    "rule": obj(["name"], name=text("of a rule or a disputed point", "box-fill-grounds", "plastic-tabs"), edition=EDITION),
    "rules": asks(""),
    "map": asks("sheet", "edition"),
    "words": asks(""),
    "packet": asks("sheet", "edition stock paper only_failing job solver"),
    "workbook": asks("sheet", "edition"),
    "import": obj(
        ["name", "content"],
        name=text("the file's name, which says its kind", "kiln.job"),
        content=text("the file, in base64", "Ym94IEoxCg=="),
    ),
}  # fmt: skip
"""What each question takes; more is passed over."""
ANSWERS: dict[str, str] = {
    "ask": "asked-about",
    "job": "job-list",
    "check": "report",
    "show": "report",
    "box": "box-view",
    "edit": "changed",
    "fits": "fits-more or fits-tried",
    "remedies": "remedies-shown",
    "apply": "changed",
    "plan": "plan",
    "takeoff": "takeoff",
    "editions": "editions",
    "against": "reexamined",
    "rule": "rule or point-shown",
    "rules": "rules",
    "map": "drawing",
    "words": "words",
    "packet": "packet-made",
    "workbook": "workbook-made",
    "import": "brought-in",
}
"""The form of each answer."""


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
    return {"$ref": f"#/components/schemas/{name}"}


def content(kind: str, schema: Schema) -> dict[str, Any]:
    return {"content": {kind: {"schema": schema}}}


def of_form(form: str) -> Schema:
    ways = [ref(way) for way in form.split(" or ")]
    return ways[0] if len(ways) == 1 else {"anyOf": ways}


def answered(form: str, errors: str = "", status: str = "200") -> dict[str, Any]:
    """The answers of an operation: its own, those errors, and what the guard refuses."""
    good = content("image/jpeg", text()) if form == "image/jpeg" else content("application/json", of_form(form))
    found = {status: {"description": "the answer", **good}}
    for error in sorted({*errors.split(), *ALWAYS}):
        form = "conflict" if error == "409" else "refusal"
        found[error] = {"description": REFUSALS[error], **content("application/json", ref(form))}
    return found


def operation(
    summary: str, form: str, errors: str = "", *, body: Schema | None = None, query: Schema | None = None, status: str = "200"
) -> dict[str, Any]:  # fmt: skip
    """One thing that can be done; one that takes a body or a query refuses those that are not as they should be."""
    found: dict[str, Any] = {"summary": summary}
    if query is not None:
        found["parameters"] = [query]
    if body is not None:
        found["requestBody"] = {"required": True, **content("application/json", body)}
    errors += " 400" if body or query else ""
    return {**found, "responses": answered(form, errors, status)}


def parameter(where: str, name: str, schema: Schema, required: bool = True) -> dict[str, Any]:
    return {"name": name, "in": where, "required": required, "schema": schema}


def addresses() -> dict[str, dict[str, Any]]:
    """Every address but those of the questions: its methods, and what they take and give."""
    on_base = obj(["base"], base=BASE)
    put_away = parameter("query", "removed", text("those put away instead", enum=["yes"]), required=False)
    older = parameter(
        "query",
        "before",
        {"type": "integer", "description": "versions older than this one", "minimum": 0, "maximum": 10**18 - 1},
        required=False,
    )
    of_box = parameter("query", "box", {**BOX, "minLength": 1, "maxLength": 60})
    photograph = {
        **operation("A photograph of a box; kept small, without its place and camera", "photo", "404 422", query=of_box, status="201"),
        "requestBody": {"required": True, **content("image/jpeg", text(format="binary"))},
    }  # fmt: skip
    return {
        "/api/hello": {"get": operation("Which version answers", "hello")},
        "/api/examples": {"get": operation("Jobs to try, a starter sheet, a stock file", "examples")},
        "/api/jobs": {
            "get": operation("All jobs, the last changed first", "jobs", query=put_away),
            "post": operation("A new job from a sheet", "kept", body=obj(["sheet"], sheet=SHEET, label=LABEL), status="201"),
        },
        "/api/jobs/{id}": {
            "get": operation("A job", "kept", "404"),
            "put": operation(
                "Write the whole sheet, on top of a version",
                "kept",
                "404 409",
                body=obj(["base", "sheet"], base=BASE, sheet=SHEET, label=LABEL),
            ),
            "delete": operation("Put a job away; it can be brought back", "removed", "404"),
        },
        "/api/jobs/{id}/edit": {
            "post": operation(
                "One change, on top of a version; and the box as it is then",
                "edited",
                "404 409 422",
                body=obj(["base", "edit"], base=BASE, edit=ref("edit"), box=BOX, edition=EDITION),
            )
        },
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
            "put": operation("Keep parts and prices", "stock", "422", body=obj(["stock"], stock=STOCK)),
        },
    }  # fmt: skip


def question(action: str) -> dict[str, Any]:
    says = f"The question {action!r}, answered from a sheet's text as --json does"
    errors = "404 422" if action == "packet" else "422"
    return {"post": operation(says, ANSWERS[action], errors, body=QUESTIONS[action])}


def openapi() -> dict[str, Any]:
    """The document, OpenAPI 3.1."""
    paths = {**addresses(), **{f"/api/answer/{action}": question(action) for action in ACTIONS}}
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
        "components": {"schemas": {"edit": EDIT, **used_forms(json.dumps(paths))}},
    }


def used_forms(said: str) -> dict[str, Schema]:
    """The forms that are spoken of, and those they speak of in turn."""
    found: dict[str, Schema] = {}
    new = re.findall(r"#/components/schemas/([\w-]+)", said)
    while new:
        name = new.pop()
        if name in FORMS and name not in found:
            found[name] = form_schema(name)
            new += re.findall(r"#/components/schemas/([\w-]+)", json.dumps(found[name]))
    return dict(sorted(found.items()))
