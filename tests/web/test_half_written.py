"""A sheet half written is answered in words, whatever is asked of it: no error of the server, no silent edition."""

from typing import Any

import pytest

from ampleroom.web import engine
from ampleroom.web.engine import ACTIONS
from tests.cli.helpers import inside
from tests.web.helpers import STOCK

NO_EDITION = "job Kiln\nbox J1\n  square 4 x 1-1/2\n  clamps inside\n  switch #12\nrun J1 > ? 12/2 nm-b\n"
JUDGING = ["job", "check", "show", "box", "fits", "remedies", "plan", "map", "packet"]
TWICE = """job T
edition 2020
box J1
  square 4 x 1-1/2
  clamps inside
run J1 > ? 6 x 12/2 nm-b
box J1
  octagon 4 x 1-1/2
  switch #12
box J2 van
  switch #12
run J2 > ? 9 x 12/2 nm-b
run J2 > J1 12/2 nm-b through J9
run J9 > ? 12/2 nm-b
run J8/left > J7 12/2 nm-b
"""


@pytest.mark.parametrize("action", JUDGING)
def test_a_sheet_without_an_edition_is_refused_in_the_words_of_the_command_line(action, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "sheet.job").write_text(NO_EDITION, "utf-8")
    refused = inside("check", "sheet.job", "--json")
    assert refused.status == 2
    answer = engine.answer(action, {"sheet": NO_EDITION, "box": "J1"})
    assert answer["error"] == refused.json["error"]
    assert answer["kind"] == "edition"


@pytest.mark.parametrize("action", JUDGING)
def test_an_edition_asked_for_is_judged_by(action):
    assert "error" not in engine.answer(action, {"sheet": NO_EDITION, "box": "J1", "edition": 2017})


def test_the_faults_are_told_beside_for_the_edition_may_be_there_and_unreadable():
    answer = engine.answer("job", {"sheet": NO_EDITION + "edition 1999\n"})
    assert answer["kind"] == "edition"
    assert [fault["line"] for fault in answer["faults"]] == [7]


def test_an_edition_can_be_set_and_a_tap_is_kept_without_one():
    edit = {"do": "set-edition", "edition": 2020}
    assert engine.answer("edit", {"sheet": NO_EDITION, "edit": edit})["sheet"] == "edition 2020\n" + NO_EDITION
    kept = engine.answer(
        "edit", {"sheet": NO_EDITION, "box": "J1", "edit": {"do": "add-item", "box": "J1", "line": "stud"}}
    )
    assert "  stud\n" in kept["sheet"]
    assert kept["view"] is None


def test_a_workbook_without_an_edition_is_the_job_alone():
    assert "error" not in engine.answer("workbook", {"sheet": NO_EDITION})


def test_the_map_shows_places_that_only_runs_name():
    """A run from a box that is not written yet."""
    sheet = (
        "edition 2020\nbox J1\n  square 4 x 1-1/2\nrun J9 > ? 12/2 nm-b\nrun J1 > J8 12/2 nm-b\nrun J7 > J6 12/2 nm-b\n"
    )
    answer = engine.answer("map", {"sheet": sheet})
    assert all(name in answer["svg"] for name in ("J1", "J9", "J8", "J7", "J6"))


@pytest.mark.parametrize("action", ["remedies", "plan", "apply", "against"])
def test_what_would_change_a_place_whose_name_stands_twice_says_so(action):
    data = {"sheet": TWICE, "box": "J1", "stock": STOCK, "against": 2023, "choose": 1, "solver": False}
    assert (
        engine.answer(action, data)["error"]
        == "two places are named J1; give one of them another name in the sheet first"
    )


@pytest.mark.parametrize("action", [action for action in ACTIONS if action not in ("edit", "packet", "import")])
@pytest.mark.parametrize("box", ["J1", "J2"])
def test_nothing_that_is_asked_of_a_half_written_sheet_is_an_error_of_the_server(action, box):
    data = {
        "sheet": TWICE,
        "box": box,
        "stock": STOCK,
        "against": 2023,
        "choose": 1,
        "solver": False,
        "name": "box-fill",
    }
    assert isinstance(engine.answer(action, data), dict)


EDITS: list[dict[str, Any]] = [
    {"do": "add-item", "line": "switch #12"},
    {"do": "set-base", "line": "marked 3 in3"},
    {"do": "set-clamps", "way": "none"},
    {"do": "divide", "way": "plastic", "how": "l 1/2, r 1/2"},
    {"do": "add-cable", "cable": "12/2 nm-b", "to": "J1"},
    {"do": "run-here", "index": 1, "how": "passes"},
    {"do": "drop-item", "index": 0},
    {"do": "drop-box"},
]


@pytest.mark.parametrize("edit", EDITS, ids=[edit["do"] for edit in EDITS])
@pytest.mark.parametrize("box", ["J1", "J2"])
def test_no_tap_on_a_half_written_sheet_is_an_error_of_the_server(edit, box):
    answer = engine.answer("edit", {"sheet": TWICE, "edit": {**edit, "box": box}})
    assert isinstance(answer, dict)
    if box == "J1":
        assert "two places are named J1" in answer["error"]


def test_the_list_has_a_number_only_where_it_is_the_verdict_s_own():
    """The room left belongs to a box that passes or fails by its fill; of an open one there is none."""
    sheet = (
        "edition 2020\nbox J1\n  square 4 x ?\n  clamps inside\nrun J1 > ? 4 x 12/2 nm-b\nbox J2\n  square 4 x 1-1/2\n"
    )
    rows = {row["name"]: row for row in engine.answer("job", {"sheet": sheet})["subjects"]}
    assert {name: (row["verdict"], row["margin"]) for name, row in rows.items()} == {
        "J1": ("check needed", None),
        "J2": ("check needed", None),
    }


def test_the_list_of_the_page_names_what_was_not_judged():
    sheet = NO_EDITION.replace("job Kiln\n", "job Kiln\nedition 2020\nload range 12 kW\npanel P\n")
    answer = engine.answer("job", {"sheet": sheet})
    assert (answer["verdict"], [each["text"] for each in answer["not_judged"]]) == ("check needed", ["1 load"])


@pytest.mark.parametrize("edition", ["", "edition 2020\n"])
def test_a_job_just_begun_has_no_box_and_no_fault(edition):
    """The first line is not marked for it; a line that cannot be read is."""
    begun = engine.answer("job", {"sheet": f"job New job\n{edition}"})
    assert begun["faults"] == []
    assert engine.answer("job", {"sheet": f"job New job\n{edition}wrod\n"})["faults"] != []
    assert engine.answer("check", {"sheet": f"job New job\n{edition}"})["kind"] in ("faults", "edition")
