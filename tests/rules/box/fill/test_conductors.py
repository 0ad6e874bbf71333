"""Conductors from outside count by their own size; once, or twice with a long loop; never if they stay inside."""

from __future__ import annotations

from decimal import Decimal

import pytest

from tests.helpers import findings, in_box, line, lines, needed, report, settings, verdict

RULE = "box-fill-conductors"


@pytest.mark.parametrize(
    ("size", "room"),
    [("18", "1.50"), ("16", "1.75"), ("14", "2.00"), ("12", "2.25"), ("10", "2.50"), ("8", "3.00"), ("6", "5.00")],
)
def test_a_conductor_that_ends_here_takes_the_allowance_of_its_size(size: str, room: str):
    assert needed(in_box("", f"wires A > ? 1 x #{size}")) == Decimal(room)


def test_each_insulated_conductor_of_a_cable_counts_and_its_ground_does_not_count_here():
    found = line(in_box("clamps none", "run A > ? 12/3 nm-b"), rule=RULE)
    assert (found.label, found.count, found.each) == ("Spliced or terminated here, #12", 3, Decimal("2.25"))
    assert found.cite == "314.16(B)(1)"


def test_cables_alike_are_multiplied_and_named_with_their_number():
    found = line(in_box("clamps none", "panel P", "run P > A 2 x 14/2 nm-b", "run A > ? 14/3 nm-b"), rule=RULE)
    assert found.amount == 14  # (2 x 2 + 3) x 2.00
    assert found.why == "4 of 14/2 nm-b from P; 3 of 14/3 nm-b (other end not known)"


def test_a_run_names_the_place_it_goes_to():
    sheet = in_box("", "equipment K1", "wires A > K1 2 x #12 thhn, 1 x #10 thhn")
    assert lines(sheet, rule=RULE)[1].why == "2 x #12 to K1"


def test_a_run_that_goes_on_from_here_ends_here_twice():
    sheet = in_box("clamps none", "panel P", "equipment K1", "run P > A > K1 12/2 nm-b")
    assert line(sheet, rule=RULE).amount == 9  # 2 in and 2 out, 4 x 2.25


def test_a_run_begins_and_ends_in_its_places_once():
    sheet = in_box("clamps none", "panel P", "equipment K1", "run A > K1 > P 12/2 nm-b")
    assert line(sheet, rule=RULE).amount == Decimal("4.50")


def test_sizes_stand_apart_the_thickest_first():
    found = lines(in_box("", "wires A > ? 1 x #14, 1 x #10, 1 x #12"), rule=RULE)
    assert [line.label[-3:] for line in found] == ["#10", "#12", "#14"]


def test_what_ends_stands_before_what_passes_and_what_loops():
    sheet = in_box(
        "", "wires A > ? 1 x #14", "wires ? > ? 1 x #12 through A", "wires ? > ? 1 x #10 through A loop 12 in"
    )
    assert [found.label for found in lines(sheet, rule=RULE)] == [
        "Spliced or terminated here, #14",
        "Passing through unbroken, #12",
        "Passing through with a long loop, #10",
    ]


# ---- loops ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("passes", "room"),
    [
        ("through A", "2.25"),
        ("through A straight", "2.25"),
        ("through A loop 11.99 in", "2.25"),
        ("through A loop 12 in", "4.50"),
        ("through A loop 1 ft", "4.50"),
        ("through A coil 30 in", "4.50"),
    ],
)
def test_a_loop_of_twice_the_free_length_counts_twice_and_a_shorter_one_once(passes: str, room: str):
    assert needed(in_box("", f"wires ? > ? 1 x #12 {passes}")) == Decimal(room)


def test_a_line_on_loops_says_that_each_counts_twice():
    found = line(in_box("", "wires ? > ? 3 x #12 through A loop 14 in"), rule=RULE)
    assert found.count == 6
    assert found.why == "3 x #12 passing on ? > ?; each counts 2 times"
    assert found.readings == ()


@pytest.mark.parametrize("slack", ["loop", "landed"])
@pytest.mark.parametrize(("choice", "room"), [("twice", "4.50"), ("once", "2.25")])
def test_slack_nobody_measured_counts_as_it_is_read(slack: str, choice: str, room: str):
    sheet = settings(in_box("", f"wires ? > ? 1 x #12 through A {slack}"), "unmeasured-loop", choice)
    found = line(sheet, rule=RULE)
    assert found.amount == Decimal(room)
    assert found.readings == ("unmeasured-loop",)
    twice = "; each counts 2 times" if choice == "twice" else ""
    assert found.why == f"1 x #12 passing on ? > ?{twice}; slack that was not measured, or lands on a terminal"


def test_a_loop_of_unknown_length_counts_twice_at_the_worst_and_once_at_the_best():
    (found,) = findings(in_box("", "wires ? > ? 1 x #12 through A loop ?", base="marked 4 in3"))
    assert (found.worst.needed, found.best.needed) == (Decimal("4.50"), Decimal("2.25"))
    assert found.verdict.word == "check needed"
    assert found.facts[0].question == "how long the loop is that passes A"


# square 4 x 2-1/8 and a ring of 4 x 1-1/2 are 3-5/8 deep; with 3 in. outside that is 6-5/8, twice that 13-1/4
DEEP = ("extension ring square 4 x 1-1/2", "square 4 x 2-1/8")


@pytest.mark.parametrize(
    ("choice", "loop", "room"),
    [
        ("twelve-inches", "13.24 in", "4.50"),
        ("by-depth", "13.24 in", "2.25"),
        ("by-depth", "13.25 in", "4.50"),
    ],
)
def test_a_deep_box_calls_for_a_longer_loop_only_if_it_is_read_so(choice: str, loop: str, room: str):
    sheet = in_box(DEEP[0], f"wires ? > ? 1 x #12 through A loop {loop}", base=DEEP[1])
    assert needed(settings(sheet, "loop-threshold", choice)) == Decimal(room)


@pytest.mark.parametrize(
    ("loop", "disputed"), [("11.99 in", False), ("12 in", True), ("13.24 in", True), ("13.25 in", False)]
)
@pytest.mark.parametrize("choice", ["twelve-inches", "by-depth"])
def test_only_between_the_two_lengths_does_it_lean_on_how_that_is_read(choice: str, loop: str, disputed: bool):
    sheet = in_box(DEEP[0], f"wires ? > ? 1 x #12 through A loop {loop}", base=DEEP[1])
    found = line(settings(sheet, "loop-threshold", choice), rule=RULE)
    assert found.readings == (("loop-threshold",) if disputed else ())


@pytest.mark.parametrize("base", ["square 4 x 1-1/2", "marked 100 in3", "mounted surface"])
def test_a_shallow_box_or_one_of_unknown_depth_keeps_the_twelve_inches(base: str):
    sheet = in_box("", "wires ? > ? 1 x #12 through A loop 12 in", base=base)
    assert needed(settings(sheet, "loop-threshold", "by-depth")) == Decimal("4.50")


# ---- outside the table ---------------------------------------------------------------------------------------------


def test_pigtails_take_nothing_and_are_said():
    found = line(in_box("3 x pigtail #12"), rule=RULE)
    assert (found.amount, found.each) == (0, Decimal("2.25"))
    assert found.label == "Pigtails that never leave the box, #12"
    assert found.why == "3 in all; no part of them comes from outside"


def test_ground_pigtails_are_no_line_of_conductors():
    assert lines(in_box("2 x pigtail #12 ground"), rule=RULE) == []


def test_a_thick_pigtail_takes_nothing_either():
    assert line(in_box("pigtail #4"), rule=RULE).each == 0


def test_four_gauge_and_larger_have_no_allowance_and_belong_to_pull_boxes():
    found = line(in_box("", "wires A > ? 3 x #4 thhn"), rule=RULE)
    assert found.label == "Spliced or terminated here, #4"
    assert (found.count, found.each, found.cite) == (3, 0, "314.28")
    assert found.why.startswith("no allowance; pull-box distances apply: 3 x #4")


def test_six_gauge_is_the_last_with_an_allowance():
    assert needed(in_box("", "wires A > ? 3 x #6 thhn")) == 15


def test_a_wire_thinner_than_the_table_counts_as_its_first_row():
    found = line(in_box("", "wires A > ? 2 x #20"), rule=RULE)
    assert found.amount == 3  # 2 x 1.50
    assert found.why == "2 x #20 (other end not known); the table begins at #18"


def test_low_voltage_wires_are_no_line_of_conductors():
    assert lines(in_box("", "wires A > ? 2 x #18 class 2"), rule=RULE) == []


def test_a_place_that_sends_6_awg_to_pull_boxes_too_leaves_it_its_allowance():
    sheet = "amendments city.toml\n" + in_box("", "wires A > ? 1 x #6 thhn")
    city = 'place = "Cold Harbor"\n[[reminders.pull_box]]\nfrom = 2008\nfrom_size = "6"\n'
    (found,) = report(sheet, 2020, city).worksheets.values()
    assert found.needed == 5


# ---- not known -----------------------------------------------------------------------------------------------------


def test_a_number_nobody_counted_keeps_the_box_open_and_says_how_many_would_pass():
    sheet = in_box("", "wires A > ? ? x #12", base="marked 10 in3")
    (found,) = findings(sheet)
    assert found.verdict.word == "check needed"
    assert found.facts[0].question == "how many #12 come in"
    assert found.facts[0].settles == "passes with 4 or fewer"  # 4 x 2.25 = 9.00
    assert found.best.needed == 0


def test_a_cable_of_unknown_size_is_judged_by_the_thinnest_and_the_thickest_there_is():
    # 14/2 has 3 x 2.00 with its ground; 6/2 at most 3 x 5.00, its ground taken no thinner than its conductors
    assert verdict(in_box("clamps none", "run A > ? ?/2 nm-b", base="marked 15 in3")) == "passes"
    assert verdict(in_box("clamps none", "run A > ? ?/2 nm-b", base="marked 6 in3")) == "check needed"
    assert verdict(in_box("clamps none", "run A > ? ?/2 nm-b", base="marked 5.99 in3")) == "fails"


def test_the_thickest_cable_thought_of_is_one_that_has_allowances():
    # 4/3 has none; 6/3 has 3 x 5.00, and 2.50 for its #10 ground
    assert verdict(in_box("clamps none", "run A > ? ?/3 nm-b", base="marked 17.5 in3")) == "passes"
    assert verdict(in_box("clamps none", "run A > ? ?/3 nm-b", base="marked 17.49 in3")) == "check needed"


def test_cables_nobody_counted_are_one_at_the_best():
    (found,) = findings(in_box("clamps none", "run A > ? ? x 14/2 nm-b", base="marked 6 in3"))
    assert (found.best.needed, found.verdict.word) == (6, "check needed")  # 2 x 2.00 and the ground


def test_wires_of_unknown_size_may_be_anything_the_table_has():
    assert verdict(in_box("", "wires A > ? 2 x #?", base="marked 10 in3")) == "passes"  # 2 x 5.00
    assert verdict(in_box("", "wires A > ? 2 x #?", base="marked 3 in3")) == "check needed"  # 2 x 1.50
    assert verdict(in_box("", "wires A > ? 2 x #?", base="marked 2.99 in3")) == "fails"


def test_thick_wires_nobody_counted_take_no_room_and_leave_the_box_open():
    assert verdict(in_box("", "wires A > ? ? x #4 thhn")) == "check needed"


@pytest.mark.parametrize(("inside", "room"), [("8 x 8 x 6", "4.50"), ("7.9 x 12 x 6", "2.25")])
def test_depth_matters_to_a_loop_only_under_an_opening_of_less_than_eight_inches(inside: str, room: str):
    # 6 in. deep and 3 in. outside: 9, so a loop would have to be 18 in. long
    sheet = in_box("", "wires ? > ? 1 x #12 through A loop 17 in", base=f"inside {inside} in")
    assert needed(settings(sheet, "loop-threshold", "by-depth")) == Decimal(room)
