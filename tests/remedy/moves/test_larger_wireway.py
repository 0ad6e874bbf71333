"""A larger wireway or gutter."""

from decimal import Decimal

import pytest

from ampleroom.job.edit import changed
from ampleroom.remedy.moves.larger_wireway import larger_wireway
from ampleroom.remedy.takeoff import takeoff
from tests.remedy.helpers import (
    MoveCase,
    assert_holds,
    bought,
    figures,
    job_of,
    length_entry,
    nothing,
    of,
    only,
    placed,
    stock,
)

SHEET = """edition 2020
panel P
equipment M1
wireway W1 P > M1 2.5 x 2.5 6 ft no splices
wires P > M1 12 x #2 thhn, 12 x #12 thhn in W1 circuit 5
"""
"""12 x 0.1158 and 12 x 0.0133 are 1.5492 in2, over 20 % of 6.25, 1.25; of 4 x 4 it is 3.2. Areas of Chapter 9, Table 5;
#2 turns in 2-1/2 in. (Table 312.6(A))."""
PARTS = stock(length_entry("wireway 4 x 4", "12"), length_entry("wireway 6 x 6", "20"))

CASES = [
    MoveCase(
        larger_wireway,
        SHEET,
        PARTS,
        "72",
        39,
        "1.6508",
        "3.2 less 1.5492; 6 ft at 12; six minutes and half a minute a foot",
        "W1",
    ),
]


def offered(sheet, parts=PARTS):
    return [move.action for move in larger_wireway(placed(sheet, parts, "W1"))]


def test_the_smallest_that_passes_is_bought_by_the_foot():
    remedy = only(of(SHEET, PARTS, "W1"))
    assert figures(remedy)[2] == Decimal("1.6508")
    assert bought(remedy) == [("WIREWAY 4 X 4 by the foot", Decimal(6))]
    assert (remedy.action, remedy.minutes) == ("use WIREWAY 4 X 4 instead of 2.5 x 2.5", Decimal(39))
    assert_holds(job_of(SHEET), remedy)


def test_a_larger_one_that_is_cheaper_is_offered_too_and_one_that_passes_is_left_alone():
    assert offered(SHEET.replace("12 x #2", "6 x #2")) == []
    cheap = stock(length_entry("wireway 4 x 4", "12"), length_entry("wireway 6 x 6", "11"))
    assert offered(SHEET, cheap) == ["use WIREWAY 4 X 4 instead of 2.5 x 2.5", "use WIREWAY 6 X 6 instead of 2.5 x 2.5"]
    assert [remedy.action for remedy in of(SHEET, cheap, "W1")] == ["use WIREWAY 6 X 6 instead of 2.5 x 2.5"]


def test_a_gutter_takes_a_gutter_and_a_price_by_the_foot_where_its_length_is_not_known():
    sheet = SHEET.replace("wireway W1 P > M1 2.5 x 2.5 6 ft", "gutter W1 at P 2.5 x 2.5")
    assert offered(sheet) == []
    assert any("no gutter" in reason for reason in nothing(sheet, PARTS, "W1").reasons)
    remedy = only(of(sheet, stock(length_entry("gutter 4 x 4", "14"), length_entry("wireway 4 x 4", "12")), "W1"))
    assert remedy.price == 0
    assert [(rate.each, rate.minutes, rate.length_of) for rate in remedy.rates] == [(Decimal(14), Decimal("6.5"), "W1")]
    assert_holds(job_of(sheet), remedy)


def test_conductors_that_turn_do_so_across_the_longer_side_of_the_new_one():
    # 500 kcmil needs 6 in. to turn (Table 312.6(A)); 3 x 0.7073 in2 need 10.61 in2 at 20 %
    sheet = """edition 2020
panel P
equipment M1
wireway W1 P > M1 4 x 6 6 ft no splices turns across 4 in
wires P > M1 3 x 500 thhn in W1
"""
    parts = stock(length_entry("wireway 5 x 4", "9"), length_entry("wireway 4 x 6", "12"))
    remedy = only(of(sheet, parts, "W1"))
    assert remedy.details == ("The conductors turn across its 6 in. side.",)
    (wireway,) = changed(job_of(sheet), remedy.change).wireways
    assert wireway.inside == (Decimal(4), Decimal(6))
    assert wireway.turn == 6
    assert_holds(job_of(sheet), remedy)


def test_nothing_is_offered_while_it_may_pass_and_the_facts_are_named():
    sheet = SHEET.replace("12 x #2", "? x #2")
    assert offered(sheet) == []
    reasons = nothing(sheet, PARTS, "W1").reasons
    assert any("how many #2" in reason for reason in reasons)


def test_without_one_large_enough_the_largest_is_named():
    parts = stock(length_entry("wireway 2.5 x 2.5", "9"), length_entry("wireway 3 x 2.5", "9"))
    assert "no wireway of the stock file is large enough, up to 3 x 2.5 in." in nothing(SHEET, parts, "W1").reasons


@pytest.mark.parametrize("written", ["wireway 4 x 6", "wireway 6x4", "Wireway 6 in x 4 in", "wireway 4.0 x 6"])
def test_inside_measures_of_the_stock_file_stand_in_either_order_as_one_writes_them(written):
    sheet = SHEET.replace("2.5 x 2.5", "6 x 4")
    lines = takeoff(job_of(sheet), stock(length_entry(written, "12"))).lines
    (line,) = [line for line in lines if line.group == "raceway"]
    assert line.each == line.price == 72
