"""The engine as the page's worker calls it: sheets by number, and an edit comes back as the lines that changed."""

import json
from typing import Any

import pytest

from ampleroom.web import engine
from ampleroom.web.engine.in_worker import MOST_SHEETS, NumberedSheets

SHEET = """job Slip
edition 2020
box J1
  square 4 x 1-1/2
  clamps inside
  receptacle #12
run J1 > ? 12/2 nm-b
"""
TAP = {"edit": {"do": "add-cable", "cable": "12/2", "to": "?", "space": "", "box": "J1"}, "box": "J1"}


def asked(sheets: NumberedSheets, action: str, data: Any, number: int, whole: str = "", after: int = 0) -> Any:
    """The answer to a question whose sheet is known or sent."""
    answered = sheets.answer(action, json.dumps(data), number, whole, after)
    assert answered is not None
    return json.loads(answered)


def put_in(text, patch):
    """The text with the patch in it, worked out without the code under test."""
    lines = text.split("\n")
    lines[patch["start"] : patch["start"] + patch["drop"]] = patch["put"]
    assert len(lines) == patch["lines"]
    return "\n".join(lines)


def test_a_sheet_sent_once_is_known_by_its_number():
    sheets = NumberedSheets()
    plain = engine.answer("box", {"sheet": SHEET, "box": "J1"})
    first = asked(sheets, "box", {"box": "J1"}, 7, SHEET)
    assert first == asked(sheets, "box", {"box": "J1"}, 7)
    assert first == json.loads(json.dumps(plain))


def test_a_tap_comes_back_as_a_patch_and_its_sheet_has_the_next_number():
    sheets = NumberedSheets()
    whole = engine.answer("edit", {"sheet": SHEET, **TAP})
    tapped = asked(sheets, "edit", TAP, 1, SHEET, 2)
    assert "sheet" not in tapped
    assert put_in(SHEET, tapped["patch"]) == whole["sheet"]
    told = json.loads(json.dumps({key: value for key, value in whole.items() if key != "sheet"}))
    assert {key: value for key, value in tapped.items() if key != "patch"} == told
    after = asked(sheets, "box", {"box": "J1"}, 2)
    assert len(after["runs"]) == 2


@pytest.mark.parametrize("sheet", ["edition 2020", "edition 2020\nbox J1\n\n\n", "edition 2020\r\nbox J1\r\n"])
def test_a_whole_new_text_as_a_patch(sheet):
    sheets = NumberedSheets()
    question = {"edit": {"do": "set-text", "text": SHEET}}
    answered = asked(sheets, "edit", question, 1, sheet, 2)
    whole = engine.answer("edit", {"sheet": sheet, **question})
    assert put_in(sheet, answered["patch"]) == whole["sheet"] == SHEET


def test_a_number_nobody_knows_any_more_is_asked_for_again():
    """Never another sheet in its place: the page sends the text then."""
    sheets = NumberedSheets()
    assert sheets.answer("box", json.dumps({"box": "J1"}), 1, "", 0) is None
    for number in range(1, MOST_SHEETS + 2):
        sheets.answer("box", json.dumps({"box": "J1"}), number, SHEET + f"# {number}\n", 0)
    assert sheets.answer("box", json.dumps({"box": "J1"}), 1, "", 0) is None
    assert sheets.answer("box", json.dumps({"box": "J1"}), 2, "", 0) is not None


def test_a_refused_tap_says_why_and_keeps_nothing():
    sheets = NumberedSheets()
    wrong = {"edit": {"do": "add-cable", "cable": "12/2 of glass", "to": "?", "space": "", "box": "J1"}, "box": "J1"}
    assert "error" in asked(sheets, "edit", wrong, 1, SHEET, 2)
    assert sheets.answer("box", json.dumps({"box": "J1"}), 2, "", 0) is None


def test_a_question_without_a_sheet():
    assert asked(NumberedSheets(), "words", {}, 0) == json.loads(json.dumps(engine.answer("words", {})))
