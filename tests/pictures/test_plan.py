"""The picture of a pull box from its cover: to scale, with everything named, and none where it would be a guess."""

from __future__ import annotations

import pytest

from ampleroom.check import check
from ampleroom.job import read_job
from ampleroom.pictures.drawing import Line, Rect, Text
from ampleroom.pictures.kinds import beside, rooms
from ampleroom.pictures.plan import LONGEST, plan

SHEET = """\
edition 2020
panel P
equipment K1
box PB1
  inside 24 x 18 x 6 in
  entry R1 left
  entry R2 top
  entry R3 rear
  apart R1 R2 17 in
raceway R1 P > PB1 emt 3
raceway R2 PB1 > K1 emt 2
raceway R3 P > PB1 emt 1
wires P > K1 3 x #2/0 thhn through PB1 in R1, R2
wires P > PB1 3 x #12 thhn in R3
"""


def drawn(sheet: str = SHEET):
    report = check(read_job(sheet))
    subject = next(subject for subject in report.subjects if subject.name == "PB1")
    return plan(report, subject)


def test_the_box_and_its_raceways_are_drawn_to_one_scale():
    drawing = drawn()
    box, *raceways = [shape for shape in drawing.shapes if isinstance(shape, Rect)]
    scale = LONGEST / 24
    assert (box.wide, box.high) == (24 * scale, 18 * scale)
    assert [shape.high for shape in raceways[:1]] == [3 * scale]  # R1 in the left wall
    assert [shape.wide for shape in raceways[1:]] == [2 * scale, 1 * scale]  # R2 in the top wall, R3 in the back


def test_every_raceway_and_every_distance_is_named():
    words = [shape.text for shape in drawn().shapes if isinstance(shape, Text)]
    assert {"R1, 3 in.", "R2, 2 in.", "R3, 1 in., in the back", "24 in.", "18 in."} <= set(words)
    assert "o Inside, from left to right: 24 in., 18 in. needed" in words
    assert "X R1 to R2, edge to edge: 17 in., 18 in. needed" in words


def test_a_pull_is_led_from_raceway_to_raceway_and_a_splice_is_dashed():
    def pulls(sheet: str) -> list[Line]:
        return [shape for shape in drawn(sheet).shapes if isinstance(shape, Line) and shape.thick == 3]

    (pull,) = pulls(SHEET)
    assert len(pull.points) == 3
    assert not pull.dashed
    (splice,) = pulls(SHEET.replace("P > K1 3 x #2/0 thhn through PB1", "P > PB1 > K1 3 x #2/0 thhn"))
    assert splice.dashed


def test_it_is_told_in_words_too():
    said = drawn().description
    assert said.startswith("PB1, 24 in. from left to right and 18 in. from top to bottom. R1, 3 in., left wall;")
    assert "Pulled: R1 to R2." in said


def test_the_room_of_a_pull_box_is_drawn_only_where_it_is_filled():
    def whats(sheet: str) -> list[str]:
        report = check(read_job(sheet))
        return [finding.rule for finding in rooms(next(each for each in report.subjects if each.name == "PB1"))]

    assert whats(SHEET) == []  # three #12 that stop in it, of 2,592 in3
    assert whats(SHEET.replace("3 x #12", "120 x #12")) == ["box-fill"]  # 270 in3 are more than a tenth
    assert whats(SHEET.replace("#2/0", "#6")) == ["box-fill"]  # not a pull box
    assert whats(SHEET.replace("  inside 24 x 18 x 6 in\n", "")) == ["box-fill"]  # no volume known


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("  inside 24 x 18 x 6 in\n", "  marked 900 in3\n"),
        ("  entry R2 top\n", ""),
        ("#2/0", "#6"),
    ],
)
def test_where_it_would_be_a_guess_nothing_is_drawn(old: str, new: str):
    assert drawn(SHEET.replace(old, new)) is None


def test_the_box_shows_it_beside_what_enters():
    report = check(read_job(SHEET))
    subject = next(subject for subject in report.subjects if subject.name == "PB1")
    assert [drawing.title for drawing in beside(report, subject)] == ["What enters PB1", "PB1 from its cover"]


def test_a_side_that_nothing_asks_for_is_drawn_as_long_as_it_is():
    # a straight pull asks for 8 x 2 = 16 in. from left to right and for nothing from top to bottom
    drawing = drawn(
        "edition 2020\npanel P\nequipment K1\nbox PB1\n  inside 16 x 12 x 6 in\n  entry R1 left\n  entry R2 right\n"
        "raceway R1 P > PB1 emt 2\nraceway R2 PB1 > K1 emt 2\nwires P > K1 3 x #1/0 thhn through PB1 in R1, R2\n"
    )
    box = next(shape for shape in drawing.shapes if isinstance(shape, Rect))
    assert (box.wide, box.high) == (LONGEST, LONGEST * 12 / 16)
    assert "12 in." in [shape.text for shape in drawing.shapes if isinstance(shape, Text)]
