"""The next trade size of a raceway that passes."""

from decimal import Decimal

import pytest

from ampleroom.job.edit import changed
from ampleroom.remedy.moves.larger_raceway import larger_raceway
from tests.remedy.helpers import (
    MoveCase,
    assert_holds,
    bought,
    figures,
    fitting_entry,
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
equipment K1
raceway R1 P > K1 emt 3/4 62 ft 2 bends 90
wires P > K1 3 x #6 thhn, ground #10 bare in R1 circuit 5
wires P > K1 3 x #8 thhn in R1 circuit 7
"""
"""3 x 0.0507 (#6 THHN), 0.008 (#10 bare, solid or stranded by the sheet) and 3 x 0.0366 (#8 THHN): 0.213 may lie in EMT
3/4, 0.346 in EMT 1. Table 4 and Table 5 of Chapter 9, as the tables of this program have them."""
PARTS = stock(
    length_entry("emt 1", "2.60", 10),
    length_entry("emt 1-1/4", "3.70", 10),
    fitting_entry("emt 1 connector", "1.40"),
    fitting_entry("emt 1 coupling", "1.35"),
    fitting_entry("emt 1 strap", "0.55"),
)

CASES = [
    MoveCase(
        larger_raceway,
        SHEET,
        PARTS,
        "196.75",
        93,
        "0.0731",
        "0.1521 + 0.0110 + 0.1098 are 0.2729 of 0.346. 62 ft are 7 lengths of 10 ft at 26.00; 2 connectors, 6 "
        "couplings, and a strap within 3 ft of each end and every 10 ft between: 1 and 56 / 10 up to a whole number, "
        "7. 182.00 + 2.80 + 8.10 + 3.85. One minute a foot for the raceway and half a minute for pulling",
        "R1",
    )
]


def test_the_smallest_size_that_passes_is_offered_and_nothing_else_gets_worse():
    remedy = only(of(SHEET, PARTS, "R1"))
    assert remedy.action == "use EMT 1 instead of 3/4"
    assert figures(remedy) == (Decimal("196.75"), Decimal(93), Decimal("0.0731"))
    assert remedy.room_text == "0.0731 in2 spare"
    job = job_of(SHEET)
    assert changed(job, remedy.change).raceways[0].size == "1"
    assert_holds(job, remedy)


def test_the_price_is_the_sum_of_what_is_bought():
    remedy = only(of(SHEET, PARTS, "R1"))
    assert bought(remedy) == [
        ("EMT 1, length of 10 ft", 7), ("emt 1 connector", 2), ("emt 1 coupling", 6), ("emt 1 strap", 7)]  # fmt: skip
    assert remedy.price == sum(buy.quantity * buy.each for buy in remedy.buys)


def test_a_length_nobody_wrote_is_in_no_total():
    """The fill fails as a nipple too: 0.2729 of 0.320, so the conductors are made more."""
    sheet = SHEET.replace(" 62 ft", "") + "wires P > K1 3 x #8 thhn in R1 circuit 9\n"
    remedy = only(of(sheet, PARTS, "R1"))
    assert bought(remedy) == []  # of EMT 1-1/4 the stock has no fittings
    assert remedy.price == 0
    assert remedy.minutes == 0
    (rate,) = remedy.rates
    assert (rate.item, rate.each, rate.minutes, rate.length_of) == ("EMT 1-1/4", Decimal("3.70"), Decimal("1.5"), "R1")
    assert rate.cost(PARTS) == Decimal("5.20")  # 3.70 and a minute and a half at a dollar each


def test_of_a_length_nobody_wrote_the_ends_are_priced():
    sheet = SHEET.replace(" 62 ft", "").replace("emt 3/4", "emt 1/2")
    remedy = only(of(sheet, PARTS, "R1"))
    assert remedy.action == "use EMT 1 instead of 1/2"
    assert bought(remedy) == [("emt 1 connector", 2)]
    assert any("how many goes by the length of R1" in note for note in remedy.notes)


def test_the_next_size_the_stock_has_is_taken_where_it_lacks_the_smallest():
    parts = stock(length_entry("emt 1-1/4", "3.70", 10))
    remedy = only(of(SHEET, parts, "R1"))
    assert remedy.action == "use EMT 1-1/4 instead of 3/4"
    assert any("emt 1-1/4 connectors" in note.lower() and "no price" in note for note in remedy.notes)


def test_a_stock_without_the_raceway_offers_none_and_says_which_it_takes():
    none = nothing(SHEET, stock(), "R1")
    assert "the smallest emt that passes is 1; the stock file has no emt" in none.reasons
    assert not none.is_open


def test_a_raceway_that_may_pass_is_offered_nothing_and_asked_about():
    """Four #8 are 0.1464: a nipple of EMT 1/2 holds 0.182, a longer raceway 0.122."""
    sheet = "edition 2020\npanel P\nequipment K1\nraceway R1 P > K1 emt 1/2\nwires P > K1 4 x #8 thhn in R1\n"
    assert of(sheet, PARTS, "R1") == []
    none = nothing(sheet, PARTS, "R1")
    assert none.is_open
    assert none.reasons == ("check how long R1 is (24 in. or less: passes; longer: fails)",)


def test_a_raceway_without_a_line_is_fixed_in_the_run_that_names_it():
    sheet = "edition 2020\npanel P\nequipment K1\nwires P > K1 15 x #12 thhn in emt 1/2 30 ft\n"
    job = job_of(sheet)
    name = "emt 1/2, line 4"
    parts = stock(length_entry("emt 3/4", 1, 10))
    remedy = only(of(sheet, parts, name))
    assert (remedy.box, remedy.fixed_name) == (name, "emt 3/4, line 4")
    assert remedy.rates[0].length_of == name  # the run may be longer than the raceway it lies in
    assert_holds(job, remedy)


def test_at_a_conduit_body_no_other_size_is_offered():
    sheet = SHEET.replace("equipment K1", "equipment K1\nbox LB1\n  conduit body lb 3/4 marked 9 in3\n")
    sheet = sheet.replace("P > K1 emt", "P > LB1 emt")
    assert list(larger_raceway(placed(sheet, PARTS, "R1"))) == []
    assert any("conduit body LB1" in reason for reason in nothing(sheet, PARTS, "R1").reasons)


@pytest.mark.parametrize("kind", ["emt", "pvc-40", "rmc", "imc"])
def test_whatever_is_offered_passes_the_whole_check(kind):
    sheet = SHEET.replace("emt 3/4", f"{kind} 3/4")
    parts = stock(*(length_entry(f"{kind} {size}", 2, 10) for size in ("1", "1-1/4", "1-1/2", "2")))
    for remedy in of(sheet, parts, "R1"):
        assert_holds(job_of(sheet), remedy)


def test_a_pull_box_its_larger_raceway_would_make_fail_refuses_it():
    """Straight through EMT 2 takes 8 x 2, 16 in.; EMT 1-1/2 takes 12 in."""
    sheet = """edition 2020
panel P
equipment K1
box PB
  inside 16 x 12 x 6 in metal
  entry R1 left
  entry R2 right
raceway R1 P > PB emt 2 20 ft
raceway R2 PB > K1 emt 1-1/2 20 ft
wires P > K1 5 x #1/0 thhn through PB in R1, R2
"""
    parts = stock(length_entry("emt 2", 3, 10))
    assert [remedy.action for remedy in of(sheet, parts, "R2")] == ["use EMT 2 instead of 1-1/2"]
    narrow = sheet.replace("inside 16 x", "inside 12 x").replace("emt 2 20", "emt 1-1/2 20")
    assert len(list(larger_raceway(placed(narrow, parts, "R2")))) == 1
    assert of(narrow, parts, "R2") == []
