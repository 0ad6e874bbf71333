"""The sentences on a verdict: by example, on every surface the same, and no plain-text unit on the page or on paper."""

import re
from decimal import Decimal
from typing import Any

import pytest

from ampleroom import check, read_job
from ampleroom.cli.kinds import spare
from ampleroom.packet.data import packet_data
from ampleroom.pictures.room import room_picture
from ampleroom.pictures.svg import svg
from ampleroom.rules.kinds import headline_of
from ampleroom.sheets.writing import results_csv
from ampleroom.web.engine import answer
from ampleroom.words import (
    all_printed,
    by_value_text,
    counts_text,
    first_clause,
    headline_text,
    printed,
    short_message,
    subject_message,
    worth_text,
)
from ampleroom.worksheet import Verdict

HEAD = "edition 2020\nbox J1\n"
OVER = HEAD + "  square 4 x 1-1/2\n  clamps inside\n  receptacle #12\nrun J1 > ? 3 x 12/2 nm-b\n"
SPARE = HEAD + "  marked 20.3 in3 plastic 1-gang\n  clamps none\n  receptacle #12\nrun J1 > ? 12/2 nm-b\n"
FULL = HEAD + "  marked 9 in3\n  clamps inside\nrun J1 > ? 12/2 nm-b\n"
OPEN = HEAD + "  marked ? in3 plastic\n  receptacle #12\nrun J1 > ? 12/2 nm-b\n"
WORST = HEAD + "  marked 20.3 in3\n  clamps ?\nrun J1 > ? 12/2 nm-b\n"
EMPTY = HEAD + "  square 4 x 1-1/2\n"
BODY = HEAD + "  conduit body lb 1/2 on emt\nwires ? > ? 3 x #12 thhn through J1\n"
SHEETS = {"over": OVER, "spare": SPARE, "full": FULL, "open": OPEN, "worst": WORST, "empty": EMPTY, "body": BODY}
SAYS = {
    "over": "J1 is 1.50 in3 over: box fill 22.50 in3, box volume 21.00 in3",
    "spare": "J1 has 9.05 in3 spare: box fill 11.25 in3, box volume 20.30 in3",
    "full": "J1 is exactly full: box fill 9.00 in3, box volume 9.00 in3",
    "open": "J1 depends on facts not checked yet: box fill 11.25 to 13.50 in3, box volume not known",
    "worst": "J1 has 11.30 in3 spare, worst case: box fill 9.00 in3, box volume 20.30 in3",
    "empty": "J1 has nothing in it yet; box volume 21.00 in3",
}
"""By hand: 2.25 for each #12, for all clamps and for all grounds, 4.50 for the receptacle."""


@pytest.mark.parametrize("name", SAYS)
def test_a_box_is_said_in_one_line(name):
    subject = check(read_job(SHEETS[name])).subjects[0]
    assert subject_message(subject, headline_of("box")) == SAYS[name]


@pytest.mark.parametrize("name", SAYS)
def test_every_surface_has_the_same_sentence(name):
    report = check(read_job(SHEETS[name]))
    message, on_paper = SAYS[name], printed(SAYS[name])
    assert report.to_json()["subjects"][0]["message"] == message
    assert message in results_csv(report)
    job = answer("job", {"sheet": SHEETS[name]})
    assert job["subjects"][0]["message"] == on_paper
    assert answer("box", {"sheet": SHEETS[name], "box": "J1"})["message"] == on_paper
    assert all_printed(packet_data(report))["cards"][0]["message"] == on_paper
    assert on_paper in svg(room_picture(report.findings[0]))


@pytest.mark.parametrize(
    ("name", "margin", "aloud"),
    [("over", "1.50 in3 over", "fails, 1.50 cubic inches over"), ("open", "", "check needed"), ("body", "", "passes")],
)
def test_the_number_beside_a_name_and_what_is_heard(name, margin, aloud):
    subject = check(read_job(SHEETS[name])).subjects[0]
    assert headline_text(subject, headline_of(subject.kind)) == margin
    assert answer("box", {"sheet": SHEETS[name], "box": "J1"})["says"]["aloud"] == aloud


def texts(value: Any, key: str = "") -> list[tuple[str, str]]:
    """Every text in plain data, with the field it stands in."""
    if isinstance(value, dict):
        return [found for name, each in value.items() for found in texts(each, name)]
    if isinstance(value, list | tuple):
        return [found for each in value for found in texts(each, key)]
    return [(key, value)] if isinstance(value, str) else []


LINES_OF_A_SHEET = {"unit", "text", "sheet", "line", "box_kind", "from_kind", "clamps"}


@pytest.mark.parametrize("name", SHEETS)
@pytest.mark.parametrize("question", ["job", "box", "fits", "remedies", "plan", "takeoff", "map", "editions"])
def test_no_text_of_the_page_has_a_unit_as_plain_text_has_it(name, question):
    found = answer(question, {"sheet": SHEETS[name], "box": "J1"})
    left = [(key, text) for key, text in texts(found) if re.search(r"\bin[23]\b", text) and key not in LINES_OF_A_SHEET]
    assert left == []


def test_no_text_of_an_answer_without_a_sheet_has_one_either():
    question = "square 4 x 1-1/2, 3 x 12/2 nm-b, clamps ?, receptacle #12"
    found = answer("ask", {"question": question, "edition": 2020})
    left = [(key, text) for key, text in texts(found) if re.search(r"\bin[23]\b", text) and key not in LINES_OF_A_SHEET]
    assert left == []


@pytest.mark.parametrize("name", SHEETS)
def test_no_text_of_the_packet_has_one(name):
    left = [text for _, text in texts(all_printed(packet_data(check(read_job(SHEETS[name])))))]
    assert [text for text in left if re.search(r"\bin[23]\b", text)] == []


@pytest.mark.parametrize(
    ("plain", "paper"),
    [
        ("21.00 in3", "21.00 in³"),
        ("0.1330 in2 over", "0.1330 in² over"),
        ("box in3 at the stair", "box in3 at the stair"),
        ("in 3 boxes", "in 3 boxes"),
    ],
)
def test_only_a_unit_after_a_number_is_printed_otherwise(plain, paper):
    assert printed(plain) == paper


def test_counts_are_verbs_and_a_count_of_none_is_left_out():
    counts = {Verdict.FAILS: 1, Verdict.OPEN: 2, Verdict.ADVICE: 1, Verdict.PASSES: 4}
    assert counts_text(counts) == "1 fails, 2 need a check, 1 passes with advice, 4 pass"
    assert counts_text(dict.fromkeys(counts, 0) | {Verdict.PASSES: 1}) == "1 passes"
    assert counts_text(dict.fromkeys(counts, 0)) == "nothing to check"


def test_what_a_fact_settles():
    assert by_value_text([("#14", Verdict.PASSES), ("#12", Verdict.FAILS), ("#10", Verdict.FAILS)]) == (
        "#14: passes; #12, #10: fails"
    )
    assert worth_text(Decimal("2.25")) == "worth 2.25 in3; not enough by itself"
    assert worth_text(Decimal(0)) == "not enough by itself"


def test_beside_a_name_a_message_does_not_say_the_name_again():
    assert short_message("J1 is 1.50 in3 over: box fill 2.00 in3", "J1") == "1.50 in3 over: box fill 2.00 in3"
    assert short_message("J1 has nothing in it yet", "J1") == "nothing in it yet"
    assert short_message(SAYS["open"], "J1") == "box fill 11.25 to 13.50 in3, box volume not known"


def test_the_first_clause_of_a_caution():
    assert first_clause("12/2 from P has no ground: do not extend it") == "12/2 from P has no ground"


PULLED = """edition 2023
panel P
panel S
box PB1
  inside {} x 24 x 8 in
  entry R1 left
  entry R2 right
raceway R1 P > PB1 emt 3 40 ft
raceway R2 PB1 > S emt 3 40 ft
wires P > S 4 x 500 kcmil thhn through PB1 in R1 then R2
"""


@pytest.mark.parametrize(
    ("length", "headline", "listed"),
    [("24", "exactly at the limit", "exactly at the limit"), ("26", "2 in. spare", "2 in. of distance")],
)
def test_a_pull_box_is_told_of_by_the_distance_that_decides_and_not_by_its_volume(
    length: str, headline: str, listed: str
):
    """A straight pull takes 8 times 3 in.: 24 in., 314.28(A)(1)."""
    box = check(read_job(PULLED.format(length))).subjects[0]
    assert headline_text(box, headline_of(box.kind)) == headline
    assert subject_message(box, headline_of(box.kind)) == f"PB1 is {length} in. from left to right and needs 24 in."
    assert spare(box) == listed
