"""As many conductors may pass a conduit body as the raceway it is on may hold, and it must be wide enough itself."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ampleroom.editions import CodeBook
from ampleroom.rules.conduit_body.passing import fill_percent, whole_count
from tests.helpers import EDITION, finding, findings, in_box, verdict

RULE = "conduit-body-passing"


def passing(wires: str, base: str = "c 1/2 on emt") -> str:
    return in_box("", f"wires ? > ? {wires} through A", base=f"conduit body {base}")


# 1/2 EMT: 0.304 in2. 12 AWG THHN 0.0133, 10 AWG THHN 0.0211, 14 AWG THHN 0.0097, 8 AWG 0.0366, 6 AWG 0.0507, 4 AWG
# 0.0824.


@pytest.mark.parametrize(
    ("wires", "word"),
    [
        ("9 x #12 thhn", "passes"),  # 40 % / 0.0133 = 9.14
        ("10 x #12 thhn", "fails"),
        ("12 x #14 thhn", "passes"),  # 40 % / 0.0097 = 12.54, not rounded up
        ("13 x #14 thhn", "fails"),
        ("5 x #10 thhn", "passes"),  # 40 % / 0.0211 = 5.76, not rounded up
        ("6 x #10 thhn", "fails"),
        ("1 x #6 thhn", "passes"),  # 53 %: 0.16112
        ("2 x #6 thhn", "fails"),  # 31 %: 0.09424 against 0.1014
        ("2 x #8 thhn", "passes"),  # 31 %: 0.09424 against 0.0732
    ],
)
def test_what_passes_is_what_the_raceway_holds(wires: str, word: str):
    assert verdict(passing(wires)) == word


@pytest.mark.parametrize(("wires", "word"), [("6 x #10 thhn", "passes"), ("7 x #10 thhn", "fails")])
def test_a_count_of_one_size_is_rounded_up_from_eight_tenths(wires: str, word: str):
    assert verdict(passing(wires, "c 1/2 on rmc")) == word  # 0.314 x 40 % / 0.0211 = 5.95


@pytest.mark.parametrize(("exact", "whole"), [("5.95", 6), ("5.80", 6), ("5.79", 5), ("5.00", 5)])
def test_the_decimal_of_eight_tenths_is_the_edge(exact: str, whole: int):
    assert whole_count(Decimal(exact), Decimal("0.8")) == whole


@pytest.mark.parametrize(("number", "percent"), [(1, 53), (2, 31), (3, 40), (9, 40)])
def test_the_percentage_goes_by_the_number_of_conductors(number: int, percent: int):
    assert fill_percent(Decimal(number), CodeBook(EDITION)) == percent


def test_sizes_mixed_are_added_up_and_never_rounded():
    # 0.304 x 40 % = 0.1216; 4 x 0.0211 + 2 x 0.0133 = 0.1110; a fifth 10 AWG makes 0.1321
    assert verdict(passing("4 x #10 thhn, 2 x #12 thhn")) == "passes"
    assert verdict(passing("5 x #10 thhn, 2 x #12 thhn")) == "fails"


def test_grounds_count_with_their_own_area():
    # 8 x 0.0133 = 0.1064, a bare 12 AWG 0.006: 0.1124; an insulated one 0.0133: 0.1197, of 0.1216
    found = finding(passing("8 x #12 thhn, ground #12 bare"), rule=RULE)
    assert found.worst.needed == Decimal("0.1124")
    green = finding(passing("8 x #12 thhn, ground #12 thhn green"), rule=RULE).worst
    assert green.needed == Decimal("0.1197")
    assert [line.why for line in green.need] == [
        "8 x #12 passing on ? > ?",
        "1 x #12 passing on ? > ?",
    ]


def test_runs_that_pass_together_are_added_up():
    sheet = passing("5 x #12 thhn") + "wires ? > ? 5 x #12 thhn through A\n"
    assert verdict(sheet) == "fails"  # ten, and nine may


def test_the_answer_tells_both_areas_and_the_difference():
    found = finding(passing("9 x #12 thhn"), rule=RULE)
    assert found.message == "A has 0.00 in2 spare: conductors 0.1197 in2, allowed 0.1197 in2"
    assert found.cite == "314.16(C)(1)"
    too_many = finding(passing("10 x #12 thhn"), rule=RULE)
    assert too_many.message == "A is 0.0133 in2 over: conductors 0.133 in2, allowed 0.1197 in2"


def test_the_worksheet_shows_how_the_raceway_is_counted():
    same = finding(passing("9 x #12 thhn"), rule=RULE).worst
    mixed = finding(passing("4 x #10 thhn, 2 x #12 thhn"), rule=RULE).worst
    assert (same.unit.plain, mixed.unit.plain) == ("in2", "in2")
    assert (same.purpose.have, same.purpose.need) == ("Allowed fill", "Conductors")
    assert same.have[0].label == "Allowed in 1/2 emt"
    assert same.have[0].why == "40 % of 0.304 in2 over 0.0133 is 9.14: 9 of one size"
    assert same.have[0].cite == "Chapter 9 Table 1"
    assert mixed.have[0].why == "40 % of the inside area for 6 conductors"
    assert [(line.label, line.count) for line in mixed.need] == [("Conductors, #10", 4), ("Conductors, #12", 2)]


def test_three_alike_are_the_fewest_that_are_counted():
    found = finding(passing("3 x #12 thhn"), rule=RULE).worst
    assert found.have[0].why.endswith(": 9 of one size")


def test_two_alike_are_not_counted_but_measured():
    # 31 % of 0.304 = 0.09424; rounding belongs to three or more of one size here
    found = finding(passing("2 x #8 thhn"), rule=RULE).worst
    assert found.have[0].why == "31 % of the inside area for 2 conductors"
    assert found.there == Decimal("0.09424")


# ---- the body itself -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("area", "word"), [("0.608", "passes"), ("0.607", "fails")])
def test_a_body_is_twice_as_wide_as_its_raceway(area: str, word: str):
    found = findings(passing("2 x #12 thhn", f"c 1/2 on emt area {area} in2"), rule=RULE)
    assert found[1].verdict.word == word  # 2 x 0.304
    assert found[1].message == f"A has a cross-section of {area} in2 and needs 2 times its raceway's, 0.608"


def test_both_findings_point_at_the_line_of_the_body():
    found = findings(passing("2 x #12 thhn", "c 1/2 on emt area 0.7 in2"), rule=RULE)
    assert [one.at.line for one in found] == [2, 2]


def test_a_box_and_an_empty_body_let_nothing_pass():
    assert findings(in_box("", "wires ? > ? 2 x #12 thhn through A", base="square 4 x 1-1/2"), rule=RULE) == []
    (empty,) = findings(in_box(base="conduit body c 1/2 on emt"), rule=RULE)
    assert (empty.verdict.word, empty.message) == ("check needed", "A has nothing in it yet")


def test_a_body_with_splices_is_judged_by_its_volume_alone():
    assert findings(in_box("", "wires A > ? 2 x #12", base="conduit body c 1/2 on emt marked 9 in3"), rule=RULE) == []


def test_a_cross_section_nobody_measured_is_not_judged():
    assert len(findings(passing("2 x #12 thhn"), rule=RULE)) == 1


# ---- not known -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("base", "question"),
    [
        ("c 1/2", "the kind of raceway A is on"),
        ("c 5 on emt", "a raceway emt 5 that is in the tables"),
    ],
)
def test_a_raceway_that_is_not_known_leaves_it_open(base: str, question: str):
    found = finding(passing("2 x #12 thhn", base), rule=RULE)
    assert found.verdict.word == "check needed"
    assert found.message == "A: the allowed fill is not known"
    assert found.facts[0].question == question
    assert (found.facts[0].settles, found.facts[0].swing) == ("then its fill can be judged", 0)


def test_an_insulation_that_is_not_known_leaves_it_open():
    found = finding(passing("2 x #12"), rule=RULE)
    assert found.verdict.word == "check needed"
    assert found.message == "A: the size of its conductors is not known"
    assert found.facts[0].question == "the insulation of 2 x #12 passing on ? > ?"
    assert (found.facts[0].settles, found.facts[0].swing) == ("such as thhn", 0)


def test_of_two_insulations_that_are_not_known_the_first_is_asked_for():
    found = finding(passing("2 x #12, 1 x #10"), rule=RULE)
    assert len(found.facts) == 1


def test_4_awg_is_left_to_the_pull_boxes():
    assert findings(passing("3 x #4 thhn"), rule=RULE) == []
    assert findings(passing("2 x #4 thhn, ground #4 thhn"), rule=RULE) == []
    assert len(findings(passing("1 x #6 thhn"), rule=RULE)) == 1


def test_beside_smaller_conductors_4_awg_counts_too():
    # 2 x 0.0133 + 0.0824 = 0.1090, less than 40 % of 0.304; with three #12 0.1223, more
    assert verdict(passing("2 x #12 thhn, 1 x #4 thhn")) == "check needed"
    assert finding(passing("2 x #12 thhn, 1 x #4 thhn"), rule=RULE).verdict.word == "passes"
    assert finding(passing("3 x #12 thhn, 1 x #4 thhn"), rule=RULE).verdict.word == "fails"


def test_two_insulations_of_one_size_each_take_their_own_area():
    # 4 x 0.0133 + 4 x 0.0181 (THW) = 0.1256, more than 0.1216
    assert verdict(passing("4 x #12 thhn, 4 x #12 thw")) == "fails"


def test_a_number_nobody_counted_leaves_it_open():
    found = finding(passing("? x #12 thhn, 2 x #10 thhn"), rule=RULE)
    assert found.verdict.word == "check needed"
    # 40 % of 0.304
    assert found.message.startswith("A: the conductors are not counted yet; allowed 0.1216 in2")
    assert found.worst.have[0].why == "40 % of the inside area for more than 2 conductors"


def test_wires_of_one_size_that_nobody_counted_are_not_counted_by_the_size():
    found = finding(passing("? x #12 thhn"), rule=RULE)
    assert found.verdict.word == "check needed"
    assert found.worst.have[0].why == "40 % of the inside area for more than 2 conductors"


def test_a_ground_of_unknown_insulation_is_not_taken_as_the_thinnest():
    # 0.1216 in2 of room: 5 x 0.0211 and a bare 0.011 go in, with a sixth 0.0211 they do not
    assert verdict(passing("5 x #10 thhn, ground #10 bare")) == "passes"
    assert verdict(passing("5 x #10 thhn, ground #10 thhn")) == "fails"
    found = finding(passing("5 x #10 thhn, ground #10"), rule=RULE)
    assert found.verdict.word == "check needed"
    assert found.worst.needed == Decimal("0.1492")  # 5 x 0.0211, and 0.0437 for the thickest, RHW
    assert [line.why for line in found.worst.need] == [
        "5 x #10 passing on ? > ?",
        "1 x #10 passing on ? > ?; insulation not in the sheet: assumed the thickest",
    ]


def test_a_bare_ground_cites_the_table_of_bare_wires():
    found = finding(passing("8 x #12 thhn, ground #12 bare"), rule=RULE).worst
    assert [line.cite for line in found.need] == ["Chapter 9 Table 5", "Chapter 9 Table 8"]
    assert [line.why for line in found.need] == ["8 x #12 passing on ? > ?", "1 x #12 passing on ? > ?, bare"]


# ---- what the body itself is, and cables -----------------------------------------------------------------------------


@pytest.mark.parametrize(("area", "word"), [("0.608", "passes"), ("0.607", "fails")])
def test_a_body_with_splices_is_twice_as_wide_as_its_raceway_too(area: str, word: str):
    sheet = in_box("", "wires A > ? 2 x #12", base=f"conduit body c 1/2 on emt marked 9 in3 area {area} in2")
    found = finding(sheet, rule=RULE)
    assert (found.verdict.word, found.cite) == (word, "314.16(C)(1)")


@pytest.mark.parametrize("base", ["c 1/2 on emt short-radius", "capped-elbow 1/2 on emt", "service-elbow 1/2 on emt"])
def test_a_short_radius_body_need_not_be_twice_as_wide(base: str):
    found = findings(passing("2 x #12 thhn", f"{base} area 0.4 in2"), rule=RULE)
    assert [one.verdict.word for one in found] == ["passes"]  # what passes; the width of the body is not judged


def test_a_body_on_a_raceway_nobody_knows_leaves_its_width_open():
    sheet = in_box("", "wires A > ? 2 x #12", base="conduit body c 1/2 marked 9 in3 area 0.7 in2")
    assert finding(sheet, rule=RULE).verdict.word == "check needed"


def cables(cable: str, base: str = "c 1/2 on emt", edition: int = EDITION):
    return finding(in_box("", f"run ? > ? {cable} through A", base=f"conduit body {base}"), edition, RULE)


def test_a_cable_is_one_conductor_as_thick_as_its_wider_side():
    """Trade-forum thread "Conduit fill for NM cable": 12/2, 0.422 in. wide, counts as 0.140 in2."""
    found = cables("12/2 nm-b")
    (line,) = found.worst.need
    assert (line.label, line.count, line.cite) == ("Cable 12/2 nm-b", 1, "Chapter 9, note 9 to the tables")
    assert line.amount.quantize(Decimal("0.001")) == Decimal("0.140")
    assert found.verdict.word == "passes"  # 53 % of 0.304 is 0.161
    assert found.worst.have[0].why == "53 % of the inside area for 1 cable"


@pytest.mark.parametrize(
    ("cable", "word"), [("2 x 12/2 nm-b", "fails"), ("14/3 nm-b", "fails"), ("14/2 uf-b", "passes")]
)
def test_cables_pass_by_the_share_of_their_number(cable: str, word: str):
    # 31 % of 0.304 is 0.094 and two 12/2 take 0.28; one 14/3, 0.478 wide, 0.179 of 0.161; one 14/2 uf-b, 0.423, 0.141
    assert cables(cable).verdict.word == word


@pytest.mark.parametrize(
    "cable", ["12/2 mc", "10/3 nm-b", "12/2 nm-b, ground #14", "12/2 nm-b, no ground", "12/2 nm-b, isolated ground #12"]
)
def test_a_cable_whose_width_nobody_knows_leaves_it_open_and_is_not_asked_for_its_insulation(cable: str):
    found = cables(cable)
    assert found.verdict.word == "check needed"
    (fact,) = found.facts
    assert fact.question.startswith("the width of ")
    assert fact.settles == "its maker's data sheet says"


def test_a_cable_and_wires_share_the_bore():
    sheet = passing("2 x #14 thhn", "c 1 on emt") + "run ? > ? 12/2 nm-b through A\n"
    found = finding(sheet, rule=RULE).worst
    assert found.have[0].why == "40 % of the inside area for 3 conductors"
    assert found.needed == Decimal("0.1593")  # 2 x 0.0097, and 0.1399 for the cable
