"""Conduit bodies with conductors of 4 AWG and larger: by their marking, else by the distances of a pull box."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ampleroom import Verdict
from tests.helpers import EDITION, finding, findings, in_box, verdict

RULE = "conduit-body-large"
# Areas in in2, Chapter 9 Table 5: 4/0 AWG XHHW 0.3197, THHN 0.3237; 1/0 AWG XHHW 0.1825, THHN 0.1855; #4 THHN 0.0824.


def body(wires: str, base: str = "lb 3 on rmc", under: str = "marked for 3 x #4/0") -> str:
    return in_box(under, f"wires ? > ? {wires} through A", base=f"conduit body {base}")


def word(sheet: str, year: int = EDITION) -> str:
    worst: Verdict = max(each.verdict for each in findings(sheet, year, rule=RULE))
    return worst.word


# ---- by the marking -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("wires", "before", "since"),
    [
        ("3 x #4/0 xhhw", "passes", "passes"),  # as marked
        ("2 x #2/0 xhhw", "passes", "passes"),  # fewer and thinner
        ("4 x #1/0 xhhw", "check needed", "passes"),  # 0.7300 of 0.9591
        ("3 x #4/0 xhhw, ground #4 bare", "check needed", "check needed"),  # 4; 0.9591 + 0.042 = 1.0011
        ("2 x 250 kcmil xhhw", "check needed", "passes"),  # thicker than marked; 2 x 0.3904
        ("3 x 250 kcmil xhhw", "check needed", "check needed"),  # 1.1712
    ],
)
def test_before_2017_only_the_number_and_size_marked_and_since_then_their_area_too(wires: str, before: str, since: str):
    # "Change 314.28(A)(3)", trade forum; the areas by hand
    assert [word(body(wires), year) for year in (2008, 2011, 2014)] == [before] * 3
    assert [word(body(wires), year) for year in (2017, 2020, 2023)] == [since] * 3


def test_what_the_marked_ones_take_is_the_worksheet():
    found = finding(body("4 x #1/0 xhhw"), 2020, rule=RULE)
    assert found.worst is not None
    assert (found.worst.there, found.worst.needed) == (Decimal("0.9591"), Decimal("0.7300"))
    assert found.cite == "314.28(A)(3)"
    assert found.message == "A is marked for 3 x #4/0: its conductors take 0.73 in2, the marked ones 0.9591 in2"


def test_thicker_insulation_than_marked_is_a_reading():
    sheet = body("3 x #4/0 thhn")  # 0.9711 of 0.9591
    assert word(sheet) == "check needed"
    assert findings(sheet, rule=RULE)[0].readings == ("marked-insulation",)
    assert word("reading marked-insulation size-alone\n" + sheet) == "passes"


def test_a_marking_that_names_its_insulation_is_taken_at_its_word():
    assert word(body("3 x #4/0 thhn", under="marked for 3 x #4/0 thhn")) == "passes"


def test_conductors_that_fill_the_raceway_are_not_covered():
    # 1-1/4 in. RMC, 40 %: 0.610; 3 x 0.1825 = 0.5475 stay below, 4 do not
    base, under = "lb 1-1/4 on rmc", "marked for 4 x #1/0"
    assert word(body("3 x #1/0 xhhw", base, under)) == "passes"
    found = findings(body("4 x #1/0 xhhw", base, under), rule=RULE)[0]
    assert found.verdict.word == "check needed"
    assert "nothing spare in the raceway" in found.message


def test_without_its_raceway_a_marking_is_not_a_pass():
    found = finding(body("3 x #4/0 xhhw", "lb 3"), rule=RULE)
    assert found.verdict.word == "check needed"
    assert found.facts[0].question == "the kind of raceway A is on"


def test_the_raceways_of_its_runs_are_as_good_as_the_one_its_line_names():
    sheet = "panel P\npanel Q\nbox A\n  conduit body lb 3\n  marked for 3 x #4/0\nraceway R1 P > A rmc 3\n"
    sheet += "raceway R2 A > Q rmc 3\nwires P > Q 3 x #4/0 xhhw through A in R1, R2\n"
    assert verdict(sheet) == "passes"


@pytest.mark.parametrize("under", ["", "marked for ?"])
def test_a_marking_that_is_not_known_is_asked_with_what_it_has_to_say(under: str):
    found = finding(body("3 x #4/0 xhhw", under=under), rule=RULE)
    assert found.verdict.word == "check needed"
    assert found.facts[0].question == "the number and size of conductors marked in A"
    assert found.facts[0].settles.startswith("passes if it is listed and marked for 3 conductors up to #4/0, or more")
    assert found.facts[1].settles.startswith(
        "passes with 18 in. from left to right, 4 in. from the back to the cover and 18 in. between its hubs"
    )


def test_of_several_markings_one_is_enough():
    assert word(body("3 x #4/0 xhhw", under="marked for 2 x 250 kcmil\n  marked for 3 x #4/0")) == "passes"


def test_one_marking_that_is_not_read_may_still_cover():
    assert word(body("3 x #4/0 xhhw", under="marked for 1 x #4\n  marked for ?")) == "check needed"


def test_both_sides_of_a_splice_count():
    sheet = "panel P\npanel Q\nbox A\n  conduit body lb 3 on rmc marked 200 in3\n  marked for {} x #4/0\n"
    sheet += "wires P > A > Q 3 x #4/0 xhhw\n"
    assert word(sheet.format(5)) == "check needed"
    assert word(sheet.format(6)) == "passes"


def test_a_cable_goes_by_its_area_alone():
    run = "run ? > ? 4/3 nm-b through A\n"
    sheet = "edition 2020\nbox A\n  conduit body lb 3 on rmc\n  marked for 3 x 500 kcmil\n"
    assert word(sheet + run) == "passes"
    assert "cable" in findings("edition 2014\n" + sheet.partition("\n")[2] + run, 2014, rule=RULE)[0].message


def test_an_unknown_ground_is_tried_bare_and_as_thick_as_it_may_be():
    # the marked ones take 0.3296 in2; 3 x 0.0824 with a #10 of at most 0.0437 take less, with a #6 of 0.1041 more
    under = "marked for 4 x #4 thhn"
    assert word(body("3 x #4 thhn, ground #10", "lb 2 on rmc", under)) == "passes"
    assert word(body("3 x #4 thhn, ground #6", "lb 2 on rmc", under)) == "check needed"


def test_a_count_nobody_knows_is_asked():
    assert word(body("? x #4/0 xhhw")) == "check needed"


def test_sizes_nobody_read_never_pass_by_a_marking():
    assert word(body("3 x #4/0 xhhw", under="marked for 9 x 500 kcmil")) == "passes"
    assert word(body("3 x #4/0 xhhw, 1 x #? xhhw", under="marked for 9 x 500 kcmil")) == "check needed"


# ---- by the distances -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("long", "expected"), [("16", "passes"), ("15-63/64", "fails"), ("24", "passes")])
def test_straight_through_a_c_of_2_in_needs_16_in(long: str, expected: str):
    # EC&M, Quizzes on the Code (J. Stallcup column), about 2000: 8 x 2
    assert word(body("3 x #1/0 thhn", f"c 2 on emt inside {long} x 4 x 4 in", "marked for none")) == expected


def test_too_short_a_body_may_still_be_marked():
    sheet = "c 2 on emt inside 12 x 4 x 4 in"
    assert word(body("3 x #1/0 thhn", sheet, "")) == "check needed"
    assert word(body("3 x #1/0 thhn", sheet, "marked for 3 x #1/0 thhn")) == "passes"
    assert word(body("3 x #1/0 thhn", sheet, "marked for 1 x #4")) == "fails"


LB = """\
panel P
panel Q
box A
  conduit body {base}
  marked for none
  apart R1 R2 {apart} in
raceway R1 P > A emt 2
raceway R2 A > Q emt 2
wires P > Q 3 x 250 kcmil thhn through A in R1, R2
"""


@pytest.mark.parametrize(
    ("base", "apart", "expected"),
    [
        ("lb 2 on emt inside 12 x 4 x 4-1/2 in", "12", "passes"),  # 6 x 2; 250 kcmil bends in 4-1/2 in.
        ("lb 2 on emt inside 11-7/8 x 4 x 4-1/2 in", "12", "fails"),
        ("lb 2 on emt inside 12 x 4 x 4-7/16 in", "12", "fails"),
        ("lb 2 on emt inside 12 x 4 x 4-1/2 in", "11-7/8", "fails"),
        ("lb 2 on emt inside 12 x 4 x 4-1/2 in", "?", "check needed"),
        ("lb 2 on emt inside 12 x 4 x 4-1/2 in", "30", "check needed"),  # no two places in it are so far apart
        ("ll 2 on emt inside 12 x 12 x 4 in", "12", "passes"),
        ("lr 2 on emt inside 12 x 11-7/8 x 4 in", "12", "fails"),
        ("t 2 on emt inside 30 x 30 x 30 in", "12", "check needed"),  # which way through it, its type does not say
    ],
)
def test_a_turn_needs_6_times_the_trade_size_and_behind_the_back_hub_the_bending_space(base, apart, expected):
    assert word(LB.format(base=base, apart=apart)) == expected


HUBS = """\
panel P
panel Q
equipment M
box A
  conduit body {base}
  marked for none
{entries}
  apart R1 R3 12 in
raceway R1 P > A emt 2
raceway R2 A > Q emt 2
raceway R3 A > M emt 2
wires P > Q 3 x #1/0 thhn through A in R1, R2
wires P > M 3 x #1/0 thhn through A in R1, R3
"""


@pytest.mark.parametrize(
    ("base", "walls", "expected"),
    [
        # straight 8 x 2 = 16 in.; a turn 6 x 2 = 12 in. both ways and between the hubs
        ("t 2 on emt inside 16 x 12 x 4 in", "left right top", "passes"),
        ("t 2 on emt inside 15-7/8 x 12 x 4 in", "left right top", "fails"),
        ("x 2 on emt inside 16 x 11-7/8 x 4 in", "left right bottom", "fails"),
        # behind the back hub #1/0 bends in 3-1/2 in.
        ("tb 2 on emt inside 16 x 4 x 3-1/2 in", "left right rear", "passes"),
        ("tb 2 on emt inside 16 x 4 x 3-7/16 in", "left right rear", "fails"),
        ("t 2 on emt", "left right top", "check needed"),
        ("t 2 on emt inside 16 x 12 x 4 in", "left right ?", "check needed"),
    ],
)
def test_where_its_type_does_not_tell_the_hubs_of_a_body_entry_lines_do(base: str, walls: str, expected: str):
    entries = [f"  entry R{number} {wall}" for number, wall in enumerate(walls.split(), 1) if wall != "?"]
    assert word(HUBS.format(base=base, entries="\n".join(entries))) == expected


@pytest.mark.parametrize(("base", "wall"), [("lf", "rear"), ("capped-elbow", "top")])
def test_an_elbow_turns_by_its_entry_lines(base: str, wall: str):
    sheet = LB.format(base=f"{base} 2 on emt inside 12 x 12 x 4-1/2 in", apart="12")
    assert word(sheet) == "check needed"
    entered = sheet.replace("  apart", f"  entry R1 left\n  entry R2 {wall}\n  apart")
    assert word(entered) == "passes"
    assert word(entered.replace("inside 12 x", "inside 11 x")) == "fails"


def test_hubs_that_nobody_measured_are_as_far_apart_as_the_body_is_long():
    sheet = LB.format(base="c 2 on emt inside 12 x 4 x 4 in", apart="?")
    sheet = sheet.replace("P > Q 3 x 250 kcmil thhn through A", "P > A > Q 3 x #4 thhn")
    assert word(sheet) == "passes"  # a splice: 6 x 2 = 12 in. long, and between the hubs
    assert word(sheet.replace("inside 12", "inside 11-7/8")) == "fails"


def test_smaller_conductors_are_none_of_its_business():
    assert findings(body("3 x #6 thhn"), rule=RULE) == []
    assert findings(body("ground #4"), rule=RULE) == []
