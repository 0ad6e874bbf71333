"""Pull boxes through a whole sheet: what is asked, what passes, what fails. The distances themselves: the test
beside.
"""

from __future__ import annotations

import pytest

from tests.helpers import finding, findings, in_box, report, verdict

RULE = "pull-box"
STRAIGHT = """\
panel P
box PB
  {box}
raceway R1 P > PB emt {first}
raceway R2 PB > ? emt {second}
wires P > ? 3 x {wire} thhn through PB in R1, R2
""".replace("R2 PB > ?", "R2 PB > P")


def pulled(box: str, first: str = "2", second: str = "2", wire: str = "#1/0") -> str:
    """A pull of three wires through PB; ``box``: its lines, parted by semicolons."""
    return STRAIGHT.format(box="\n  ".join(box.split("; ")), first=first, second=second, wire=wire)


def verdicts(sheet: str) -> list[str]:
    return [found.verdict.word for found in findings(sheet, rule=RULE)]


def test_6_awg_is_no_matter_of_distances():
    assert findings(in_box("", "wires A > ? 3 x #6 thhn"), rule=RULE) == []


def test_a_thick_ground_alone_does_not_make_it_a_pull_box():
    assert findings(in_box("", "wires A > ? ground #4"), rule=RULE) == []


def test_what_else_is_in_the_box_is_counted_as_always():
    sheet = in_box("", "wires A > ? 3 x #4 thhn, 2 x #12 thhn, ground #8", base="marked 7.49 in3")
    assert verdict(sheet) == "fails"  # 4.50 + 3.00 = 7.50


def test_a_conduit_body_is_left_to_the_rule_of_its_marking():
    assert findings(in_box("", "wires ? > ? 3 x #4 thhn through A", base="conduit body lb 1 on emt"), rule=RULE) == []


@pytest.mark.parametrize(
    ("marked", "word"),
    [("3 x #1/0 thhn", "passes"), ("2 x #1/0 thhn", "fails"), ("?", "check needed"), ("none", "fails")],
)
def test_a_smaller_box_may_be_marked_for_its_conductors(marked: str, word: str):
    # 12 in. is less than 8 x 2; two are fewer than three, and take less room
    found = findings(pulled(f"inside 12 x 12 x 6 in; entry R1 left; entry R2 right; marked for {marked}"), rule=RULE)
    assert [each.verdict.word for each in found] == [word]


# ---- from wall to wall ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("long", "word"), [("16", "passes"), ("15-63/64", "fails"), ("24", "passes")])
def test_a_straight_pull_of_2_in_needs_16_in_to_the_last_sixty_fourth(long: str, word: str):
    # EC&M, Quizzes on the Code (J. Stallcup column), about 2000: 8 x 2
    found = finding(pulled(f"inside {long} x 12 x 6 in; entry R1 left; entry R2 right"), rule=RULE)
    assert found.verdict.word == word
    assert found.worst.needed == 16
    assert found.cite == "314.28(A)(1)"


def test_top_to_bottom_is_the_second_measure_of_the_box():
    sheet = "inside {} x 6 in; entry R1 top; entry R2 bottom"
    assert verdicts(pulled(sheet.format("12 x 16"))) == ["passes"]
    assert verdicts(pulled(sheet.format("16 x 12"))) == ["fails"]


def test_an_angle_pull_needs_both_ways_and_the_distance_between_its_entries():
    # EC&M newsletter, 2008: a 3 in. and a 3 in. at an angle are 18 in. apart
    box = "inside 18 x 18 x 6 in; entry R1 left; entry R2 top; apart R1 R2 {}"
    assert verdicts(pulled(box.format("18 in"), "3", "3")) == ["passes"] * 3
    assert verdicts(pulled(box.format("17-15/16 in"), "3", "3")) == ["passes", "passes", "fails"]
    assert verdicts(pulled(box.format("? in"), "3", "3")) == ["passes", "passes", "check needed"]


def test_a_distance_nobody_measured_is_asked_and_never_passes():
    found = findings(pulled("inside 90 x 90 x 6 in; entry R1 left; entry R2 top", "3", "3"), rule=RULE)[-1]
    assert found.verdict.word == "check needed"
    assert found.facts[0].question == "how far apart R1 and R2 enter PB, edge to edge"
    assert found.facts[0].settles == "passes with 18 in. or more; write: apart R1 R2 ... in"


def test_a_box_without_inside_measures_is_asked_for_what_it_needs():
    found = finding(pulled("marked 900 in3; entry R1 left; entry R2 right"), rule=RULE)
    assert found.verdict.word == "check needed"
    assert found.facts[0].settles == "passes with 16 in. or more"


def test_a_back_entry_needs_the_bending_space_of_its_thickest_conductor_to_the_cover():
    # trade-forum thread of 2011: 4-1/2 in. for 250 kcmil
    box = "inside 18 x 18 x {} in; entry R1 left; entry R2 rear; apart R1 R2 18 in"
    assert verdicts(pulled(box.format("4-1/2"), wire="250 kcmil")) == ["passes"] * 3
    assert verdicts(pulled(box.format("4-7/16"), wire="250 kcmil")) == ["passes", "fails", "passes"]


def test_an_extension_ring_nobody_measured_may_make_it_deep_enough():
    box = "inside 18 x 18 x 4 in; extension ring 20 in3; entry R1 left; entry R2 rear; apart R1 R2 18 in"
    assert verdicts(pulled(box, wire="250 kcmil")) == ["passes", "check needed", "passes"]


# ---- what the sheet leaves out --------------------------------------------------------------------------------------


def test_a_wall_nobody_wrote_is_asked():
    found = finding(pulled("inside 90 x 90 x 90 in; entry R1 left"), rule=RULE)
    assert found.verdict.word == "check needed"
    assert [fact.question for fact in found.facts] == ["the wall of PB that R2 comes in by"]


def test_wires_that_name_no_raceway_are_asked_for_it():
    found = finding(in_box("", "wires A > ? 3 x #4 thhn"), rule=RULE)
    assert (found.verdict.word, found.cite) == ("check needed", "314.28")
    assert found.facts[0].question == "the raceway 3 x #4 (other end not known) come in by"


def test_a_cable_is_asked_for_the_raceway_it_would_need():
    found = finding(in_box("", "run A > ? 2/3 ser, ground #4"), rule=RULE)
    assert found.facts[0].question.startswith("the raceway that 3 of 2/3 ser")


def test_a_raceway_of_unknown_size_is_asked():
    found = finding(pulled("inside 90 x 90 x 9 in; entry R1 left; entry R2 right", "?"), rule=RULE)
    assert (found.verdict.word, found.facts[0].question) == ("check needed", "the trade size of R1")


# ---- disputed points ------------------------------------------------------------------------------------------------

SMALL_BESIDE = """\
{reading}
panel P
panel Q
box PB
  inside 14 x 14 x 6 in
  entry R1 left
  entry R2 top
  entry R3 left
  apart R1 R2 12 in
raceway R1 P > PB emt 2
raceway R2 PB > Q emt 2
raceway R3 P > PB emt 1
wires P > Q 3 x #1/0 thhn through PB in R1, R2
wires P > PB 3 x #12 thhn in R3
"""


@pytest.mark.parametrize(("reading", "needs"), [("", 13), ("reading small-in-row not-counted", 12)])
def test_a_raceway_with_small_wires_alone_is_counted_in_its_row_as_the_reading_says(reading: str, needs: int):
    across = findings(SMALL_BESIDE.format(reading=reading), rule=RULE)[0]
    assert across.worst.needed == needs


SPLICED = """\
{reading}
panel P
box PB
  inside 15 x 12 x 6 in
  entry R1 left
  entry R2 right
box M
  marked 90 in3
raceway R1 P > PB emt 2
raceway R2 PB > M emt 2
wires P > PB > M 3 x #1/0 thhn in R1, R2
"""


@pytest.mark.parametrize(("reading", "needs"), [("", 12), ("reading straight-splice as-straight", 16)])
def test_a_splice_across_the_box_goes_by_the_reading(reading: str, needs: int):
    across = next(found for found in findings(SPLICED.format(reading=reading), rule=RULE) if found.subject == "PB")
    assert across.worst.needed == needs


def test_entries_in_opposite_walls_are_as_far_apart_as_the_walls():
    spaced = [found for found in findings(SPLICED.format(reading=""), rule=RULE) if found.subject == "PB"]
    assert [found.verdict.word for found in spaced] == ["passes", "passes"]
    assert "in opposite walls" in {line.why for line in spaced[1].worst.have}


# ---- what a second look found ----------------------------------------------------------------------------------------

BESIDE = """\
panel P
panel Q
box PB
  inside {inside} in
  entry R1 left
  entry R2 {wall}
{entries}raceway R1 P > PB emt 2
raceway R2 PB > Q emt 2
{raceways}wires P > Q 3 x #1/0 thhn through PB in R1, R2
{wires}
"""


def beside(inside: str, wall: str, wires: str, entries: str = "", raceways: str = "") -> str:
    """A pull through PB, and what comes in beside it."""
    return BESIDE.format(inside=inside, wall=wall, wires=wires, entries=entries, raceways=raceways)


@pytest.mark.parametrize(("long", "word"), [("17-7/8", "fails"), ("18", "passes")])
def test_conductors_that_end_beside_a_straight_pull_in_its_raceway_are_a_splice(long: str, word: str):
    # by hand: straight 8 x 2 = 16; the splice in the same raceway makes its row 6 x 2 + 2 + 2 + 2 = 18, and 12 from the
    # right
    spare = "".join(f"raceway R{number} P > PB emt 2\n" for number in (3, 4, 5))
    walls = "".join(f"  entry R{number} left\n" for number in (3, 4, 5))
    through, ends = beside(f"{long} x 9 x 6", "right", "", walls, spare), "wires P > PB 2 x #4 thhn in R1"
    assert [verdicts(through), verdicts(through + ends)] == [["passes"], [word]]


def test_separate_runs_that_end_in_a_box_may_be_spliced_to_each_other():
    runs = "wires P > PB 3 x #1/0 thhn in R1\nwires PB > Q 3 x #1/0 thhn in R2\n"
    sheet = beside("14 x 14 x 6", "top", "").replace("wires P > Q 3 x #1/0 thhn through PB in R1, R2\n", runs)
    assert verdicts(sheet) == ["passes", "passes", "check needed"]
    measured = sheet.replace("raceway R1", "  apart R1 R2 {} in\nraceway R1")
    assert verdicts(measured.format("12")) == ["passes"] * 3
    too_near = findings(measured.format("11"), rule=RULE)[-1]
    assert too_near.verdict.word == "check needed"
    assert too_near.facts[0].question == "whether conductors of R1 and of R2 are spliced to each other in PB"


def test_a_side_of_a_barrier_is_smaller_than_the_box():
    sheet = pulled("inside {} x 12 x 6 in; barrier metal; space a 1/2; entry R1 left; entry R2 right; space b 1/2")
    sheet = sheet.replace("through PB", "through PB/a")
    assert verdicts(sheet.format("16")) == ["check needed"]
    assert verdicts(sheet.format("15")) == ["fails"]


@pytest.mark.parametrize(
    ("entries", "raceways", "wires", "question"),
    [
        ("", "", "wires P > PB 3 x #12 thhn in emt 3", "the raceway 3 x #12 from P come in by"),
        ("", "", "wires P > PB 3 x #12 thhn", "the raceway 3 x #12 from P come in by"),
        ("  entry R3 left\n", "raceway R3 P > Q emt 3\n", "",
         "whether R3 comes into PB: its own line does not end it there"),
        ("", "raceway R3 P > PB emt 3\n", "", "the wall of PB that R3 comes in by"),
        ("  entry R3 left\n", "raceway R3 P > PB emt ?\n", "", "the trade size of R3"),
    ],
)  # fmt: skip
def test_a_raceway_of_small_wires_is_asked_for_where_a_row_is_added_up(
    entries: str, raceways: str, wires: str, question: str
):
    around = beside("90 x 90 x 6", "top", wires, entries, raceways)
    assert [fact.question for fact in finding(around, rule=RULE).facts] == [question]
    straight = beside("16 x 9 x 6", "right", wires, entries, raceways)
    assert verdicts(straight) == ["passes"]  # 8 x 2, whatever else comes in


def test_a_place_may_lower_the_size_that_is_large():
    amendments = 'place = "Cold Harbor"\nsource = "Ordinance 3"\n'
    amendments += '[[reminders.pull_box]]\nfrom = 2020\ncite = "Cold Harbor 314.28"\nfrom_size = "10"\n'
    sheet = "amendments harbor.toml\n" + pulled(
        "inside 13 x 13 x 1 in; entry R1 left; entry R2 rear; apart R1 R2 12 in", wire="#10"
    )
    words = [found.verdict.word for found in report(sheet, amendments=amendments).findings if found.rule == RULE]
    assert words == [
        "passes",
        "fails",
        "passes",
    ]  # no bending space is listed for 10 AWG: that of 8 AWG is taken, 1-1/2 in.


def test_a_raceway_with_two_entry_lines_is_asked_which_holds():
    found = finding(pulled("inside 90 x 90 x 9 in; entry R1 left; entry R1 top; entry R2 right"), rule=RULE)
    assert (found.verdict.word, found.facts[0].question) == (
        "check needed",
        "which of its two entry lines R1 comes in by",
    )


def stopping(raceways: int, apart: str = "") -> str:
    """Raceways of trade size 2 in one wall of PB; the conductors of each stop there."""
    numbers = range(1, raceways + 1)
    entries = "".join(f"  entry R{n} left\n" for n in numbers)
    return (
        f"panel P\nbox PB\n  inside 90 x 90 x 9 in\n{entries}{apart}"
        + "".join(f"raceway R{n} P > PB emt 2\n" for n in numbers)
        + "".join(f"wires P > PB 3 x #1/0 thhn in R{n}\n" for n in numbers)
    )


@pytest.mark.parametrize(("raceways", "asked"), [(2, 1), (3, 3), (4, 1), (8, 1), (9, 1), (60, 1)])
def test_many_raceways_that_stop_are_asked_about_together_and_never_pass(raceways: int, asked: int):
    spaced = findings(stopping(raceways), rule=RULE)[1:]
    assert [found.verdict.word for found in spaced] == ["check needed"] * asked


def test_where_every_pair_is_measured_four_raceways_pass():
    pairs = [(one, other) for one in range(1, 5) for other in range(one + 1, 5)]
    apart = "".join(f"  apart R{one} R{other} 12 in\n" for one, other in pairs)
    assert set(verdicts(stopping(4, apart))) == {"passes"}
    assert "check needed" in verdicts(stopping(4, apart.replace("apart R1 R2 12 in", "apart R1 R2 11 in")))


# ---- measures that cannot be ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("walls", "apart", "word"),
    [  # a box of 24 x 18 x 6 in.: 24 x 18 x 6 from corner to corner is 30.6; within the left wall 18 x 6 is 18.97
        *[(("left", "top"), "30-1/2", "passes"), (("left", "top"), "31", "check needed")],
        *[(("left", "left"), "18-15/16", "passes"), (("left", "left"), "19", "check needed")],
    ],
)
def test_entries_farther_apart_than_the_box_is_long_are_measured_again(walls: tuple[str, str], apart: str, word: str):
    sheet = f"inside 24 x 18 x 6 in; entry R1 {walls[0]}; entry R2 {walls[1]}; apart R1 R2 {apart} in"
    found = findings(pulled(sheet), rule=RULE)[-1]
    assert found.verdict.word == word
    if word == "check needed":
        assert found.facts[0].settles.endswith("measure again")


def test_entries_in_opposite_walls_nearer_than_the_walls_are_measured_again():
    sheet = SPLICED.format(reading="").replace("  entry R2 right\n", "  entry R2 right\n  apart R1 R2 14 in\n")
    spaced = [found for found in findings(sheet, rule=RULE) if found.subject == "PB"][-1]
    assert (spaced.verdict.word, "never less than 15 in." in spaced.message) == ("check needed", True)


def test_what_is_written_above_the_first_space_holds_for_every_side():
    # an entry or a distance above the spaces is the whole box's, as rings and covers are
    sheet = pulled("inside 30 x 12 x 6 in; barrier metal; entry R1 left; entry R2 right; space a 1/2; space b 1/2")
    above = verdicts(sheet.replace("through PB", "through PB/a"))
    sheet = pulled("inside 30 x 12 x 6 in; barrier metal; space a 1/2; entry R1 left; entry R2 right; space b 1/2")
    assert above == verdicts(sheet.replace("through PB", "through PB/a")) == ["check needed"]


def test_an_isolated_ground_of_4_awg_or_larger_makes_a_pull_box_and_a_bare_one_does_not():
    """The distances are for conductors that must be insulated; an isolated ground must be, other grounds need not."""
    sheet = (
        "panel P\npanel Q\nbox PB\n  inside 10 x 10 x 6 in\n  entry R1 left\n  entry R2 right\n"
        "raceway R1 P > PB emt 2\nraceway R2 PB > Q emt 2\nwires P > Q 3 x #6 thhn, {} #4 through PB in R1, R2\n"
    )
    assert verdicts(sheet.format("isolated ground")) == ["fails"]  # 8 x 2 = 16 of 10 in.
    assert verdicts(sheet.format("ground")) == []
