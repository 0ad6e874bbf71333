"""The box itself: by the standard table, by its marking, measured inside, or not known."""

from __future__ import annotations

from decimal import Decimal

import pytest

from tests.helpers import findings, in_box, line, lines, there, verdict

STANDARD, MARKED = "box-room-standard", "box-room-marked"
TWO_14 = "wires A > ? 2 x #14"


@pytest.mark.parametrize(
    ("base", "room", "what"),
    [
        ("square 4 x 1-1/2", "21.0", "Square box 4 x 1-1/2"),
        ("octagon 4 x 2-1/8", "21.5", "Octagon box 4 x 2-1/8"),
        ("round 4 x 1-1/4", "12.5", "Octagon box 4 x 1-1/4"),
        ("device 3 x 2 x 2-3/4", "14.0", "Device box 3 x 2 x 2-3/4"),
        ("masonry 3-3/4 x 2 x 3-1/2", "21.0", "Masonry box 3-3/4 x 2 x 3-1/2"),
        ("fs single cover", "13.5", "FS box single cover"),
        ("fd multiple cover", "24.0", "FD box multiple cover"),
    ],
)
def test_a_standard_box_has_the_tables_volume(base: str, room: str, what: str):
    found = line(in_box(base=base), rule=STANDARD)
    assert (found.label, found.amount, found.cite) == (what, Decimal(room), "Table 314.16(A)")
    assert found.why in ("volume from the table", "volume from the table, per gang")


@pytest.mark.parametrize(
    ("base", "room", "why"),
    [
        ("device 3 x 2 x 2-3/4 3 ganged", 42, "volume from the table, for each of 3 boxes ganged together"),
        ("device 3 x 2 x 2-3/4 2 ganged", 28, "volume from the table, for each of 2 boxes ganged together"),
        ("masonry 3-3/4 x 2 x 2-1/2 2-gang", 28, "volume from the table, for each of 2 gangs"),
        ("masonry 3-3/4 x 2 x 2-1/2 1-gang", 14, "volume from the table, per gang"),
        ("fs multiple cover 3-gang", 54, "volume from the table, for each of 3 gangs"),
    ],
)
def test_boxes_ganged_together_and_gangs_of_masonry_boxes_add_up(base: str, room: int, why: str):
    found = line(in_box(base=base), rule=STANDARD)
    assert (found.amount, found.why) == (room, why)


def test_gangs_of_a_box_that_counts_whole_do_not_add_up():
    assert there(in_box(base="square 4-11/16 x 2-1/8 2-gang")) == 42


def test_a_marking_decides_over_the_table():
    found = line(in_box(base="square 4 x 1-1/2 marked 22.5 in3"))
    assert (found.rule, found.amount, found.cite) == (MARKED, Decimal("22.5"), "314.16(A)")
    assert found.why == "its marking, in place of the table's 21.00 in3"


@pytest.mark.parametrize(("number", "room"), [(2, "29.0"), (3, "43.5")])
def test_a_marking_of_boxes_ganged_together_counts_for_each(number: int, room: str):
    found = line(in_box(base=f"device 3 x 2 x 2-3/4 {number} ganged marked 14.5 in3"))
    assert found.amount == Decimal(room)
    assert found.why == f"its marking, in place of the table's 14.00 in3, for each of {number} boxes ganged together"


def test_the_marking_of_a_box_of_two_gangs_is_that_of_the_whole_box():
    found = line(in_box(base="masonry 3-3/4 x 2 x 3-1/2 2-gang marked 40 in3"))
    assert (found.amount, found.why) == (40, "its marking, in place of the table's 21.00 in3 a gang")


def test_a_nonmetallic_box_of_a_standard_size_has_no_room_until_its_marking_is_read():
    (found,) = findings(in_box("", TWO_14, base="square 4 x 1-1/2 plastic"))
    assert found.verdict.word == "check needed"
    assert found.worst.have[0].why == "its marking has not been read; a nonmetallic box counts by nothing else"


def test_a_row_read_in_one_reprint_says_so():
    assert line(in_box(base="device 4 x 2-1/8 x 1-1/2")).confidence == "one source"
    assert line(in_box(base="square 4 x 1-1/2")).confidence == "two sources"


def test_a_box_of_unknown_depth_is_the_smallest_at_the_worst_and_the_largest_at_the_best():
    sheet = in_box("", "wires A > ? 9 x #14", base="square 4 x ?")  # 18.00; 18.0 at 1-1/4, 30.3 at 2-1/8
    assert verdict(sheet) == "passes"
    (found,) = findings(in_box("", "wires A > ? 10 x #14", base="square 4 x ?"))
    assert found.verdict.word == "check needed"
    assert found.facts[0].question == "how deep A is: square 4"
    assert found.worst.have[0].why == "volume from the table, assumed depth"
    assert verdict(in_box("", "wires A > ? 16 x #14", base="square 4 x ?")) == "fails"


def test_only_boxes_of_that_face_are_thought_of():
    assert verdict(in_box("", "wires A > ? 12 x #14", base="square 4-11/16 x ?")) == "passes"  # 24.00 in at least 25.5


def test_a_cast_box_of_unknown_cover_is_single_at_the_worst():
    assert verdict(in_box("", "wires A > ? 6 x #14", base="fs ?")) == "passes"  # 12.00 in 13.5
    (found,) = findings(in_box("", "wires A > ? 7 x #14", base="fs ?"))  # 14.00 in 13.5 or 18.0
    assert found.verdict.word == "check needed"
    assert found.facts[0].question == "which cover A has, single or multiple"


# ---- marked --------------------------------------------------------------------------------------------------------


def test_a_marked_box_has_what_is_marked_in_it():
    found = line(in_box(base="marked 20.3 in3 plastic 1-gang"), rule=MARKED)
    assert (found.label, found.amount, found.why) == ("Marked box", Decimal("20.3"), "the volume marked in it")
    assert found.cite == "314.16(A)"


def test_marked_boxes_joined_count_for_each():
    found = line(in_box(base="marked 12.5 in3 2 ganged"), rule=MARKED)
    assert (found.amount, found.why) == (25, "the volume marked in it, for each of 2 joined")


def test_a_marking_in_cubic_centimeters_is_rounded_down():
    # 344 / 16.387064 = 20.99216...
    assert there(in_box(base="marked 344 cm3")) == Decimal("20.9921")


def test_a_conduit_body_has_what_is_marked_on_it():
    found = line(in_box("", "wires A > ? 2 x #12", base="conduit body lb 3/4 marked 7 in3"), rule=MARKED)
    assert (found.label, found.amount) == ("Conduit body", 7)


def test_a_conduit_body_that_nobody_marked_has_no_room_to_weigh():
    assert lines(in_box("", "wires ? > ? 2 x #12 through A", base="conduit body lb 3/4")) == []


@pytest.mark.parametrize(
    ("base", "what", "why", "question"),
    [
        ("marked ? in3", "Marked box", "its marking has not been read", "the volume marked in A"),
        (
            "unmarked plastic",
            *("Box with no marking", "not known"),
            "the volume of A: no marking was found, so ask the authority or put in a box that is marked",
        ),
        ("stud", "Box", "not known", "which box A is, or the volume marked in it"),
    ],
)
def test_a_box_of_unknown_room_has_none_at_the_worst_and_says_what_to_find_out(base, what, why, question):
    (found,) = findings(in_box("", TWO_14, base=base))
    assert found.verdict.word == "check needed"
    assert (found.worst.have[0].label, found.worst.have[0].amount, found.worst.have[0].why) == (what, 0, why)
    assert found.worst.have[0].count == 1
    assert found.facts[0].question == question


def test_a_box_of_unknown_room_passes_from_the_volume_it_needs_on():
    (found,) = findings(in_box("", TWO_14, base="marked ? in3"))
    assert found.facts[0].settles == "passes if 4.00 in3 or more"


# ---- measured ------------------------------------------------------------------------------------------------------


def test_a_box_of_more_than_100_in3_is_measured_inside():
    found = line(in_box(base="inside 12 x 12 x 6 in"), rule=MARKED)
    assert (found.label, found.amount) == ("Box measured inside", 864)
    assert found.why == "inside 12 x 12 x 6 in."
    assert (found.cite, found.confidence) == ("314.16(A); no method is printed", "from memory")


@pytest.mark.parametrize("number", [2, 3])
def test_measured_boxes_joined_count_for_each(number: int):
    found = line(in_box(base=f"inside 12 x 12 x 6 in {number} ganged"), rule=MARKED)
    assert (found.amount, found.why) == (864 * number, f"inside 12 x 12 x 6 in., for each of {number} joined")


@pytest.mark.parametrize(
    ("base", "word"), [("inside 10 x 10 x 1 in", "check needed"), ("inside 10 x 10.1 x 1 in", "passes")]
)
def test_a_measured_box_of_100_in3_or_less_is_credited_nothing(base: str, word: str):
    assert verdict(in_box("", TWO_14, base=base)) == word


def test_length_width_and_depth_are_multiplied():
    assert there(in_box(base="inside 12 x 10 x 6 in")) == 720


def test_a_small_measured_box_says_that_it_must_be_marked():
    (found,) = findings(in_box("", TWO_14, base="inside 4 x 4 x 2 in"))
    assert (found.worst.have[0].label, found.worst.have[0].count) == ("Box measured inside", 1)
    assert found.worst.have[0].why == (
        "inside 4 x 4 x 2 in.: a box of 100 in3 or less must carry its maker's marking, so this credits nothing"
    )
    assert found.facts[0].question == "the volume marked in A: measured inside, a box this small is not credited"


def test_a_box_has_one_line_of_room():
    for base in ("square 4 x 1-1/2", "marked 20 in3", "inside 12 x 12 x 6 in"):
        assert [found.rule for found in lines(in_box(base=base))] in ([STANDARD], [MARKED])


def test_a_box_of_unknown_room_with_cables_nobody_counted_needs_a_check():
    assert verdict(in_box("clamps none", "run A > ? ? x 12/2 nm-b", base="marked ? in3")) == "check needed"


@pytest.mark.parametrize(
    ("base", "room", "why"),
    [
        ("inside 4 x 4 x 2 in marked 30 in3", 30, "the volume marked in it overrides its size"),
        ("inside 12 x 12 x 6 in marked 700 in3", 700, "the volume marked in it overrides its size"),
        ("inside 12 x 12 x 6 in marked ? in3", 0, "its marking has not been read"),
    ],
)
def test_a_box_that_was_measured_and_is_marked_counts_by_its_marking(base: str, room: int, why: str):
    found = findings(in_box("", TWO_14, base=base))[0].worst.have[0]
    assert (found.label, found.amount, found.why) == ("Marked box", room, why)


def test_a_large_nonmetallic_box_is_not_credited_by_its_measures():
    (found,) = findings(in_box("", TWO_14, base="inside 12 x 12 x 6 in plastic"))
    assert found.verdict.word == "check needed"
    assert found.worst.have[0].why == (
        "inside 12 x 12 x 6 in.: a nonmetallic box must carry its maker's marking, so this credits nothing"
    )
    assert found.facts[0].question == "the volume marked in A: a nonmetallic box counts by its marking alone"


def test_a_standard_box_of_which_nobody_read_the_marking_says_so():
    (found,) = findings(in_box("", TWO_14, base="square 4 x 1-1/2 marked ? in3"))
    assert found.verdict.word == "check needed"
    assert found.worst.have[0].why == "its marking has not been read"
