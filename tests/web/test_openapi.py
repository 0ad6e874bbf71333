"""The OpenAPI document and the server held to each other, by the routes there are and by thousands of generated questions."""

import json
import re

import pytest
from hypothesis import HealthCheck, Phase, settings

from tests.web.helpers import Application

schemathesis = pytest.importorskip("schemathesis")

FEW = settings(
    max_examples=12,
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=list(HealthCheck),
    phases=[Phase.explicit, Phase.generate],
)


@pytest.fixture(scope="module")
def app(tmp_path_factory):
    """The application, its document, and a job and a photograph that are there to be asked about."""
    import io

    from PIL import Image

    from tests.web.helpers import SHEET

    with Application(tmp_path_factory.mktemp("store") / "jobs.db") as found:
        job = found.new(SHEET)
        picture = io.BytesIO()
        Image.new("RGB", (8, 8)).save(picture, "JPEG")
        photo = found.ask("POST", f"/api/jobs/{job['id']}/photos?box=J1", picture.getvalue()).json
        found.there = {"job": job["id"], "photo": photo["id"]}
        yield found


def document():
    from ampleroom.web.openapi import openapi

    return openapi()


def routes(app):
    """Every address and method that there is, the questions one by one; of the pages only that there are some."""
    from ampleroom.web.engine import ACTIONS

    found = set()
    for route in app.app.app.routes:
        path = re.sub(r":\w+}", "}", route.path)
        for method in route.methods - {"HEAD"}:
            if path == "/api/answer/{action}":
                found |= {(f"/api/answer/{action}", method) for action in ACTIONS}
            elif path.startswith("/api/"):
                found.add((path, method))
    return found


def test_the_document_names_exactly_what_there_is(app):
    named = {
        (path, method.upper())
        for path, item in document()["paths"].items()
        for method in item
        if method in ("get", "put", "post", "delete", "patch", "options", "head", "trace")
    }
    assert named == routes(app) - {("/api/openapi.json", "GET")}
    assert app.get("/api/openapi.json").json == json.loads(json.dumps(document()))


def test_the_document_names_exactly_the_taps_and_the_questions_there_are():
    from ampleroom.web.edits import EDITS
    from ampleroom.web.engine import ACTIONS
    from ampleroom.web.openapi import ANSWERS, QUESTIONS

    assert document()["components"]["schemas"]["Edit"]["properties"]["do"]["enum"] == list(EDITS)
    assert list(ACTIONS) == list(QUESTIONS)
    assert set(ANSWERS) <= set(ACTIONS)


def test_every_reference_in_the_document_leads_somewhere():
    text = json.dumps(document())
    named = set(re.findall(r'"\$ref": "#/components/schemas/(\w+)"', text))
    assert named == set(document()["components"]["schemas"])
    assert re.search(r"https?://", text) is None


def generated():
    """The document as schemathesis reads it, asking the application in this process."""
    found = schemathesis.openapi.from_dict(document())
    found.config.update(base_url="http://127.0.0.1:8617")
    return found


schema = generated()


@schema.parametrize()
@FEW
def test_generated_questions_are_answered_as_the_document_says(app, case):
    """No failure of ours, and statuses and bodies as they are written down, whether the question fits the document or not."""
    from schemathesis.checks import negative_data_rejection

    if "id" in case.path_parameters and len(case.path_parameters["id"]) % 2:
        case.path_parameters["id"] = app.there["photo" if "/photos/{id}" in case.path else "job"]
    headers = {"host": "127.0.0.1:8617", **(case.headers or {})}
    case.call_and_validate(app=app.app, headers=headers, excluded_checks=[negative_data_rejection])
