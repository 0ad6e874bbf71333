"""Script in every text a person can type: what comes back is text, never markup."""

import re
import xml.etree.ElementTree as ElementTree

import pytest

from tests.web.helpers import STOCK

EVILS = [
    "<script>alert(1)</script>",
    '"><img src="x" onerror="alert(1)">',
    "</text></svg><script>alert(1)</script>",
    "'onmouseover='alert(1)",
    "<![CDATA[<script>alert(1)</script>]]>",
    "&lt;script&gt;&#60;b&#62;",
    "javascript:alert(1)",
    "]]></style><script>alert(1)</script>",
    "{{7*7}}${7*7}",
]
ALLOWED = {"svg", "title", "desc", "style", "defs", "g", "text", "tspan", "path", "rect", "circle", "ellipse", "line",
    "polyline", "polygon",
           "pattern", "clipPath", "use", "linearGradient", "stop", "marker", "mask"}  # fmt: skip
HARMLESS_STYLE = re.compile(r"(?:url\(#[\w-]+\)|(?!url\(|@import|expression|javascript:|<).)*", re.DOTALL)


def sheet_full_of(evil):
    """The words in every place of a sheet that takes words, as one word where only a word is taken."""
    word = re.sub(r"[\s/>,#?]", "", evil)[:40] or "x"
    return f"""job Slip {evil}
edition 2020
note {evil}
panel P{word} at the {evil}
circuit 1{word} 20 A on P{word} for {evil}
kind K{word} for {evil}
  square 4 x 2-1/8
  clamps inside
box B{word} K{word} at the {evil}
  switch #14 for {evil}
  receptacle #12 for {evil}
  carries luminaire 3 lb
box C{word} at the {evil}
  marked ? in3
  2 x dimmer #12 for {evil}
box D{word}
  square 4 x 1-1/2
  barrier plastic
  space L{word} 1/2
  space R{word} 1/2
run P{word} > B{word} 12/2 nm-b circuit 1{word}
run B{word} > C{word} 3 x 14/3 nm-b
run C{word} > D{word}/L{word} 12/2 nm-b through B{word}
"""


def drawings(value):
    """Every drawing in an answer."""
    if isinstance(value, dict):
        for key, each in value.items():
            if key == "svg":
                yield each
            else:
                yield from drawings(each)
    elif isinstance(value, list):
        for each in value:
            yield from drawings(each)


def is_only_a_drawing(svg):
    """Well formed, of the few elements that draw, without script, events, foreign parts or addresses."""
    assert "<!" not in svg.replace("<!--", "")
    root = ElementTree.fromstring(svg)
    for element in root.iter():
        space, _, name = element.tag.rpartition("}")
        assert space == "{http://www.w3.org/2000/svg"
        assert name in ALLOWED, name
        if name == "style":
            assert HARMLESS_STYLE.fullmatch("".join(element.itertext()))
        for key, value in element.attrib.items():
            assert not key.lower().startswith("on"), key
            assert "script" not in key.lower()
            if key.rpartition("}")[2] in ("href", "src"):
                assert value.startswith("#")
            if key in ("style", "fill", "stroke", "clip-path", "mask", "filter"):
                assert HARMLESS_STYLE.fullmatch(value), value
    return "".join(root.itertext())


def test_what_is_no_drawing_would_be_seen():
    space = 'xmlns="http://www.w3.org/2000/svg"'
    for evil in (
        f"<svg {space}><script/></svg>",
        f'<svg {space} onload="x"/>',
        f'<svg {space}><a href="javascript:x"/></svg>',
        f'<svg {space}><use href="http://x"/></svg>',
        f'<svg {space}><rect style="fill: url(http://x)"/></svg>',
        f"<svg {space}><style>@import 'x'</style></svg>",
        f"<svg {space}><text><b xmlns='http://www.w3.org/1999/xhtml'/></text></svg>",
        f"<svg {space}><text>&</text></svg>",
    ):
        with pytest.raises((AssertionError, ElementTree.ParseError)):
            is_only_a_drawing(evil)


@pytest.mark.parametrize("evil", EVILS)
def test_every_drawing_of_a_sheet_full_of_script_is_only_a_drawing(app, evil):
    job = app.new(sheet_full_of(evil))
    sheet = job["sheet"]
    whole = app.answer("job", sheet=sheet).json
    assert whole["faults"] == [], whole["faults"]
    texts, found = [], 0
    for box in whole["subjects"]:
        if box["kind"] == "circuit":
            continue  # it has neither a picture nor a view of a box
        for action in ("box", "remedies"):
            answer = app.answer(action, sheet=sheet, box=box["name"], stock=STOCK)
            assert answer.status == 200, answer
            for svg in drawings(answer.json):
                texts.append(is_only_a_drawing(svg))
                found += 1
    for svg in drawings(app.answer("map", sheet=sheet).json):
        texts.append(is_only_a_drawing(svg))
        found += 1
    assert found > 9
    word = re.sub(r"[\s/>,#?]", "", evil)[:40]
    assert any(f"B{word}"[:8] in text for text in texts), "the name is drawn, as text"


@pytest.mark.parametrize("evil", EVILS)
def test_script_in_every_field_comes_back_as_it_was_typed_in_json_alone(app, evil):
    """No answer is a page: whatever was typed comes back as JSON, which no browser runs."""
    job = app.new(f"job {evil}\nbox J1\n  square 4 x 1-1/2\n")
    path = f"/api/jobs/{job['id']}"
    asked = [
        app.post(f"{path}/edit", base=1, edit={"do": "set-title", "title": evil}),
        app.get(path),
        app.get("/api/jobs"),
    ]
    asked += [
        app.put(path, base=app.job(job["id"])["version"], sheet=f"note {evil}\n", label=evil),
        app.get(f"{path}/history"),
    ]
    version = app.job(job["id"])["version"]
    for edit in (
        {"do": "add-box", "name": evil, "at": evil},
        {"do": "add-item", "box": evil, "line": evil},
        {"do": "add-cable", "box": "J1", "cable": evil, "to": evil, "space": evil},
        {"do": "set-base", "box": "J1", "line": evil},
        {"do": "put-run", "index": 0, "line": evil},
        {"do": evil},
    ):
        asked.append(app.post(f"{path}/edit", base=version, edit=edit))
    for data in (
        {"box": evil},
        {"name": evil},
        {"edition": evil},
        {"stock": evil},
        {"what": evil},
        {"name": evil + ".job", "content": evil},
    ):
        asked += [
            app.answer(action, **{"sheet": job["sheet"], **data})
            for action in ("box", "fits", "rule", "remedies", "import", "edit")
        ]
    from urllib.parse import quote

    asked += [
        app.get("/" + quote(evil, safe="")),
        app.get("/api/jobs/" + quote(evil, safe="")),
        app.post("/api/answer/" + quote(evil, safe="")),
    ]
    asked += [app.ask("POST", f"{path}/photos?box={quote(evil)}", b"x"), app.put("/api/stock", stock=evil)]
    for answer in asked:
        assert answer.headers["content-type"] == "application/json"
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert answer.status != 500
        assert answer.json is not None


def test_the_pages_themselves_run_no_text_as_markup(app):
    """Our own scripts put text in as text: none of the ways that read it as markup is used, but where drawings
    stand.
    """
    from ampleroom.web.server import STATIC

    for path in STATIC.glob("*.*js"):
        script = path.read_text("utf-8")
        for way in (
            "document.write",
            "insertAdjacentHTML",
            "innerHTML",
            "outerHTML",
            "createContextualFragment",
            "parseFromString",
            "eval(",
            "new Function",
            "srcdoc",
        ):
            assert way not in script, f"{path.name} uses {way}"
    page = app.get("/").body.decode()
    assert not re.search(r"<script(?![^>]*\bsrc=)|\son\w+=|javascript:|style=", page)
