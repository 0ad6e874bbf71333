"""A second raceway beside an overfull one."""

from decimal import Decimal
from typing import Any

import pytest

from ampleroom.job.edit import changed
from ampleroom.remedy.moves.second_raceway import circuits_in, second_raceway
from tests.remedy.helpers import MoveCase, assert_holds, figures, job_of, length_entry, nothing, of, only, placed, stock

SHEET = """edition 2020
panel P
equipment K1
raceway R1 P > K1 emt 3/4 40 ft
wires P > K1 3 x #6 thhn, ground #10 thhn in R1 circuit 5
wires P > K1 3 x #10 thhn, ground #10 thhn in R1 circuit 7
"""
"""0.1521 + 0.0211 and 0.0844: together 0.2576 of 0.213; the first alone 0.1732 of EMT 3/4, the second alone 0.0844 of
0.122 in EMT 1/2. Areas of Chapter 9, Table 4 and Table 5."""
PARTS = stock(length_entry("emt 1/2", "0.80", 10))

CASES = [
    MoveCase(
        second_raceway,
        SHEET,
        PARTS,
        "32.00",
        60,
        "0.0398",
        "0.1732 of 0.213 stay; 40 ft are 4 lengths of 10 ft at 8.00; a minute and a half a foot, laid and pulled",
        "R1",
    )
]


def offered(sheet, parts=PARTS):
    return list(second_raceway(placed(sheet, parts, "R1")))


def test_the_circuit_that_needs_the_smaller_one_goes_to_a_raceway_beside_it():
    remedy = only(of(SHEET, PARTS, "R1"))
    assert remedy.action == "put EMT 1/2 beside it as R1b for circuit 7"
    job = job_of(SHEET)
    after: Any = changed(job, remedy.change)
    assert [(raceway.name, raceway.size, raceway.ends) for raceway in after.raceways] == [
        ("R1", "3/4", ("P", "K1")), ("R1b", "1/2", ("P", "K1"))]  # fmt: skip
    assert [run.raceways[0].name for run in after.runs] == ["R1", "R1b"]
    assert_holds(job, remedy)


def test_one_in_place_of_it_is_offered_too_as_that_changes_less():
    parts = stock(length_entry("emt 1", "0.80", 10))
    whats = [remedy.action for remedy in of(SHEET, parts, "R1")]
    assert sorted(whats) == ["put EMT 1 beside it as R1b for circuit 5", "use EMT 1 instead of 3/4"]


def test_of_a_length_nobody_wrote_the_foot_is_priced():
    sheet = SHEET.replace(" 40 ft", "").replace("3 x #10", "9 x #10")
    parts = stock(length_entry("emt 3/4", "0.80", 10))
    remedy = only(of(sheet, parts, "R1"))
    assert figures(remedy)[:2] == (0, 0)
    assert remedy.rates[0].length_of == "R1"
    assert_holds(job_of(sheet), remedy)


def test_runs_of_one_circuit_and_runs_without_one_stay_together():
    runs = job_of(
        SHEET
        + "wires P > K1 2 x #12 thhn, ground #12 thhn in R1 circuit 5+9\n"
        + "wires P > K1 2 x #12 thhn, ground #12 thhn in R1\n"
        + "wires P > K1 2 x #12 thhn, ground #12 thhn in R1\n"
    ).runs
    assert sorted(len(group) for group in circuits_in(runs)) == [1, 2, 2]


@pytest.mark.parametrize(
    ("there", "instead"),
    [
        ("circuit 7", "circuit 5"),
        ("3 x #10 thhn, ground #10 thhn", "4 x #10 thhn"),
        ("3 x #10 thhn, ground #10 thhn in R1 circuit 7", "ground #1/0 thhn in R1"),
        ("circuit 5", "circuit 5+7"),
    ],
    ids=["one circuit", "one without a ground", "a ground by itself", "a shared neutral"],
)
def test_conductors_that_belong_together_are_not_parted(there, instead):
    assert there in SHEET
    assert offered(SHEET.replace(there, instead)) == []


def test_a_single_run_is_told_to_be_written_as_its_circuits():
    sheet = SHEET.replace("3 x #6 thhn, ground #10 thhn in R1 circuit 5", "9 x #6 thhn in R1").split(
        "wires P > K1 3 x"
    )[0]
    assert any("write each circuit as a run of its own" in reason for reason in nothing(sheet, PARTS, "R1").reasons)


def test_it_comes_into_a_pull_box_by_the_same_wall():
    sheet = SHEET.replace("equipment K1\n", "equipment K1\nbox PB\n  inside 12 x 12 x 6 in metal\n  entry R1 left\n")
    sheet = sheet.replace("> K1", "> PB")
    remedy = only(of(sheet, PARTS, "R1"))
    after = changed(job_of(sheet), remedy.change)
    assert [(item.raceway, item.wall) for item in after.boxes[0].items[1:]] == [("R1", "left"), ("R1b", "left")]
    assert_holds(job_of(sheet), remedy)


def test_the_room_left_is_that_of_the_raceway_that_stays():
    assert figures(only(of(SHEET, PARTS, "R1"))) == (Decimal("32.00"), Decimal(60), Decimal("0.0398"))
