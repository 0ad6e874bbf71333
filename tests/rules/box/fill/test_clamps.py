"""All clamps inside take one allowance together, by the largest conductor in the box; clamps outside take none."""

from __future__ import annotations

from decimal import Decimal

import pytest

from tests.helpers import COMPARED, findings, in_box, line, lines, needed, report, settings, there, verdict

RULE = "box-fill-clamps"
CABLE = "run A > ? 14/2 nm-b"


def clamps(way: str, *runs: str, inside: str = "") -> str:
    return in_box(f"clamps {way}; {inside}", *(runs or (CABLE,)))


def test_clamps_inside_take_one_allowance_however_many_cables():
    found = line(clamps("inside", "run A > ? 5 x 14/2 nm-b"), rule=RULE)
    assert (found.label, found.count, found.each, found.cite) == ("Clamps inside", 1, 2, "314.16(B)(2)")
    assert found.why == "one for all of them, sized by the largest conductor in the box, #14"


def test_connectors_outside_take_nothing_and_are_said():
    found = line(clamps("outside"), rule=RULE)
    assert (found.label, found.amount) == ("Connectors outside", 0)
    assert found.why == "they clamp outside the box"


def test_no_clamps_are_no_line():
    assert lines(clamps("none"), rule=RULE) == []


@pytest.mark.parametrize(
    ("runs", "inside", "each", "largest"),
    [
        ((CABLE, "run A > ? 12/2 nm-b"), "", "2.25", "#12"),
        ((CABLE, "wires ? > ? 1 x #10 through A"), "", "2.50", "#10"),
        ((CABLE, "wires A > ? ground #8"), "", "3.00", "#8"),
        ((CABLE,), "pigtail #10", "2.50", "#10"),
        ((CABLE,), "bonding jumper #6", "5.00", "#6"),
        ((CABLE,), "fixture wires 1 x #12", "2.25", "#12"),
        ((CABLE,), "leads 1 x #12", "2.25", "#12"),
    ],
)
def test_the_largest_of_all_conductors_decides_under_a_clamp_or_not(runs, inside: str, each: str, largest: str):
    found = line(clamps("inside", *runs, inside=inside), rule=RULE)
    assert found.amount == Decimal(each)
    assert found.why.endswith(f"by the largest conductor in the box, {largest}")


def test_a_conductor_past_the_table_counts_as_its_last_row():
    found = line(clamps("inside", CABLE, "wires A > ? 1 x #2"), rule=RULE)
    assert found.amount == 5
    assert found.why.endswith("the largest conductor in the box, #2 (the table ends at #6)")


def test_a_box_of_thin_wires_only_counts_as_the_first_row():
    found = line(clamps("inside", "wires A > ? 4 x #22 class 2"), rule=RULE)
    assert found.amount == Decimal("1.50")
    assert found.why.endswith("the largest conductor in the box, #22 (taken as #18)")


def test_clamps_with_no_conductor_in_the_box_take_nothing():
    assert lines(in_box("clamps inside"), rule=RULE) == []


# ---- tabs and push-in connectors -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("way", "reading", "what"),
    [
        ("tabs", "plastic-tabs", "Spring tabs molded into the box"),
        ("push-in", "push-in-connectors", "Push-in connectors that grip inside"),
    ],
)
@pytest.mark.parametrize(("choice", "amount"), [("counted", 2), ("not-counted", 0)])
def test_tabs_and_push_in_connectors_count_as_they_are_read(way, reading, what, choice, amount):
    found = line(settings(clamps(way), reading, choice), rule=RULE)
    assert (found.label, found.amount, found.readings) == (what, amount, (reading,))
    assert (found.why == "not counted: a disputed point") is (choice == "not-counted")


def test_the_reading_of_tabs_is_not_that_of_push_in_connectors():
    assert line(settings(clamps("tabs"), "push-in-connectors", "not-counted"), rule=RULE).amount == 2


def test_clamps_inside_lean_on_no_reading():
    assert line(clamps("inside"), rule=RULE).readings == ()


# ---- assemblies that hold the termination --------------------------------------------------------------------------


@pytest.mark.parametrize("year", COMPARED)
def test_an_assembly_counts_like_a_clamp_before_2014_and_takes_off_the_room_since(year: int):
    sheet = clamps("assembly 0.8 in3")
    found = line(sheet, year, RULE)
    assert found.label == "Clamp assembly with terminations"
    if year < 2014:
        assert found.amount == 2
        assert there(sheet, year) == 100
        assert found.why == "one for all of them, sized by the largest conductor in the box, #14"
    else:
        assert found.amount == 0
        assert there(sheet, year) == Decimal("99.2")
        assert found.why == "no allowance; what stays inside is taken off the box volume"


def test_a_place_that_counts_clamps_twice_leaves_an_assembly_at_one():
    city = 'place = "Cold Harbor"\n[[box_fill.clamps]]\nfrom = 2008\ntogether = 2\n'
    for way, amount in (("inside", 4), ("assembly 0.8 in3", 2)):
        (sheet,) = report("amendments city.toml\n" + clamps(way), 2011, city).worksheets.values()
        assert [line.amount for line in sheet.lines if line.rule == RULE] == [amount]


# ---- not known -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("written", ["clamps ?", ""])
def test_clamps_nobody_saw_are_taken_as_inside_at_the_worst(written: str):
    sheet = in_box(written, CABLE, base="marked 7 in3")
    (found,) = findings(sheet)
    assert found.verdict.word == "check needed"  # 6.00 with connectors outside, 8.00 with clamps inside
    assert found.facts[0].question == "whether cables are clamped inside A"
    assert found.facts[0].swing == 2
    assert found.worst.need[-2].why.endswith("#14 (assumed: not in the sheet)")


def test_clamps_nobody_saw_do_not_matter_where_there_is_room_for_them():
    assert verdict(in_box("clamps ?", CABLE, base="marked 8 in3")) == "passes"
    assert verdict(in_box("clamps ?", CABLE, base="marked 5.99 in3")) == "fails"


def test_a_box_nobody_described_may_have_its_clamps_inside():
    (found,) = findings(in_box("", CABLE, base="stud"))
    assert [line.label for line in found.worst.need if line.rule == RULE] == ["Clamps inside"]


def test_a_box_with_no_cable_needs_no_clamp():
    assert needed(in_box("", "wires A > ? 2 x #14")) == 4


def test_a_conduit_body_has_no_clamps():
    sheet = in_box("", CABLE, base="conduit body lb 3/4 marked 6 in3")
    assert lines(sheet, rule=RULE) == []
    assert verdict(sheet) == "passes"


def test_clamps_count_once_in_each_space():
    sheet = in_box(
        "barrier metal; space left 1/2; clamps inside; space right 1/2; clamps inside", "run A/left > ? 14/2 nm-b"
    )
    sheet += "run A/right > ? 12/2 nm-b\n"
    assert [found.amount for found in lines(sheet, rule=RULE)] == [2, Decimal("2.25")]
