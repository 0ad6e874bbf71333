"""Wires with a thinner insulation in the same raceway."""

from decimal import Decimal

import pytest

from ampleroom.job.edit import changed
from ampleroom.remedy.moves.thinner_insulation import thinner_insulation
from tests.remedy.helpers import MoveCase, assert_holds, bought, figures, job_of, length_entry, of, only, placed, stock

SHEET = """edition 2020
panel P
equipment K1
raceway R1 P > K1 emt 3/4 50 ft
wires P > K1 3 x #6 thw, ground #10 bare in R1 circuit 5
"""
"""3 x 0.0726 and 0.0110 are over 0.213; with THHN 3 x 0.0507. Areas of Chapter 9, Table 4 and Table 5."""
PARTS = stock(length_entry("#6 thhn", "1.05"), length_entry("#6 xhhw-2", "1.18"))

CASES = [
    MoveCase(
        thinner_insulation,
        SHEET,
        stock(length_entry("#6 thhn", "1.05")),
        "173.25",
        25,
        "0.0499",
        "0.1521 and 0.0110 of 0.213; 3 x 50 ft and 10 % of waste are 165 ft at 1.05; half a minute a foot",
        "R1",
    ),
]


def offered(sheet, parts=PARTS):
    return [move.action for move in thinner_insulation(placed(sheet, parts, "R1"))]


def test_new_wire_is_bought_for_the_whole_way_with_waste():
    """3 x 50 ft and 10 % are 165 ft at 1.05; half a minute a foot for pulling."""
    remedy = only(of(SHEET, stock(length_entry("#6 thhn", "1.05")), "R1"))
    assert remedy.action == "pull thhn instead of thw"
    assert bought(remedy) == [("#6 THHN by the foot", 165)]
    assert figures(remedy) == (Decimal("173.25"), Decimal(25), Decimal("0.0499"))
    assert any("the place is dry" in note for note in remedy.notes)
    job = job_of(SHEET)
    assert [wires.insulation for wires in changed(job, remedy.change).runs[0].wires] == ["thhn", ""]
    assert_holds(job, remedy)


def test_a_run_through_two_raceways_is_rewired_all_the_way():
    sheet = SHEET.replace("P > K1 emt 3/4", "P > J1 emt 3/4").replace("in R1", "through J1 in R1, R2")
    sheet = sheet.replace("equipment K1\n", "equipment K1\nbox J1\n  inside 12 x 12 x 6 in metal\n  clamps outside\n")
    sheet += "raceway R2 J1 > K1 emt 1 30 ft\n"
    remedy = only(of(sheet, stock(length_entry("#6 thhn", "1.05")), "R1"))
    assert bought(remedy) == [("#6 THHN by the foot", 264)]  # 3 x 80 ft and 10 %
    assert_holds(job_of(sheet), remedy)


def test_of_a_length_nobody_wrote_the_foot_is_priced():
    sheet = SHEET.replace(" 50 ft", "").replace("emt 3/4", "emt 1/2").replace("#6 thw", "#8 thw")
    (move, *_) = thinner_insulation(placed(sheet.replace("3 x #8", "5 x #8"), stock(length_entry("#8 thhn", 1)), "R1"))
    assert move.buys == ()
    assert [(rate.item, rate.each, rate.length_of) for rate in move.rates] == [
        ("5 x #8 THHN", Decimal(5), "the wires P > K1")
    ]


@pytest.mark.parametrize(
    ("there", "instead", "left"),
    [
        ("#6 thw,", "#6 thhn,", []),
        ("#6 thw, ground #10 bare in R1", "#6 thw, ground #10 bare in R1 aluminum", []),
        ("circuit 5", "existing circuit 5", []),
        ("3 x #6 thw", "? x #6 thw", []),
        ("50 ft", "50 ft underground", ["pull xhhw-2 instead of thw"]),
    ],
    ids=["thin already", "aluminum", "was there before", "nobody counted them", "underground"],
)
def test_only_what_suits_the_place_is_offered(there, instead, left):
    assert there in SHEET
    assert offered(SHEET) == ["pull thhn instead of thw", "pull xhhw-2 instead of thw"]
    assert offered(SHEET.replace(there, instead)) == left


def test_an_insulation_nobody_wrote_is_not_replaced():
    assert offered(SHEET.replace("#6 thw", "#6").replace("emt 3/4", "emt 1/2")) == []


def test_one_run_alone_is_offered_where_that_is_enough():
    sheet = SHEET.replace("emt 3/4", "emt 1") + "wires P > K1 3 x #8 thw, ground #10 thhn in R1 circuit 7\n"
    parts = stock(length_entry("#6 thhn", 1), length_entry("#8 thhn", "0.5"))
    found = of(sheet, parts, "R1")
    assert found[0].action == "pull thhn instead of thw in the wires P > K1"
    for remedy in found:
        assert_holds(job_of(sheet), remedy)


@pytest.mark.parametrize(
    ("old", "new", "is_offered"),
    [
        ("thw", "thwn", True),  # 75 C both
        ("rhh", "thwn", False),  # 90 C, and 75 C
        ("rhh", "thhn", True),
        ("rhw-2", "xhhw", True),  # 90 C where it is dry
        ("tw", "thwn", True),
        ("thw-2", "thwn-2", True),
    ],
)
def test_it_stands_as_much_heat_as_the_one_before(old, new, is_offered):
    sheet = SHEET.replace("3 x #6 thw", f"5 x #6 {old}")
    assert offered(sheet, stock(length_entry(f"#6 {new}", 1))) == [f"pull {new} instead of {old}"] * is_offered


@pytest.mark.parametrize(("new", "is_offered"), [("xhhw-2", True), ("xhhw", False), ("thhn", False)])
def test_underground_it_stands_as_much_where_it_is_wet(new, is_offered):
    sheet = SHEET.replace("3 x #6 thw", "5 x #6 rhw-2").replace("50 ft", "50 ft underground")
    assert offered(sheet, stock(length_entry(f"#6 {new}", 1))) == [f"pull {new} instead of rhw-2"] * is_offered


def test_an_insulation_the_table_does_not_have_stays():
    # PFA is thicker than THHN in #10, and stands 200 C where it is dry; from memory
    sheet = SHEET.replace("3 x #6 thw", "12 x #10 rhh").replace("emt 3/4", "emt 1/2")
    assert offered(sheet, stock(length_entry("#10 thhn", 1))) == ["pull thhn instead of rhh"]
    assert offered(sheet.replace("rhh", "tfe"), stock(length_entry("#10 thhn", 1))) == []


def test_wires_in_a_wireway_are_replaced_too_and_a_dry_place_is_named():
    # 30 x 0.0726 are 2.178 in2, 30 x 0.0507 are 1.521; 20 % of 3 x 3 are 1.8 (Chapter 9, Table 5)
    sheet = """edition 2020
panel P
equipment K1
wireway W1 P > K1 3 x 3 50 ft no splices
wires P > K1 30 x #6 thw in W1 circuit 5
"""
    remedy = next(each for each in of(sheet, PARTS, "W1") if "thhn" in each.action)
    assert remedy.margin == Decimal("0.279")
    assert "the place is dry: thhn is not for wet ones" in remedy.notes
    assert_holds(job_of(sheet), remedy)
