"""What enters a box: every conductor by color and name, and no splice that nobody wrote."""

import pytest

from ampleroom import read_job
from ampleroom.pictures.drawing import Dot, Line, Rect
from ampleroom.pictures.entering import BARE, INSIDE, REACH, SIDE, box_picture
from tests.pictures.boxes import outside, overlapping_texts
from tests.pictures.helpers import DIVIDED, example, rects, texts

MIDDLE = SIDE + INSIDE / 2


def picture(sheet, name="A"):
    job = read_job(sheet)
    return box_picture(job, job.box(name))


def conductors(drawing):
    """The lines in the color of an insulation, but for the bar."""
    return [s for s in drawing.shapes if isinstance(s, Line) and s.color and s.points[0][1] == s.points[-1][1]]


def bars(drawing):
    return [
        s for s in drawing.shapes if isinstance(s, Line) and s.color == "green" and s.points[0][0] == s.points[-1][0]
    ]


def test_every_conductor_of_a_cable_is_drawn_in_its_color_and_named():
    drawing = picture("panel P\nbox A\n  marked 30 in3\nrun P > A 14/3 nm-b circuit 7\n")
    assert [line.color for line in conductors(drawing)] == ["black", "red", "white", "bare"]
    assert {"14/3 nm-b", "from P, circuit 7", "black #14", "red #14", "white #14", "ground #14"} <= set(texts(drawing))


def test_what_comes_is_drawn_on_the_left_and_what_leaves_on_the_right():
    drawing = picture(
        "panel P\nbox A\n  marked 30 in3\nbox B\nrun P > A 14/2 nm-b\nrun A > B 12/2 nm-b\nrun A > ? 10/2 nm-b\n"
    )
    sides = {rect.x < SIDE for rect in rects(drawing, "signal")}
    assert sides == {True, False}
    (came,) = [rect for rect in rects(drawing, "signal") if rect.x < SIDE]
    assert len(rects(drawing, "signal")) == 3
    assert came.x + came.wide < SIDE
    assert {"from P", "to B", "far end not known"} <= set(texts(drawing))


def test_a_conductor_that_ends_is_drawn_to_a_dot_and_touches_no_other():
    drawing = picture("panel P\nbox A\n  marked 30 in3\nbox B\nrun P > A 14/2 nm-b\nrun A > B 14/2 nm-b\n")
    ends = [line for line in conductors(drawing) if line.color != "bare"]
    assert {line.points[1][0] for line in ends} == {SIDE + REACH, SIDE + INSIDE - REACH}
    dots = {(dot.x, dot.y) for dot in drawing.shapes if isinstance(dot, Dot)}
    assert {line.points[1] for line in ends} <= dots
    assert not [
        s for s in drawing.shapes if isinstance(s, Line) and s.points[0][0] == s.points[-1][0] and s.color != "green"
    ]


def test_grounds_are_led_to_one_bar():
    drawing = picture(
        "panel P\nbox A\n  marked 30 in3\nbox B\nrun P > A 14/2 nm-b\nrun A > B 12/2 nm-b\nrun A > ? 12/2 nm-b\n"
    )
    (bar,) = bars(drawing)
    grounds = [line for line in conductors(drawing) if line.color == "bare"]
    assert [line.points[1][0] for line in grounds] == [MIDDLE] * 3
    top, bottom = sorted(y for _, y in bar.points)
    assert all(top <= line.points[1][1] <= bottom for line in grounds)
    assert "The thick bar: grounds, joined." in " ".join(texts(drawing))


def test_an_isolated_ground_is_not_led_to_the_bar():
    drawing = picture(
        "panel P\nbox A\n  marked 30 in3\nrun P > A 12/2 nm-b, isolated ground #12\nrun A > ? 12/2 nm-b\n"
    )
    (isolated,) = [line for line in conductors(drawing) if line.color == "green"]
    assert isolated.points[1][0] == SIDE + REACH
    assert "isolated ground #12" in texts(drawing)


def test_a_side_where_nothing_enters_is_left_out():
    both = picture("panel P\nbox A\n  marked 30 in3\nrun P > A 14/2 nm-b\nrun A > ? 12/2 nm-b\n")
    one = picture("panel P\nbox A\n  marked 30 in3\nrun P > A 14/2 nm-b\n")
    assert both.wide == INSIDE + 2 * SIDE
    assert one.wide == INSIDE + SIDE + BARE


def test_one_ground_alone_needs_no_bar():
    assert bars(picture("panel P\nbox A\n  marked 30 in3\nrun P > A 12/2 nm-b\n")) == []


def test_a_ground_nobody_saw_is_dashed_and_said():
    drawing = picture("panel P\nbox A\n  marked 30 in3\nrun P > A 14/2 old\n")
    (ground,) = [line for line in conductors(drawing) if line.color == "bare"]
    assert ground.dashed
    assert "ground #14 (not seen)" in texts(drawing)


@pytest.mark.parametrize(("slack", "words"), [("", "unbroken"), (" loop 14 in", "unbroken, looped")])
def test_what_passes_unbroken_is_drawn_from_side_to_side(slack, words):
    drawing = picture(f"panel P\nbox A\n  marked 30 in3\nbox B\nrun P > B 12/2 nm-b through A{slack}\n")
    assert len(conductors(drawing)) == 3
    assert all(line.points[0][0] < SIDE and line.points[1][0] > SIDE + INSIDE for line in conductors(drawing))
    assert f"12/2 nm-b: P > B, {words}" in texts(drawing)


def test_a_run_that_ends_here_and_goes_on_is_drawn_on_both_sides():
    drawing = picture("panel P\nbox A\n  marked 30 in3\nbox B\nrun P > A > B 12/2 nm-b\n")
    assert {"from P", "to B"} <= set(texts(drawing))
    assert len(rects(drawing, "signal")) == 2


def test_many_cables_alike_are_drawn_once_with_their_number():
    drawing = picture("box A\n  marked 99 in3\nrun A > ? 20 x 12/2 nm-b\n")
    assert "20 x 12/2 nm-b" in texts(drawing)
    assert len(rects(drawing, "signal")) == 1
    assert len(rects(picture("box A\n  marked 99 in3\nrun A > ? 3 x 12/2 nm-b\n"), "signal")) == 3
    assert "? x 12/2 nm-b" in texts(picture("box A\n  marked 99 in3\nrun A > ? ? x 12/2 nm-b\n"))


def test_many_wires_alike_are_drawn_once_with_their_number():
    drawing = picture("panel P\nbox A\n  marked 99 in3\nwires P > A 23 x #12 thhn, ground #12\n")
    assert "23 x #12" in texts(drawing)
    assert len(conductors(drawing)) == 2


def test_no_box_has_more_cables_than_its_picture_tells():
    sheet = "panel P\nbox A\n  marked 400 in3\n" + "".join(
        f"run P > A {n} x 12/2 nm-b for line {n}\n" for n in range(1, 21)
    )
    drawing = picture(sheet)
    told = sum(int(text.split(" x ")[0]) for text in texts(drawing) if text.endswith("x 12/2 nm-b"))
    told += sum(text == "12/2 nm-b" for text in texts(drawing))
    assert told == sum(range(1, 21))
    assert overlapping_texts(drawing) == []


def test_all_that_is_in_the_box_is_listed():
    inside = (
        *("clamps inside", "stud", "switch #14 for the fan", "module #14 2.1 in3", "terminal block #10"),
        *("fixture wires 2 x #18", "leads 3 x #16 for control", "3 x pigtail #12", "bonding jumper #8"),
    )
    drawing = picture("box A\n  marked 99 in3\n" + "".join(f"  {line}\n" for line in inside))
    for line in inside:
        assert any(text.startswith(line.split(" for ")[0]) for text in texts(drawing)), line
    assert "3 x pigtail #12: never leaves the box" in texts(drawing)


def test_each_side_of_a_barrier_has_its_own_cables_and_its_own_things():
    drawing = picture(DIVIDED, "D")
    (barrier,) = [s for s in drawing.shapes if isinstance(s, Line) and s.thick == 3]
    edge = barrier.points[0][1]
    at = {text.text: text.y for text in drawing.shapes if hasattr(text, "text")}
    assert at["space left"] < at["switch #14 for porch"] < edge < at["space right"] < at["device #18 for chime button"]
    assert at["red #14"] < edge < at["#18"]


def test_the_description_names_all_that_comes_and_all_that_is_there():
    drawing = picture("panel P\nbox A\n  marked 30 in3\n  switch #14\nrun P > A 14/2 nm-b\n")
    assert drawing.description == "A. 14/2 nm-b from P: black #14, white #14, ground #14. In it: switch #14."
    assert picture("box A\n").description == "A. no cable is written. In it: nothing else."


@pytest.mark.parametrize("name", ["studio", "rowhouse"])
def test_no_words_stand_on_one_another_or_leave_the_page(name):
    found = example(name)
    for box in found.of("box")[:50]:
        drawing = box_picture(found.job, found.job.box(box.name))
        assert overlapping_texts(drawing) == []
        assert outside(drawing) == []
        for rect in drawing.shapes:
            if isinstance(rect, Rect):
                assert rect.y + rect.high <= drawing.high


def test_lengths_are_shown_as_on_a_tape_and_labels_as_they_stand():
    drawing = picture(
        "box A\n  marked 30 in3\n  receptacle #12 projects 1.375 in for the 1.375 in gap\n  dimmer #12 2.2 in wide\n"
    )
    said = " ".join(texts(drawing))
    assert "receptacle #12 projects 1-3/8 in for the 1.375 in gap" in said
    assert "dimmer #12 2.2 in wide" in said
