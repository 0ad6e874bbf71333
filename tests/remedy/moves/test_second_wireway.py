"""A second wireway or gutter beside an overfull one."""

from decimal import Decimal

import pytest

from ampleroom import check
from ampleroom.job.edit import changed, edited
from ampleroom.remedy.moves.second_wireway import second_wireway
from tests.remedy.helpers import MoveCase, assert_holds, every, job_of, length_entry, nothing, placed, stock

SHEET = """edition 2020
panel P
equipment M1
equipment M2
wireway W1 P > M1 4 x 4 6 ft no splices
wires P > M1 27 x #2 thhn, ground #6 thhn in W1 circuit 5
wires P > M1 12 x #2 thhn, ground #6 thhn in W1 circuit 7
"""
"""27 and 12 x 0.1158 in2 with grounds of 0.0507 are 3.1773 and 1.4403, together over 20 % of 16, 3.2; areas of Chapter
9, Table 5. #2 turns in 2-1/2 in. (Table 312.6(A)). 20 % of 3 x 3 are 1.8."""
SMALL = stock(length_entry("wireway 3 x 3", "10"))
PARTS = stock(length_entry("wireway 4 x 4", "12"), length_entry("wireway 3 x 3", "10"))

CASES = [
    MoveCase(
        second_wireway,
        SHEET,
        SMALL,
        "60",
        39,
        "0.0227",
        "27 x #2 do not go into 3 x 3, 12 do: 3.2 less 3.1773; 6 ft at 10; six minutes and half a minute a foot",
        "W1",
    ),
]


def offered(sheet, parts=PARTS):
    return [move.action for move in second_wireway(placed(sheet, parts, "W1"))]


def assert_all_hold(sheet, parts=PARTS):
    made = [remedy for remedy in every(sheet, parts, "W1") if "beside it" in remedy.action]
    for remedy in made:
        assert_holds(job_of(sheet), remedy)
    return made


def test_each_circuit_may_go_into_the_smallest_that_holds_it():
    assert offered(SHEET) == [
        "put WIREWAY 4 X 4 beside it as W1b for circuit 5",
        "put WIREWAY 3 X 3 beside it as W1b for circuit 7",
    ]
    assert len(assert_all_hold(SHEET)) == 2
    assert offered(SHEET.replace("27 x", "2 x")) == []  # it passes


def test_the_sheet_gets_a_line_of_it_and_the_runs_name_it():
    (remedy,) = assert_all_hold(SHEET, SMALL)
    lines = edited(job_of(SHEET), remedy.change).splitlines()
    assert lines[5] == "wireway W1b P > M1 3 x 3 6 ft"
    assert lines[7] == "wires P > M1 12 x #2 thhn, ground #6 thhn in W1b circuit 7"
    assert lines[:5] + lines[6:7] == SHEET.splitlines()[:6]
    assert "W1b has no splices" in remedy.notes


def test_a_raceway_that_ends_at_it_goes_along_with_all_that_lies_in_it_and_what_was_measured_there():
    sheet = SHEET.replace("no splices\n", "no splices apart R1 R2 30 in\n").replace(
        "wires P > M1 12 x #2 thhn, ground #6 thhn in W1 circuit 7\n",
        "raceway R1 M2 > w1 emt 3 20 ft\nraceway R2 W1 > M1 emt 3 20 ft\n"
        "wires M2 > M1 6 x #2 thhn, ground #6 thhn in R1 then R2 circuit 7\n"
        "wires M2 > M1 6 x #2 thhn, ground #6 thhn in R1 then W1 circuit 9\n",
    )
    assert offered(sheet, SMALL) == ["put WIREWAY 3 X 3 beside it as W1b for circuit 7, circuit 9"]
    (remedy,) = assert_all_hold(sheet, SMALL)
    after = changed(job_of(sheet), remedy.change)
    assert [raceway.ends for raceway in after.raceways] == [("M2", "W1b"), ("W1b", "M1")]
    assert [[apart.one for apart in wireway.apart] for wireway in after.wireways] == [[], ["R1"]]
    assert [[lain_in.name for lain_in in run.raceways] for run in after.runs] == [["W1"], ["R1", "R2"], ["R1", "W1b"]]


@pytest.mark.parametrize(
    ("there", "instead"),
    [
        ("circuit 7", "circuit 5"),
        ("12 x #2 thhn, ground #6 thhn in W1", "14 x #2 thhn in W1"),
        ("P > M1 12 x #2 thhn, ground #6 thhn in W1", "P > W1 12 x #2 thhn, ground #6 thhn"),
    ],
    ids=["one circuit", "a shared ground", "spliced in it"],
)
def test_what_belongs_together_or_is_spliced_there_stays(there, instead):
    assert there in SHEET
    assert offered(SHEET.replace(there, instead), SMALL) == []


def test_what_is_spliced_there_stays_and_the_other_circuit_may_go():
    sheet = SHEET.replace("P > M1 12 x #2 thhn, ground #6 thhn in W1", "P > W1 12 x #2 thhn, ground #6 thhn")
    sheet = sheet.replace("no splices", "splices 2 in2")
    assert offered(sheet) == ["put WIREWAY 4 X 4 beside it as W1b for circuit 5"]
    (remedy,) = assert_all_hold(sheet)
    assert remedy.margin == Decimal("1.7597")  # 3.2 less 12 x 0.1158 + 0.0507


def test_a_single_run_is_told_to_be_written_as_its_circuits_and_a_shared_ground_is_named():
    one = SHEET.split("wires P > M1 12")[0].replace("27 x", "39 x")
    assert any("to have a second wireway tried" in reason for reason in nothing(one, SMALL, "W1").reasons)
    shared = SHEET.replace("12 x #2 thhn, ground #6 thhn", "14 x #2 thhn")
    assert any("share a ground" in reason for reason in nothing(shared, SMALL, "W1").reasons)


def test_the_name_is_one_that_no_place_and_no_raceway_has():
    sheet = SHEET.replace("equipment M2", "equipment w1B\nraceway W1c P > M1 emt 1")
    assert offered(sheet, SMALL) == ["put WIREWAY 3 X 3 beside it as W1d for circuit 7"]


def test_both_pass_the_whole_check_and_no_third_is_needed():
    job = job_of(SHEET)
    (remedy,) = assert_all_hold(SHEET, SMALL)
    after = check(changed(job, remedy.change))
    assert {subject.name: subject.verdict.is_allowed for subject in after.of("wireway")} == {"W1": True, "W1b": True}
