"""Pull points in a raceway with too many bends."""

from decimal import Decimal
from typing import Any

import pytest

from ampleroom import check, read_job
from ampleroom.job.edit import changed, edited
from ampleroom.remedy.moves.pull_point import bends_between, pull_point
from ampleroom.remedy.plan import plan
from tests.remedy.helpers import (
    MoveCase,
    assert_holds,
    bought,
    box_entry,
    fitting_entry,
    job_of,
    length_entry,
    nothing,
    of,
    only,
    placed,
    pull_entry,
    stock,
    whats,
)

SHEET = """edition 2020
panel P
equipment K1
raceway R1 P > K1 emt 3/4 60 ft 5 bends 90
wires P > K1 3 x #8 thhn, ground #10 bare in R1 circuit 5
"""
BOX = box_entry("square 4 x 2-1/8", 3, uses='"junction"', clamps="outside", more="cover_price = 1")
PARTS = stock(BOX, fitting_entry("emt 3/4 connector", "0.85"), labor="[labor]\nper_hour = 60\n")

CASES = [
    MoveCase(
        pull_point,
        SHEET,
        PARTS,
        "5.70",
        60,
        "0.0922",
        "five bends of 90 are 450 degrees of 360; after the fourth a box at 3, its cover at 1, two connectors at 0.85. "
        "3 x 0.0366 and 0.0110 lie in 0.213 still",
        "R1",
    )
]


def test_a_box_goes_in_after_the_last_bend_that_may_be():
    remedy = only(of(SHEET, PARTS, "R1"))
    assert remedy.action == "put square 4 x 2-1/8 in it after bend 4 as a pull point"
    assert bought(remedy) == [
        ("square 4 x 2-1/8", 1), ("blank cover for square 4 x 2-1/8", 1), ("emt 3/4 connector", 2)]  # fmt: skip
    job = job_of(SHEET)
    after: Any = changed(job, remedy.change)
    assert [(each.name, each.ends, each.length, sum(each.bends)) for each in after.raceways] == [
        ("R1", ("P", "R1-PB1"), 30, 360), ("R1b", ("R1-PB1", "K1"), 30, 90)]  # fmt: skip
    assert [lain_in.name for lain_in in after.runs[0].raceways] == ["R1", "R1b"]
    assert [passed.name for passed in after.runs[0].through] == ["R1-PB1"]
    assert_holds(job, remedy)


def test_a_run_that_comes_from_the_other_end_lies_in_the_parts_the_other_way_round():
    sheet = SHEET.replace("wires P > K1", "wires K1 > P")
    after = changed(job_of(sheet), only(of(sheet, PARTS, "R1")).change)
    assert [lain_in.name for lain_in in after.runs[0].raceways] == ["R1b", "R1"]


def test_nine_bends_take_two_boxes():
    sheet = SHEET.replace("5 bends", "9 bends")
    remedy = only(of(sheet, PARTS, "R1"))
    after: Any = changed(job_of(sheet), remedy.change)
    assert [sum(each.bends) for each in after.raceways] == [360, 360, 90]
    assert sum(each.length for each in after.raceways) == 60
    assert remedy.details[:2] == (
        "R1-PB1 stands after bend 4, counted from P.",
        "R1-PB2 stands after bend 8, counted from P.",
    )
    assert_holds(job_of(sheet), remedy)


def test_a_box_too_small_for_what_passes_is_not_offered():
    """Ten #8 and a ground pass: 33 in3 and more of 30.3."""
    sheet = SHEET.replace("3 x #8 thhn", "12 x #8 thhn").replace("emt 3/4", "emt 1-1/2")
    assert of(sheet, PARTS, "R1") == []
    assert "no box of the stock file goes in between as a pull point" in nothing(sheet, PARTS, "R1").reasons


def test_large_conductors_take_a_pull_box_long_enough():
    """Straight through EMT 2: 16 in."""
    sheet = SHEET.replace("emt 3/4", "emt 2").replace("3 x #8", "3 x #1/0")
    parts = stock(BOX, pull_entry("12 x 12 x 6", 40), pull_entry("18 x 12 x 6", 60))
    remedy = only(of(sheet, parts, "R1"))
    assert whats([remedy]) == ["put pull box 18 x 12 x 6 in it after bend 4 as a pull point"]
    assert_holds(job_of(sheet), remedy)


def test_no_nonmetallic_box_goes_between_metal_raceways():
    parts = stock(box_entry("marked 60 in3 plastic", 1, uses='"junction"'))
    assert of(SHEET, parts, "R1") == []
    plastic_raceway = SHEET.replace("emt", "pvc-40")
    assert len(of(plastic_raceway, parts, "R1")) == 1


def test_overfull_and_bent_too_often_it_takes_both():
    sheet = SHEET.replace("3 x #8", "9 x #8")
    parts = stock(
        box_entry("inside 8 x 8 x 4 in metal", 9, uses='"pull"', clamps="outside"), length_entry("emt 1-1/4", 3, 10)
    )
    remedy = only(of(sheet, parts, "R1"))
    assert "use EMT 1-1/4 instead of 3/4, and put" in remedy.action
    assert_holds(job_of(sheet), remedy)


@pytest.mark.parametrize(
    ("bends", "stretches"),
    [
        ((90,) * 5, [4, 1]),
        ((45,) * 9, [8, 1]),
        ((30, 90, 90, 90, 90), [4, 1]),
        ((90, 90, 90, 45, 45, 10), [5, 1]),
    ],
)
def test_as_many_bends_as_may_be_lie_between_two_boxes(bends, stretches):
    assert [len(stretch) for stretch in bends_between(bends, Decimal(360))] == stretches


def test_in_a_sheet_with_no_box_the_new_one_stands_at_its_end():
    job = job_of(SHEET)
    text = edited(job, only(of(SHEET, PARTS, "R1")).change)
    assert "box R1-PB1 at pull point in R1" in text
    assert check(read_job(text)).subject("R1-PB1").verdict.word == "passes"
    assert len(list(pull_point(placed(SHEET, PARTS, "R1")))) == 1


def test_a_pull_point_beside_another_fix_takes_no_name_the_job_has():
    """Too full and too often bent, on a job that has a R1-PB1: ten #12 fill 0.1330 of 0.122, a size larger 0.213."""
    sheet = """edition 2020
panel P
equipment K1
box R1-PB1
  square 4 x 2-1/8
  clamps none
raceway R1 P > K1 emt 1/2 60 ft 5 bends 90
wires P > K1 9 x #12 thhn, ground #12 thhn in R1
"""
    parts = stock(
        BOX, *(fitting_entry(f"emt {size} connector", "0.85") for size in ("1/2", "3/4")), length_entry("emt 3/4", 2)
    )
    remedies = of(sheet, parts, "R1")
    assert len(remedies) == 1
    after: Any = changed(job_of(sheet), remedies[0].change)
    assert [box.name for box in after.boxes] == ["R1-PB1", "R1-PB2"]
    assert [(each.name, each.size, each.ends) for each in after.raceways] == [
        ("R1", "3/4", ("P", "R1-PB2")), ("R1b", "3/4", ("R1-PB2", "K1"))]  # fmt: skip
    assert_holds(job_of(sheet), remedies[0])


def test_the_fixes_of_two_raceways_go_together():
    sheet = SHEET.replace("equipment K1", "equipment K1\nequipment K2") + "raceway R2 P > K2 emt 3/4 5 bends 90\n"
    sheet += "wires P > K2 3 x #8 thhn in R2\n"
    job = job_of(sheet)
    made = plan(job, check(job).book, PARTS, solver=False)
    assert [remedy.box for remedy in made.remedies] == ["R1", "R2"]
    assert {box.name for box in made.job_after.boxes} == {"R1-PB1", "R2-PB1"}
