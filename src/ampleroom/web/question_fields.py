"""What each question and body may bring, by field.

Written by scripts/question_fields.py from question_types.py.
"""

from ampleroom.web.fields import Field, Fields

LIMITS: Fields = {
    "no_plaster": Field(("yes or no",)),
    "only_in_stock": Field(("yes or no",)),
    "most_kinds": Field(("whole number",), least=0),
    "spare": Field(("text",), like="12/2 nm-b"),
    "margin": Field(("text",), like="2.25"),
}

EDIT: Fields = {
    "do": Field(
        ("text",),
        required=True,
        one_of=(
            "add-box",
            "add-cable",
            "add-item",
            "copy-box",
            "divide",
            "drop-box",
            "drop-item",
            "drop-run",
            "item-count",
            "put-item",
            "put-run",
            "remove-barrier",
            "run-count",
            "run-detail",
            "run-here",
            "run-to",
            "set-at",
            "set-base",
            "set-clamps",
            "set-device",
            "set-edition",
            "set-text",
            "set-title",
        ),
    ),
    "box": Field(("text",), like="J1"),
    "line": Field(("text",), like="receptacle #12"),
    "cable": Field(("text",), like="14/2 nm-b"),
    "to": Field(("text",), like="S1"),
    "space": Field(("text",), like="left"),
    "index": Field(("whole number",), like="0"),
    "count": Field(("whole number", "text")),
    "way": Field(("text",), like="inside"),
    "how": Field(("text",), like="ends"),
    "size": Field(("text",), like="12"),
    "length": Field(("text",), like="38"),
    "circuit": Field(("text",), like="3"),
    "name": Field(("text",), like="J2"),
    "at": Field(("text",)),
    "title": Field(("text",)),
    "edition": Field(("whole number",), like="2017"),
    "text": Field(("text",)),
}

QUESTIONS: dict[str, Fields] = {
    "ask": {
        "question": Field(("text",), required=True, like="square 4 x 1-1/2, 3 x 12/2 nm-b, clamps inside"),
        "edition": Field(("whole number",), like="2017"),
        "adopted": Field(("text",), like="Colorado"),
    },
    "job": {
        "sheet": Field(("text",), required=True),
        "edition": Field(("whole number",), like="2017"),
    },
    "standing": {
        "sheet": Field(("text",), required=True),
        "edition": Field(("whole number",), like="2017"),
    },
    "check": {
        "sheet": Field(("text",), required=True),
        "edition": Field(("whole number",), like="2017"),
    },
    "show": {
        "sheet": Field(("text",), required=True),
        "edition": Field(("whole number",), like="2017"),
        "box": Field(("text",), required=True, like="J1"),
    },
    "box": {
        "sheet": Field(("text",), required=True),
        "edition": Field(("whole number",), like="2017"),
        "box": Field(("text",), required=True, like="J1"),
        "kind": Field(("text",), like="conduit body"),
    },
    "edit": {
        "sheet": Field(("text",), required=True),
        "edition": Field(("whole number",), like="2017"),
        "edit": Field(("object",), required=True, fields=EDIT),
        "box": Field(("text",), like="J1"),
    },
    "merge": {
        "base": Field(("text",), required=True),
        "mine": Field(("text",), required=True),
        "theirs": Field(("text",), required=True),
        "choose": Field(("text",), like="mine,both,,theirs"),
    },
    "fits": {
        "sheet": Field(("text",), required=True),
        "edition": Field(("whole number",), like="2017"),
        "box": Field(("text",), required=True, like="J1"),
        "what": Field(("text",), like="14/2 nm-b"),
    },
    "remedies": {
        "sheet": Field(("text",), required=True),
        "edition": Field(("whole number",), like="2017"),
        "box": Field(("text",), required=True, like="J1"),
        "stock": Field(("text",)),
        "limits": Field(("object",), fields=LIMITS),
    },
    "apply": {
        "sheet": Field(("text",), required=True),
        "edition": Field(("whole number",), like="2017"),
        "stock": Field(("text",)),
        "limits": Field(("object",), fields=LIMITS),
        "solver": Field(("yes or no",)),
        "box": Field(("text",), like="J1"),
        "choose": Field(("whole number",)),
    },
    "plan": {
        "sheet": Field(("text",), required=True),
        "edition": Field(("whole number",), like="2017"),
        "stock": Field(("text",)),
        "limits": Field(("object",), fields=LIMITS),
        "solver": Field(("yes or no",)),
    },
    "takeoff": {
        "sheet": Field(("text",), required=True),
        "stock": Field(("text",)),
    },
    "editions": {
        "sheet": Field(("text",), required=True),
    },
    "against": {
        "sheet": Field(("text",), required=True),
        "edition": Field(("whole number",), like="2017"),
        "stock": Field(("text",)),
        "limits": Field(("object",), fields=LIMITS),
        "solver": Field(("yes or no",)),
        "against": Field(("whole number",), required=True, like="2017"),
    },
    "rule": {
        "name": Field(("text",), required=True, like="box-fill-grounds"),
        "edition": Field(("whole number",), like="2017"),
    },
    "rules": {},
    "map": {
        "sheet": Field(("text",), required=True),
        "edition": Field(("whole number",), like="2017"),
    },
    "words": {},
    "packet": {
        "sheet": Field(("text",), required=True),
        "edition": Field(("whole number",), like="2017"),
        "stock": Field(("text",)),
        "paper": Field(("text",), one_of=("a4", "letter")),
        "only_failing": Field(("yes or no",)),
        "job": Field(("text",)),
        "solver": Field(("yes or no",)),
    },
    "workbook": {
        "sheet": Field(("text",), required=True),
        "edition": Field(("whole number",), like="2017"),
    },
    "import": {
        "name": Field(("text",), required=True, like="kiln.job"),
        "content": Field(("text",), required=True, like="Ym94IEoxCg=="),
    },
}

BODIES: dict[str, Fields] = {
    "NewJob": {
        "sheet": Field(("text",), required=True, longest=4000000),
        "label": Field(("text",)),
    },
    "WholeSheet": {
        "base": Field(("whole number",), required=True, least=1, most=9007199254740991),
        "sheet": Field(("text",), required=True, longest=4000000),
        "label": Field(("text",)),
    },
    "Tap": {
        "base": Field(("whole number",), required=True, least=1, most=9007199254740991),
        "edit": Field(("object",), required=True, fields=EDIT),
        "box": Field(("text",), like="J1"),
        "edition": Field(("whole number",), like="2017"),
        "patch": Field(("yes or no",)),
    },
    "OnTop": {
        "base": Field(("whole number",), required=True, least=1, most=9007199254740991),
    },
    "StockFile": {
        "stock": Field(("text",), required=True, longest=1000000),
    },
}
