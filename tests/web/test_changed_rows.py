"""A tap brings the rows it may have changed: put into the list from before, they make the list from after."""

import random

import pytest

from ampleroom.web import engine
from ampleroom.web.engine.change import patch_of
from tests.web.helpers import STUDIO

TWO = """job Slip rails
edition 2020
kind wall
  square 4 x 2-1/8
box J1 wall at the rail
  clamps inside
box S1 at the door
  marked 34 in3 plastic 2-gang
  switch #14
raceway R1 J1 > S1 emt 1/2
run J1 > S1 14/2 nm-b
run J1 > S1 #12 #12 in R1
"""
TROUGHS = """job Winch house
edition 2020
panel P
box J1 at the winch
  square 4 x 2-1/8
  clamps inside
box S1 at the door
  marked 34 in3 plastic 2-gang
  switch #14
wireway W1 P > J1 2.5 x 2.5 5 ft
gutter G1 at P 4 x 4 splices 2 in2
gutter G2 at P 4 x 4 splices 2 in2
raceway R1 W1 > J1 emt 1/2 10 ft
run J1 > S1 14/2 nm-b
wires P > J1 3 x #12 thhn in R1
wires J1 > G1 3 x #12 thhn
wires S1 > J1 4 x #12 thhn in W1
wires P > G2 > S1 2 x #12 thhn
"""
EDITS: list[dict[str, object]] = [
    {"do": "add-cable", "cable": "12/2 nm-b", "to": "?"},
    {"do": "add-cable", "cable": "14/3 nm-b", "to": "S1"},
    {"do": "set-clamps", "way": "outside"},
    {"do": "set-clamps", "way": "?"},
    {"do": "add-item", "line": "receptacle #12"},
    {"do": "run-count", "index": 0, "count": 3},
    {"do": "drop-run", "index": 0},
    {"do": "set-base", "line": "square 4 x 1-1/4"},
    {"do": "set-edition", "edition": 2014},
    {"do": "set-at", "at": "the far wall"},
]


def listed(sheet):
    answer = engine.answer("job", {"sheet": sheet})
    assert "error" not in answer, answer
    return {(row["kind"], row["name"]): row for row in answer["subjects"]}


@pytest.mark.parametrize("sheet", [STUDIO, TWO, TROUGHS], ids=["studio", "two", "wireways"])
def test_the_rows_a_tap_brings_make_the_new_list_of_the_old_one(sheet):
    random_ = random.Random("rows")
    brought = asked = 0
    for _ in range(60):
        boxes = [name for kind, name in listed(sheet) if kind == "box"]
        edit = {**random_.choice(EDITS), "box": random_.choice(boxes)}
        answer = engine.answer("edit", {"sheet": sheet, "edit": edit, "box": edit["box"]})
        if "error" in answer:
            continue
        after = listed(answer["sheet"])
        if answer["changed_rows"] is None:
            asked += 1
        else:
            rows = {(row["kind"], row["name"]): {**row, "card": ""} for row in answer["changed_rows"]}
            brought += 1
            assert {**{key: {**row, "card": ""} for key, row in listed(sheet).items()}, **rows} == {
                key: {**row, "card": ""} for key, row in after.items()
            }, edit
        patch = patch_of(sheet, answer["sheet"])
        lines = sheet.split("\n")
        lines[patch["start"] : patch["start"] + patch["drop"]] = patch["put"]
        assert "\n".join(lines) == answer["sheet"]
        assert len(lines) == patch["lines"]
        if random_.random() < 0.5:
            sheet = answer["sheet"]
    assert brought > 20
    assert asked
