"""Every change by a tap: what becomes of the sheet, and that no tap ever leaves a line nobody can read."""

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from ampleroom.job import Sheet, read_with_faults
from ampleroom.web import engine
from ampleroom.web.edits import EDITS
from tests.web.helpers import SHEET, STUDIO

BARRIER = """job Slip
edition 2020
panel P
kind two-sides
  square 4 x 2-1/8
  barrier plastic
  space left 1/2
  space right 1/2
box D1 two-sides
box D2
  square 4 x 1-1/2
run P > D1/left 12/2 nm-b
run D1/right > D2 14/2 nm-b through D2
wires P > D2 2 x #12 thhn
"""

DIVIDED = SHEET.replace(
    "  clamps tabs\n  switch #14\n",
    "  barrier plastic\n  space left 1 gangs\n  clamps tabs\n  switch #14\n  space right 1 gangs\n",
).replace("run J1 > S1 14/2", "run J1 > S1/left 14/2")
BEFORE = {"remove-barrier": DIVIDED, "copy-box": SHEET.replace("run P", "box L1\nrun P", 1)}
"""The sheet a tap is tried on, where it is another than ``SHEET``."""

TAPS: list[tuple[str, dict[str, Any], str, str, str]] = [
    ("set-base", {"box": "J1", "line": "octagon 4 x 1-1/2"}, "  square 4 x 2-1/8\n", "  octagon 4 x 1-1/2\n",
     "J1 is octagon 4 x 1-1/2"),
    ("set-base", {"box": "j1", "line": "marked  ?  in3"}, "  square 4 x 2-1/8\n", "  marked ? in3\n",
     "J1 box not known"),
    ("set-clamps", {"box": "J1", "way": "?"}, "  clamps inside\n", "  clamps ?\n", "J1 clamps not known"),
    ("add-item", {"box": "S1", "line": "receptacle #12"}, "  switch #14\n", "  switch #14\n  receptacle #12\n",
     "one receptacle more in S1"),
    ("divide", {"box": "S1", "way": "plastic", "how": "left 1 gang, right 1 gang"}, "  clamps tabs\n  switch #14\n",
     "  barrier plastic\n  space left 1 gangs\n  clamps tabs\n  switch #14\n  space right 1 gangs\n", "barrier in S1"),
    ("remove-barrier", {"box": "S1"},
     "  barrier plastic\n  space left 1 gangs\n  clamps tabs\n  switch #14\n  space right 1 gangs\n",
     "  clamps tabs\n  switch #14\n", "no barrier in S1"),
    ("put-item", {"box": "S1", "index": 2, "line": "dimmer #14"}, "  switch #14\n", "  dimmer #14\n", "dimmer in S1"),
    ("drop-item", {"box": "S1", "index": 2}, "  switch #14\n", "", "one switch less in S1"),
    ("add-cable", {"box": "J1", "cable": "12/2 nm-b"}, "run J1 > S1 14/2 nm-b\n",
     "run J1 > S1 14/2 nm-b\nrun J1 > ? 12/2 nm-b\n", "one 12/2 more in J1"),
    ("add-cable", {"box": "J1", "cable": "14/3 nm-b", "to": "s1"}, "run J1 > S1 14/2 nm-b\n",
     "run J1 > S1 14/2 nm-b\nrun J1 > S1 14/3 nm-b\n", "one 14/3 more in J1"),
    ("drop-run", {"box": "J1", "index": 1}, "run J1 > S1 14/2 nm-b\n", "", "one 14/2 less in J1"),
    ("put-run", {"box": "J1", "index": 1, "line": "run J1 > ? 10/2 mc"}, "run J1 > S1 14/2 nm-b\n",
     "run J1 > ? 10/2 mc\n", "10/2 mc changed"),
    ("run-count", {"box": "J1", "index": 1, "count": 3}, "run J1 > S1 14/2 nm-b\n", "run J1 > S1 3 x 14/2 nm-b\n",
     "two 14/2 more in J1"),
    ("run-count", {"box": "J1", "index": 1, "count": "?"}, "run J1 > S1 14/2 nm-b\n", "run J1 > S1 ? x 14/2 nm-b\n",
     "how many 14/2 not known"),
    ("run-count", {"box": "J1", "index": 1, "count": 0}, "run J1 > S1 14/2 nm-b\n", "", "one 14/2 less in J1"),
    ("run-here", {"box": "S1", "index": 1, "how": "looped"}, "run J1 > S1 14/2 nm-b\n",
     "run J1 > ? 14/2 nm-b through S1 loop\n", "14/2 passes through S1"),
    ("run-here", {"box": "S1", "index": 1, "how": "passes"}, "run J1 > S1 14/2 nm-b\n",
     "run J1 > ? 14/2 nm-b through S1\n", "14/2 passes through S1"),
    ("run-here", {"box": "S1", "index": 1, "how": "landed"}, "run J1 > S1 14/2 nm-b\n",
     "run J1 > ? 14/2 nm-b through S1 landed\n", "14/2 passes through S1"),
    ("run-here", {"box": "S1", "index": 1, "how": "ends"}, "", "", ""),
    ("add-box", {"name": "L1", "at": "over the  kiln"}, "run P > J1", "\nbox L1 at over the kiln\nrun P > J1",
     "new box L1"),
    ("drop-box", {"box": "S1"}, "box S1 at the door\n  marked 34 in3 plastic 2-gang\n  clamps tabs\n  switch #14\n", "",
     "S1 taken out"),
    ("set-title", {"title": "Glaze  room"}, "job Kiln shed\n", "job Glaze room\n", "the job's name"),
    ("set-title", {"title": ""}, "job Kiln shed\n", "", "the job's name"),
    ("set-edition", {"edition": 2017}, "edition 2020\n", "edition 2017\n", "2017 edition"),
    ("set-text", {"text": "box X1\r\n"}, SHEET, "box X1\n", "the sheet as text"),
    ("item-count", {"box": "S1", "index": 2, "count": 3}, "  switch #14\n", "  3 x switch #14\n",
     "two switch more in S1"),
    ("item-count", {"box": "S1", "index": 2, "count": 0}, "  switch #14\n", "", "one switch less in S1"),
    ("set-device", {"box": "S1", "index": 2, "line": "gfci receptacle"}, "  switch #14\n", "  gfci receptacle #14\n",
     "gfci receptacle in S1"),
    ("set-device", {"box": "S1", "index": 2, "size": "?"}, "  switch #14\n", "  switch #?\n", "switch in S1"),
    ("run-to", {"box": "J1", "index": 1, "to": "?"}, "run J1 > S1 14/2 nm-b\n", "run J1 > ? 14/2 nm-b\n",
     "14/2 from J1 to a place not known"),
    ("run-to", {"box": "S1", "index": 1, "to": "p"}, "run J1 > S1 14/2 nm-b\n", "run P > S1 14/2 nm-b\n",
     "14/2 from S1 to P"),
    ("run-detail", {"box": "J1", "index": 1, "length": "38 ft"}, "run J1 > S1 14/2 nm-b\n",
     "run J1 > S1 14/2 nm-b 38 ft\n", "14/2 38 ft"),
    ("run-detail", {"box": "J1", "index": 1, "length": "?"}, "run J1 > S1 14/2 nm-b\n", "run J1 > S1 14/2 nm-b ? ft\n",
     "14/2 length not known"),
    ("run-detail", {"box": "J1", "index": 1, "circuit": "7"}, "run J1 > S1 14/2 nm-b\n",
     "run J1 > S1 14/2 nm-b circuit 7\n", "14/2 circuit 7"),
    ("set-at", {"box": "S1", "at": "by the  kiln"}, "box S1 at the door\n", "box S1 at by the kiln\n", "where S1 is"),
    ("set-at", {"box": "S1", "at": ""}, "box S1 at the door\n", "box S1\n", "where S1 is"),
    ("copy-box", {"box": "L1", "name": "S1"}, "box L1\n",
     "box L1\n  marked 34 in3 plastic 2-gang\n  clamps tabs\n  switch #14\n", "L1 like S1"),
]  # fmt: skip


@pytest.mark.parametrize("number", range(len(TAPS)), ids=[f"{number} {tap[0]}" for number, tap in enumerate(TAPS)])
def test_a_tap_changes_the_lines_it_is_about_and_no_other(app, number):
    do, words, before, after, label = TAPS[number]
    start = BEFORE.get(do, SHEET)
    job = app.new(start)
    answer = app.edit(job, do, **words)
    assert answer.status == 200, answer
    expected = start.replace(before, after, 1)
    if do == "divide":
        expected = expected.replace("run J1 > S1 14/2", "run J1 > S1/left 14/2")
    if do == "remove-barrier":
        expected = expected.replace("run J1 > S1/left 14/2", "run J1 > S1 14/2")
    if do == "drop-box":
        expected = expected.replace("run J1 > S1 14/2", "run J1 > ? 14/2")
    if do == "copy-box":
        expected += "run L1 > ? 14/2 nm-b\n"
    if do in ("add-box", "drop-box", "set-title"):  # blank lines around are a matter of taste
        assert [line for line in answer.json["sheet"].split("\n") if line] == [
            line for line in expected.split("\n") if line
        ]
    else:
        assert answer.json["sheet"] == expected
    assert app.job(job["id"])["sheet"] == answer.json["sheet"]
    assert answer.json["version"] == (1 if expected == start else 2)
    if expected != start:
        assert app.get(f"/api/jobs/{job['id']}/history").json["versions"][0]["label"] == label
        assert app.job(job["id"])["undo_label"] == label
        assert app.post(f"/api/jobs/{job['id']}/undo", base=2).json["sheet"] == start


def test_every_tap_there_is_has_a_case():
    assert {tap[0] for tap in TAPS} == set(EDITS)


@pytest.mark.parametrize("do", ["set-base", "add-item", "add-cable", "run-here"])
def test_the_answer_to_a_tap_is_the_box_as_it_is_then(app, do):
    words = next(words for name, words, *_ in TAPS if name == do)
    job = app.new()
    answer = app.edit(job, do, **words).json
    shown = app.answer("box", sheet=answer["sheet"], box=words["box"]).json
    assert answer["view"] == {key: value for key, value in shown.items() if key != "around"}
    assert answer["faults"] == []


NO_TAPS: list[tuple[str, dict[str, Any]]] = [
    ("set-base", {"box": "J1", "line": "switch #14"}),
    ("set-base", {"box": "J1", "line": "square 5 x 9"}),
    ("set-base", {"box": "J9", "line": "octagon 4 x 1-1/2"}),
    ("set-base", {"box": "J1"}),
    ("set-base", {"box": "J1", "line": "  "}),
    ("set-clamps", {"box": "J1", "way": "sideways"}),
    ("add-item", {"box": "J1", "line": "run J1 > ? 12/2 nm-b"}),
    ("add-item", {"box": "J1", "line": "box J2"}),
    ("add-item", {"box": "J1", "line": "# nothing"}),
    ("add-item", {"box": "J1", "line": "octagon 4 x 1-1/2"}),
    ("add-item", {"box": "J1", "line": "switch #14", "space": "left"}),
    ("divide", {"box": "J1", "way": "wood", "how": "left 1/2, right 1/2"}),
    ("divide", {"box": "J1", "way": "metal", "how": "left 1/2"}),
    ("divide", {"box": "J1", "way": "metal", "how": "left 1/2, switch #12"}),
    ("divide", {"box": "J1", "way": "metal", "how": "left 1/2, right 2/3"}),
    ("divide", {"box": "S1", "way": "metal", "how": "left 2 gangs, right 1 gang"}),
    ("put-item", {"box": "J1", "index": 2, "line": "switch #14"}),
    ("put-item", {"box": "J1", "index": -1, "line": "switch #14"}),
    ("put-item", {"box": "J1", "index": True, "line": "switch #14"}),
    ("drop-item", {"box": "J1", "index": "0"}),
    ("drop-item", {"box": "J1"}),
    ("add-cable", {"box": "J1", "cable": "12/2 nm-b", "to": "nowhere"}),
    ("add-cable", {"box": "J1", "cable": "12/2 nm-b", "to": "J1"}),
    ("add-cable", {"box": "J1", "cable": "yarn"}),
    ("add-cable", {"box": "J1", "cable": "12/2 nm-b", "space": "left"}),
    ("drop-run", {"index": 2}),
    ("put-run", {"index": 0, "line": "box J7"}),
    ("put-run", {"index": 0, "line": "run J1 > J9 12/2 nm-b"}),
    ("put-run", {"index": 0, "line": "run"}),
    ("run-count", {"index": 0, "count": 100}),
    ("run-count", {"index": 0, "count": -1}),
    ("run-count", {"index": 0, "count": 1.5}),
    ("run-count", {"index": 0, "count": True}),
    ("run-here", {"box": "J1", "index": 0, "how": "flies"}),
    ("run-here", {"box": "S1", "index": 0, "how": "passes"}),
    ("add-box", {"name": "J1"}),
    ("add-box", {"name": "j1"}),
    ("add-box", {"name": "P"}),
    ("add-box", {"name": "two words"}),
    ("add-box", {"name": "x" * 41}),
    ("add-box", {"name": "a/b"}),
    ("drop-box", {"box": "P"}),
    ("item-count", {"box": "S1", "index": 0, "count": 2}),
    ("item-count", {"box": "S1", "index": 2, "count": 100}),
    ("set-device", {"box": "S1", "index": 0, "line": "dimmer"}),
    ("set-device", {"box": "S1", "index": 2, "line": "stud"}),
    ("set-device", {"box": "S1", "index": 2, "size": "13"}),
    ("set-device", {"box": "S1", "index": 2, "space": "left"}),
    ("run-to", {"box": "J1", "index": 1, "to": "nowhere"}),
    ("run-to", {"box": "J1", "index": 1, "to": "J1"}),
    ("run-to", {"box": "J1", "index": 1, "name": "two words"}),
    ("run-to", {"box": "J1", "index": 1, "name": "S1"}),
    ("run-detail", {"box": "J1", "index": 1, "length": "far"}),
    ("run-detail", {"box": "J1", "index": 1, "length": "38 ft circuit 7"}),
    ("run-detail", {"box": "J1", "index": 1, "circuit": "7 through S1"}),
    ("run-detail", {"box": "J1", "index": 1, "space": "left"}),
    ("copy-box", {"box": "J1", "name": "S1"}),
    ("copy-box", {"box": "J1", "name": "J7"}),
    ("set-edition", {"edition": 1999}),
    ("set-edition", {"edition": True}),
    ("set-edition", {"edition": "2020"}),
    ("set-text", {}),
    ("set-text", {"text": 1}),
    ("no-such", {}),
    ("", {}),
]  # fmt: skip


@pytest.mark.parametrize(
    "number", range(len(NO_TAPS)), ids=[f"{number} {tap[0]}" for number, tap in enumerate(NO_TAPS)]
)
def test_a_tap_that_cannot_be_is_refused_in_words_and_changes_nothing(app, number):
    do, words = NO_TAPS[number]
    job = app.new()
    refused = app.edit(job, do, **words)
    assert refused.status == 422, refused
    assert refused.json["kind"] == "question"
    assert app.job(job["id"]) == job


@pytest.mark.parametrize("edit", [None, [], "set-title", {"do": None}, {"do": ["set-title"]}, {}])
def test_what_is_no_tap_at_all_is_refused(app, edit):
    job = app.new()
    refused = app.post(f"/api/jobs/{job['id']}/edit", base=1, edit=edit)
    assert refused.status == 422
    assert app.job(job["id"]) == job


def test_how_many_alike_is_not_asked_of_wires():
    """A run of wires says how many in its own words; a count before it would be passed over."""
    answer = engine.answer("edit", {"sheet": BARRIER, "edit": {"do": "run-count", "index": 2, "count": 4}})
    assert "wires" in answer["error"]
    gone = engine.answer("edit", {"sheet": BARRIER, "edit": {"do": "run-count", "index": 2, "count": 0}})
    assert "wires" not in gone["sheet"]


def test_a_new_cable_goes_to_the_side_that_is_looked_at():
    for space, said in (("", "D1/left"), ("left", "D1/left"), ("right", "D1/right"), ("RIGHT", "D1/right")):
        edit = {"do": "add-cable", "box": "D1", "cable": "12/2 nm-b", "space": space}
        assert f"run {said} > ? 12/2 nm-b\n" in engine.answer("edit", {"sheet": BARRIER, "edit": edit})["sheet"]


def tapped(sheet, **edit):
    answer = engine.answer("edit", {"sheet": sheet, "edit": edit, "box": edit.get("box", "")})
    assert "error" not in answer, answer
    assert answer["faults"] == []
    return answer


OWN_SIDES = """job Slip
edition 2020
box D3
  square 4 x 2-1/8
  barrier metal
  space left 1/2
  switch #14   # stays
  space right 1/2
  receptacle #12
"""


@pytest.mark.parametrize(
    "sheet", [BARRIER.replace("D1", "D3").replace(" through D2", ""), OWN_SIDES], ids=["by its kind", "its own"]
)
@pytest.mark.parametrize("side", ["left", "right", "LEFT"])
def test_what_is_tapped_goes_to_the_side_that_is_looked_at(sheet, side):
    answer = tapped(sheet, do="add-item", box="D3", line="dimmer #12", space=side)
    (item,) = [item for item in answer["view"]["items"] if item["text"] == "dimmer #12"]
    assert item["side"] == side.lower()
    other = {"left": "right", "right": "left"}[side.lower()]
    before, after = fills(engine.answer("box", {"sheet": sheet, "box": "D3"})), fills(answer["view"])
    assert after[f"D3/{other}"] == before[f"D3/{other}"]
    assert after[f"D3/{side.lower()}"] != before[f"D3/{side.lower()}"]


def fills(view):
    return {found["subject"]: found["needed"] for found in view["findings"] if found["rule"] == "box-fill"}


def test_a_tap_on_a_divided_box_that_says_no_side_is_asked_for_it():
    answer = engine.answer("edit", {"sheet": OWN_SIDES, "edit": {"do": "add-item", "box": "D3", "line": "stud"}})
    assert "which side? 'space' is left or right" in answer["error"]
    ring = tapped(OWN_SIDES, do="add-item", box="D3", line="plaster ring 3 in3")  # of the whole box
    assert ring["view"]["items"][-1]["side"] == ""


def test_clamps_are_those_of_the_side_and_nothing_is_lost_around_them():
    answer = tapped(OWN_SIDES, do="set-clamps", box="D3", way="inside", space="left")
    assert answer["sheet"] == OWN_SIDES.replace("# stays\n", "# stays\n  clamps inside\n")
    again = tapped(answer["sheet"], do="set-clamps", box="D3", way="none", space="right")
    assert again["view"]["clamps"] == {"left": "inside", "right": "none"}
    both = tapped(again["sheet"], do="set-clamps", box="D3", way="outside", space="right")
    assert both["view"]["clamps"] == {"left": "inside", "right": "outside"}


def test_clamps_of_the_whole_box_become_those_of_each_side():
    sheet = OWN_SIDES.replace("  barrier metal\n", "  clamps inside\n  barrier metal\n")
    answer = tapped(sheet, do="set-clamps", box="D3", way="none", space="right")
    assert answer["view"]["clamps"] == {"left": "inside", "right": "none"}


def test_a_barrier_made_by_touch_leaves_everything_on_its_first_side():
    sheet = (
        "edition 2020\npanel P\nkind k\n  marked 36 in3 plastic 2-gang\n  clamps tabs\nbox J1 k\n  switch #14 # one\n"
    )
    sheet += "box J2\n  square 4 x 1-1/2\nrun P > J1 > J2 14/2 nm-b # two\nrun P > J2 14/2 nm-b through J1 # three\n"
    answer = tapped(sheet, do="divide", box="J1", way="plastic", how="left 1 gang, right 1 gang")
    view = answer["view"]
    assert view["spaces"] == ["left", "right"]
    assert {item["side"] for item in view["items"] if item["is"] in ("device", "clamps")} == {"left"}
    assert {run["side"] for run in view["runs"]} == {"left"}
    for remark in ("# one", "# two", "# three"):
        assert remark in answer["sheet"]
    rooms = {found["subject"]: Decimal(found["there"]) for found in view["findings"] if found["rule"] == "box-fill"}
    # 36 in3 in two gangs, less half of the 1.0 in3 of an unmarked nonmetallic barrier on each side: 314.16(A)
    assert rooms == {"J1/left": Decimal("17.5"), "J1/right": Decimal("17.5")}
    answer = engine.answer(
        "edit", {"sheet": answer["sheet"], "edit": {"do": "divide", "box": "J1", "way": "metal", "how": "a 1/2, b 1/2"}}
    )
    assert "has a barrier already" in answer["error"]


@pytest.mark.parametrize(
    ("left", "right", "stays"),
    [("inside", "none", "inside"), ("none", "inside", "inside"), ("outside", "?", "?"), ("outside", "none", "outside"),
     ("", "none", "none")],
)  # fmt: skip
def test_a_barrier_is_removed_and_everything_is_in_one_space(left, right, stays):
    """Both sides come together; of two clamp lines the one that may take an allowance stays (314.16(B)(2))."""
    sheet = OWN_SIDES.replace("# stays\n", "# stays\n" + (f"  clamps {left}\n" if left else "")) + f"  clamps {right}\n"
    sheet += "run D3/left > ? 12/2 nm-b\nrun D3/right > ? 14/2 nm-b # mine\n"
    answer = tapped(sheet, do="remove-barrier", box="D3")
    assert answer["view"]["spaces"] == []
    assert answer["view"]["clamps"] == {"": stays}
    assert "  square 4 x 2-1/8\n  switch #14   # stays\n" in answer["sheet"]
    assert answer["sheet"].endswith("run D3 > ? 12/2 nm-b\nrun D3 > ? 14/2 nm-b  # mine\n")
    (fill,) = [found for found in answer["view"]["findings"] if found["rule"] == "box-fill"]
    assert Decimal(fill["there"]) == Decimal("30.3")  # a 4 x 2-1/8 square box whole: Table 314.16(A)


def test_a_barrier_of_the_kind_is_removed_from_one_box_only():
    answer = tapped(BARRIER.replace(" through D2", ""), do="remove-barrier", box="D1")
    assert answer["view"]["spaces"] == []
    assert "kind two-sides\n  square 4 x 2-1/8\n  barrier plastic\n" in answer["sheet"]
    assert "run P > D1 12/2 nm-b\nrun D1 > D2 14/2 nm-b\n" in answer["sheet"]
    again = engine.answer("edit", {"sheet": answer["sheet"], "edit": {"do": "remove-barrier", "box": "D1"}})
    assert again["error"] == "D1 has no barrier"


def test_what_stands_beside_the_title_and_the_edition_stays():
    sheet = "\ufeff# first\n  JOB   Kiln shed   # the new one\nedition\t2020  # ask\nbox J1\n  square 4 x 2-1/8\n"
    answer = engine.answer("edit", {"sheet": sheet, "edit": {"do": "set-title", "title": "Glaze > room, #12"}})
    assert answer["sheet"] == sheet.replace("Kiln shed", "Glaze > room, #12")
    answer = engine.answer("edit", {"sheet": sheet, "edit": {"do": "set-edition", "edition": 2011}})
    assert answer["sheet"] == sheet.replace("2020", "2011")
    plain = "\ufeffbox J1\n  square 4 x 2-1/8\n"
    answer = engine.answer("edit", {"sheet": plain, "edit": {"do": "set-title", "title": "Kiln"}})
    assert answer["sheet"] == "\ufeffjob Kiln\nbox J1\n  square 4 x 2-1/8\n"
    assert answer["faults"] == []


# ---- far ends, copies, neighbors -----------------------------------------------------------------------------------

PAIR = """job Pair
edition 2020
panel P
box J1
  square 4 x 1-1/2
  clamps inside
  receptacle #12
box J2
  square 4 x 1-1/2
  clamps inside
run J1 > ? 3 x 12/2 nm-b
"""


def test_a_far_end_adds_the_cable_to_the_other_box_and_says_what_that_did():
    """One 12/2 in J2, by hand: 2 x 2.25, 2.25 for the ground, 2.25 for the clamps (314.16(B), 2020); 12.00 of 21.00
    left. Four in J1: 8 x 2.25, 2 x 2.25 for the receptacle, 2.25 for clamps and 2.25 for four grounds; 27.00 in 21.00.
    """
    answer = tapped(PAIR, do="run-to", box="J1", index=0, count=1, to="J2")
    assert answer["sheet"].endswith("run J1 > ? 2 x 12/2 nm-b\nrun J1 > J2 12/2 nm-b\n")
    assert answer["label"] == "12/2 from J1 to J2"
    assert answer["also"] == [{"box": "J2", "verdict": "passes", "says": "also J2: 12.00 in³ spare"}]
    more = tapped(answer["sheet"], do="run-count", box="J2", index=1, count=2)
    assert [row["says"] for row in more["also"]] == ["also J1: 6.00 in³ over"]
    assert tapped(answer["sheet"], do="set-clamps", box="J1", way="outside")["also"] == []


def test_a_far_end_may_be_a_new_box_with_its_room():
    answer = tapped(PAIR, do="run-to", box="J1", index=0, name="", at="loft")
    assert "box J3 at loft\n" in answer["sheet"]
    assert "run J1 > J3 3 x 12/2 nm-b\n" in answer["sheet"]
    assert answer["also"] == []


@pytest.mark.parametrize(("last", "following"), [("J1", "J2"), ("K9", "K10"), ("A-07", "A-08"), ("hall", "hall2")])
def test_a_new_box_without_a_name_goes_on_from_the_last(last, following):
    answer = tapped(f"edition 2020\nbox {last}\n  square 4 x 1-1/2\n", do="add-box", name="")
    assert f"box {following}\n" in answer["sheet"]
    assert answer["label"] == f"new box {following}"


def test_a_box_made_like_another_has_its_verdict():
    sheet = PAIR.replace("box J2\n  square 4 x 1-1/2\n  clamps inside\n", "box J2\n")
    answer = tapped(sheet, do="copy-box", box="J2", name="J1")
    one, other = (engine.answer("box", {"sheet": answer["sheet"], "box": name}) for name in ("J1", "J2"))
    assert one["says"] == other["says"]
    assert "run J2 > ? 3 x 12/2 nm-b" in answer["sheet"]
    refused = engine.answer("edit", {"sheet": PAIR, "edit": {"do": "copy-box", "box": "J2", "name": "J1"}})
    assert "only an empty box" in refused["error"]


def test_a_box_brings_its_clamps_where_nothing_is_said_of_them():
    bare = "edition 2020\nbox J1\n"
    way = {"do": "set-base", "box": "J1", "line": "square 4 x 1-1/2", "way": "inside"}
    assert tapped(bare, **way)["sheet"] == f"{bare}  square 4 x 1-1/2\n  clamps inside\n"
    assert tapped(f"{bare}  clamps ?\n", **way)["sheet"] == f"{bare}  clamps ?\n  square 4 x 1-1/2\n"


def test_a_device_and_a_cable_change_sides():
    answer = tapped(OWN_SIDES, do="set-device", box="D3", index=device_at(OWN_SIDES, "left"), space="right")
    left, right = answer["sheet"].split("space right")
    assert "switch" not in left.split("space left")[1]
    assert "switch" in right
    moved = tapped(f"{answer['sheet']}run D3/left > ? 12/2 nm-b\n", do="run-detail", box="D3", index=0, space="right")
    assert moved["sheet"].endswith("run D3/right > ? 12/2 nm-b\n")


def device_at(sheet, side):
    """The index of the first device on one side of D3."""
    shown = engine.answer("box", {"sheet": sheet, "box": "D3"})
    return next(item["index"] for item in shown["items"] if item["is"] == "device" and item["side"] == side)


# ---- whatever is tapped --------------------------------------------------------------------------------------------

WORDS = st.sampled_from(
    ["J1", "S1", "P", "D1", "D2", "X9", "?", ">", ",", "/", "#", "x", "at", "for", "in", "on", "through", "loop",
     "landed", "ends", "passes",
     "12/2 nm-b", "14/3 mc", "2 x 12/2 nm-b", "3 x #12 thhn", "square 4 x 2-1/8", "octagon 4 x ?", "marked ? in3",
     "switch #14", "clamps inside", "inside", "outside", "none", "receptacle", "plaster ring 3 in3", "box J7",
     "run J1 > S1 12/2 nm-b", "wires P > D2 2 x #12 thhn", "left", "right", "barrier", "space left 1/3", "job",
     "edition 2020", "note", "kind", "# 1", "#12", "\u00bd", "\u2028", "\x85", "\n", "\t", "\x00", "<script>"]
)  # fmt: skip
TEXTS = st.one_of(WORDS, st.lists(WORDS, max_size=4).map(" ".join), st.text(max_size=12))
VALUES = {
    "box": st.sampled_from(["J1", "S1", "D1", "D2", "A1", "G1"]),
    "index": st.integers(0, 20),
    "count": st.one_of(st.integers(-1, 100), st.just("?")),
    "edition": st.integers(2005, 2030),
    "how": st.sampled_from(["ends", "passes", "looped", "landed"]),
    **dict.fromkeys(("line", "cable", "to", "space", "way", "name", "at", "title", "size", "length", "circuit"), TEXTS),
}  # fmt: skip


@st.composite
def taps(draw):
    edit = {"do": draw(st.sampled_from([do for do in EDITS if do != "set-text"]))}
    for key, values in VALUES.items():
        if draw(st.integers(0, 9)):
            edit[key] = draw(values)
    return edit


@settings(max_examples=400, deadline=None, suppress_health_check=list(HealthCheck))
@given(
    st.sampled_from([SHEET, BARRIER, STUDIO, "", "box J1", "box J1\n  wrod\n\n"]),
    st.lists(taps(), min_size=1, max_size=4),
)
@example(SHEET, [{"do": "add-box", "name": "run"}])
@example("", [{"do": "add-box", "name": "J1"}])
@example(SHEET, [{"do": "add-box", "name": "#"}])
def test_no_tap_leaves_a_line_nobody_can_read(sheet, several):
    """Whatever is tapped, there are no more faults than before, and a box that was made is there."""
    for edit in several:
        before = read_with_faults(Sheet(sheet))[1]
        answer = engine.answer("edit", {"sheet": sheet, "edit": edit, "box": edit.get("box", "")})
        if "error" in answer:
            assert answer["kind"] == "question"
            continue
        job, after = read_with_faults(Sheet(answer["sheet"], "sheet.job"))
        known = {fault.message for fault in before} | {"there is no box in this sheet"}
        assert {fault.message for fault in after} <= known, answer["sheet"]
        if edit["do"] == "add-box":
            wanted = "".join(filter(str.isprintable, (edit.get("name") or "").strip()))
            names = [box.name for box in job.boxes]
            assert wanted.split()[0] in names if wanted else len(names) > len(read_with_faults(Sheet(sheet))[0].boxes)
        if edit["do"] == "drop-box":
            assert edit["box"] not in [box.name for box in job.boxes]
        sheet = answer["sheet"]
