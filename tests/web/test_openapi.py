"""The OpenAPI document and the server held to each other: by the routes there are, by answers to real sheets, and by
thousands of generated questions.
"""

import base64
import io
import json
import re
import runpy

import pytest
from hypothesis import HealthCheck, Phase, settings
from starlette.routing import Mount, Route

from ampleroom.check import circuits
from ampleroom.editions import READINGS
from ampleroom.job import Sheet, read_with_faults
from ampleroom.rules.all_rules import RULES
from ampleroom.web import question_fields
from ampleroom.web.edits import EDITS
from ampleroom.web.engine import ACTIONS
from ampleroom.web.forms import FORMS, PRINTED, read_forms, whole_form
from ampleroom.web.openapi import openapi
from ampleroom.web.question_fields import QUESTIONS as FIELDS
from ampleroom.web.question_types import QUESTIONS
from tests.cli.helpers import OPEN
from tests.documents import codes, rows
from tests.test_docs_json import ALIKE, BUNDLE, GROUNDS, JSON, ROOMLESS, SPACES
from tests.web.helpers import ROOT, SHEET, STOCK, STUDIO, Application

Image = pytest.importorskip("PIL.Image")
schemathesis = pytest.importorskip("schemathesis")
rust = pytest.importorskip("jsonschema_rs", reason="it comes with schemathesis")

DOCUMENT = json.loads(json.dumps(openapi()))
ANSWERS = {action: kind.answer for action, kind in QUESTIONS.items()}
METHODS = ("get", "put", "post", "delete", "patch", "options", "head", "trace")


@pytest.fixture(scope="module")
def app(tmp_path_factory):
    """The application, with a job and a photograph that are there to be asked about."""
    with Application(tmp_path_factory.mktemp("store") / "jobs.db") as found:
        job = found.new(SHEET)
        photo = found.ask("POST", f"/api/jobs/{job['id']}/photos?box=J1", jpeg()).json
        found.there = {"job": job["id"], "photo": photo["id"]}
        yield found


def jpeg():
    out = io.BytesIO()
    Image.new("RGB", (8, 8)).save(out, "JPEG")
    return out.getvalue()


# ---- what is named -------------------------------------------------------------------------------------------------


def routes(app):
    """Every address and method of the API, the questions one by one."""
    (api,) = [route for route in app.app.app.routes if isinstance(route, Mount)]
    found = set()
    for route in api.routes:
        assert isinstance(route, Route)
        path = api.path + re.sub(r":\w+}", "}", route.path)
        named = [path.replace("{action}", action) for action in ACTIONS] if "{action}" in path else [path]
        found |= {(path, method) for path in named for method in (route.methods or set()) - {"HEAD"}}
    return found


def test_the_document_names_exactly_what_there_is(app):
    named = {(path, method.upper()) for path, item in DOCUMENT["paths"].items() for method in item if method in METHODS}
    assert named == routes(app) - {("/api/openapi.json", "GET")}
    assert len(named) > 35
    assert app.get("/api/openapi.json").json == DOCUMENT


def test_the_document_names_exactly_the_taps_and_the_questions_there_are():
    assert DOCUMENT["components"]["schemas"]["Edit"]["properties"]["do"]["enum"] == sorted(EDITS)
    assert list(ACTIONS) == list(QUESTIONS) == list(FIELDS)


def test_the_tables_for_the_browser_are_those_the_script_writes(tmp_path):
    """They are written from the one declaration by ``scripts/question_fields.py``; run it after a change."""
    script = runpy.run_path(str(ROOT / "scripts" / "question_fields.py"))
    fresh: dict[str, object] = {}
    exec(script["text_of_tables"](), fresh)
    for name in ("QUESTIONS", "BODIES", "LIMITS", "EDIT"):
        assert fresh[name] == getattr(question_fields, name)


def test_every_reference_in_the_document_leads_somewhere_and_every_form_is_used():
    text = json.dumps(DOCUMENT)
    assert set(re.findall(r'"\$ref": "#/components/schemas/([\w-]+)"', text)) == {*FORMS, "Edit", "Limits"}
    assert set(DOCUMENT["components"]["schemas"]) == {*FORMS, "Edit", "Limits"}
    assert re.search(r"https?://", text) is None


@pytest.mark.parametrize("name", read_forms(PRINTED))
def test_what_the_command_line_prints_too_is_as_its_document_says(name):
    """Field by field as in docs/json.md, which is held to what is printed by tests of its own."""
    written = {codes(field)[0]: (kind, words) for field, kind, words in rows(JSON, name)}
    assert list(FORMS[name]) == list(written)
    for field, kind in FORMS[name].items():
        if "/" in kind:
            assert written[field] == ("text", f"`{kind}`")
        else:
            assert kind == written[field][0]


# ---- answers to real sheets ----------------------------------------------------------------------------------------


def strict(document):
    """The document with nothing allowed in an answer that it does not name."""
    found = json.loads(json.dumps(document))
    for name in FORMS:
        found["components"]["schemas"][name]["additionalProperties"] = False
    return found


STRICT = strict(DOCUMENT)
KINDS = """job Slip
edition 2026
note the tide is in the cellar
panel P
circuit 1 20 A
kind two-gang
  marked 34 in3 plastic 2-gang
  clamps ?
box J1 two-gang
  wrod
box J2
  2 x receptacle #12
  clamps inside
  stud
run P > J1 ? x 12/2 nm-b circuit 1
run J1 > J2 12/2 nm-b
"""
CONDUITS = """edition 2020
panel P
equipment K1
raceway R1 P > K1 emt 3/4 40 ft 5 bends 90
wires P > K1 3 x #10 thhn in R1
raceway R2 P > K1 emt 1/2
wires P > K1 14 x #12 thhn in R2
"""
SHEETS = {
    "studio": STUDIO,
    "shed": SHEET,
    "open": OPEN,
    "spaces": SPACES.replace("amendments cold_harbor.toml\n", ""),
    "roomless": ROOMLESS,
    "kinds": KINDS,
    "alike": ALIKE,
    "grounds": GROUNDS,
    "conduits": CONDUITS,
    "bundle": BUNDLE,
}
ASKED_ABOUT: list[tuple[str, dict[str, object]]] = [
    ("square 4 x 1-1/2, 3 x 12/2 nm-b, clamps inside, receptacle #12", {"adopted": "Alaska"}),
    ("3 x 12/2 nm-b, clamps ?", {"edition": 2017}),
    ("edition 2020, marked 200 in3, 40 x 12/2 nm-b, clamps tabs", {}),
    ("sqare 4 x 1-1/2", {"edition": 2017}),
    ("square 4 x 1-1/2", {"adopted": "Arizona"}),
    ("square 4 x 1-1/2", {}),
    ("3 x #6 thhn, ground #10 in emt", {"edition": 2020}),
    ("how many #12 thhn in 3/4 emt", {"edition": 2020}),
    ("9600 VA kiln, continuous, 240 V, nm-b", {"edition": 2020}),
    ("12 x 12/2 nm-b in one hole", {"edition": 2020}),
    ("200 A dwelling service, aluminum", {"edition": 2020}),
]
MORE: dict[str, dict[str, object]] = {
    "edit": {"edit": {"do": "set-title", "title": "Kiln"}},
    "against": {"against": 2023},
    "merge": {"base": SHEET, "mine": SHEET.replace("inside", "outside"), "theirs": SHEET.replace("tabs", "none")},
    "remedies": {"limits": {"no_plaster": True}},
    "import": {"name": "kiln.job", "content": base64.b64encode(STUDIO.encode()).decode()},
}  # fmt: skip


TAP = {"base": 1, "edit": {"do": "set-clamps", "box": "J1", "way": "outside"}, "box": "J1", "patch": True}


def validated(answer, path, method):
    """An answer that is as the document says for its status, without a field more."""
    said = STRICT["paths"][path][method]["responses"][str(answer.status)]["content"]["application/json"]["schema"]
    validator = rust.validator_for({**said, "components": STRICT["components"]})
    assert [f"{error.instance_path}: {error.message}" for error in validator.iter_errors(answer.json)] == []
    return answer.json


def several(action):
    """What to ask a question about: a few sheets and their first boxes, or every rule."""
    takes = FIELDS[action]
    if action == "rule":
        return [{"name": name} for name in [*RULES, *READINGS, "box", "disputed", "pigtails"]]
    if action == "ask":
        return [{"question": question, **more} for question, more in ASKED_ABOUT]
    found = [{**MORE.get(action, {}), "stock": STOCK, "solver": False}]
    if "sheet" in takes:
        found = [{**data, "sheet": sheet} for data in found for sheet in SHEETS.values()]
    if "box" in takes:
        found = [{**data, "box": box} for data in found for box in first_boxes(data["sheet"])]
    if action == "edit":
        found += [{"sheet": SHEET, "edit": {"do": "run-count", "box": "J1", "index": 1, "count": 2}}]
    if action == "merge":
        both = {**found[0], "theirs": SHEET.replace("inside", "none")}  # the same line
        found += [both, {**both, "choose": "theirs"}, {**found[0], "theirs": found[0]["mine"]}]
    if action == "fits":
        found += [{**data, "what": "12/2 nm-b"} for data in found]
    return found


def first_boxes(sheet):
    """The names of the first boxes; of a job without boxes those of its first raceways, or of its first circuits."""
    job = read_with_faults(Sheet(sheet))[0]
    return [subject.name for subject in job.boxes or job.raceways or circuits(job)][:2]


@pytest.fixture(scope="module")
def answers(app):
    """Answers to every question, each held to the document; by the form they have."""
    found: list[tuple[str, object]] = []
    for action in ACTIONS:
        for data in several(action):
            answer = app.answer(action, **data)
            form = ANSWERS[action] if answer.status == 200 else "refusal"
            found.append((form, validated(answer, f"/api/answer/{action}", "post")))
    assert {form for form, _ in found} == {*ANSWERS.values(), "refusal"}
    return found


@pytest.fixture(scope="module")
def kept(app):
    """Answers of everything else, each held to the document."""
    job = app.new(SHEET + "wrod\n")
    plain = app.new(SHEET)
    at = f"/api/jobs/{job['id']}"
    photo = app.ask("POST", f"{at}/photos?box=J1", jpeg())
    here = "/api/jobs/{id}"
    asked = [
        ("hello", app.get("/api/hello"), "/api/hello", "get"),
        ("examples", app.get("/api/examples"), "/api/examples", "get"),
        ("jobs", app.get("/api/jobs"), "/api/jobs", "get"),
        ("kept", app.post("/api/jobs", sheet=SHEET), "/api/jobs", "post"),
        ("edited", app.edit(job, "set-clamps", box="J1", way="outside"), f"{here}/edit", "post"),
        ("edited", app.edit(job | {"version": 2}, "run-count", box="J1", index=1, count=2), f"{here}/edit", "post"),
        ("kept", app.post(f"{at}/undo", base=3), f"{here}/undo", "post"),
        ("edited", app.post(f"/api/jobs/{plain['id']}/edit", **TAP), f"{here}/edit", "post"),
        ("conflict", app.put(at, base=1, sheet=""), here, "put"),
        ("kept", app.post(f"{at}/redo", base=4.0), f"{here}/redo", "post"),
        ("kept", app.put(at, base=5, sheet=STUDIO), here, "put"),
        ("kept", app.get(at), here, "get"),
        ("standing-of-job", app.get(f"{at}/standing"), f"{here}/standing", "get"),
        ("history", app.get(f"{at}/history?before=3"), f"{here}/history", "get"),
        ("version-sheet", app.get(f"{at}/history/1"), f"{here}/history/{{version}}", "get"),
        ("photo", photo, f"{here}/photos", "post"),
        ("photos", app.get(f"{at}/photos"), f"{here}/photos", "get"),
        ("removed", app.ask("DELETE", f"/api/photos/{photo.json['id']}"), "/api/photos/{id}", "delete"),
        ("refusal", app.get(f"/api/photos/{photo.json['id']}"), "/api/photos/{id}", "get"),
        ("removed", app.ask("DELETE", at), here, "delete"),
        ("kept", app.post(f"{at}/restore"), f"{here}/restore", "post"),
        ("stock", app.put("/api/stock", stock=STOCK), "/api/stock", "put"),
        ("stock", app.get("/api/stock"), "/api/stock", "get"),
    ]
    return [(form, validated(answer, path, method)) for form, answer, path, method in asked]


def test_every_field_of_every_form_is_answered_with_a_value(answers, kept):
    """What the document names and nothing ever answers would be held to nothing."""
    seen: set[str] = set()
    for form, value in answers + kept:
        look(value, form, seen)
    named = {f"{form}.{field.removesuffix('?')}" for form in FORMS for field in whole_form(form)}
    assert sorted(named - seen) == sorted(NEVER_HERE)


NEVER_HERE = {
    "asked-about.not_judged",  # of one box alone
    "asked-about.warnings",
    "edition.amended_by",  # amendments are read from a file beside the sheet; the page has none
    "edition.amended_tables",
    "fits-tried.not_judged",  # of one box alone
    "plan.not_looked_at",  # where the time for the search ran out
    "plan.not_tried",  # of a box with more than 24 cables: tests/cli/test_remedy.py
    "remedies-shown.not_tried",
}


def look(value, kind, seen):
    """Gather the fields that are there with a value."""
    if value is None or kind in ("text", "whole number", "number", "true or false") or "/" in kind:
        return
    ways = [way for way in kind.split(" or ") if way != "null"]
    if kind.startswith("list of "):
        for each in value:
            look(each, kind.removeprefix("list of "), seen)
    elif kind.startswith("map of "):
        for each in value.values():
            look(each, kind.removeprefix("map of "), seen)
    elif isinstance(value, dict):
        for way in ways:
            fields = whole_form(way)
            if set(value) <= {field.removesuffix("?") for field in fields}:
                for field, kind_of_field in fields.items():
                    part = value.get(field.removesuffix("?"))
                    if part not in (None, [], {}):
                        seen.add(f"{way}.{field.removesuffix('?')}")
                    look(part, kind_of_field, seen)


# ---- generated questions -------------------------------------------------------------------------------------------

FEW = settings(
    max_examples=8,
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=list(HealthCheck),
    phases=[Phase.explicit, Phase.generate],
)


def generated():
    """The strict document as schemathesis reads it, asking the application in this process.

    A question that fits the document is never a bad request (400); that it cannot be done as asked (422) is an answer.
    """
    checks = {"positive_data_acceptance": {"expected-statuses": ["2xx", "404", "409", "422"]}}
    config = schemathesis.config.SchemathesisConfig.from_dict({"base-url": "http://127.0.0.1:8617", "checks": checks})
    return schemathesis.openapi.from_dict(STRICT, config=config)


schema = generated()


@schema.parametrize()
@FEW
def test_generated_questions_are_answered_as_the_document_says(app, case):
    """No failure of ours, and statuses and bodies as they are written down, whether the question fits the document or
    not.
    """
    if "id" in case.path_parameters and len(case.path_parameters["id"]) % 2:
        case.path_parameters["id"] = app.there["photo" if "/photos/{id}" in case.path else "job"]
    headers = {"host": "127.0.0.1:8617", **(case.headers or {})}
    case.call_and_validate(app=app.app, headers=headers)
