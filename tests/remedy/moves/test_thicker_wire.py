"""Thicker wire for the runs of a circuit that carry too little, and what it overfills."""

from decimal import Decimal

from ampleroom.remedy.moves.thicker_wire import thicker_wire
from tests.remedy.helpers import (
    MoveCase,
    assert_holds,
    box_entry,
    cable_entry,
    job_of,
    length_entry,
    nothing,
    of,
    placed,
    stock,
)

HEAD = "edition 2020\npanel P 120/240 V\nequipment K1\n"
SHEET = f"{HEAD}circuit 1 20 A 120 V 1920 VA\nrun P > K1 14/2 nm-b 40 ft circuit 1 spaced\n"
PARTS = stock(cable_entry("12/2"), cable_entry("10/2", "1.25"))

CASES = [
    MoveCase(
        thicker_wire,
        SHEET,
        PARTS,
        "33.00",
        20,
        "0",
        "#12 copper has 20 A at most (240.4(D)(5)); 40 ft and 10 % at 0.75, half a minute a foot",
        "circuit 1",
    )
]


def test_only_the_runs_that_fail_are_changed_and_each_to_what_it_needs():
    sheet = SHEET + "equipment K2\nrun K1 > K2 12/2 nm-b 10 ft circuit 1 spaced\n"
    (move,) = thicker_wire(placed(sheet, PARTS, "circuit 1"))
    assert move.action == "use 12/2 nm-b instead of 14/2 nm-b for P > K1"


def test_the_ground_grows_with_its_wire():
    """Nine conductors that carry current keep 70 % (310.15(C)(1)): #10 THHN of 40 A carries 28 A, so 30 A by the next
    rating; a 40 A breaker takes #8 of 55 A, 38.5 A. Behind 40 A the ground is #10 (250.122).
    """
    sheet = (
        f"{HEAD}equipment K2\nraceway R1 P > K1 emt 1 40 ft\n"
        "circuit 1 40 A 240 V 7000 VA terminals 75 C\n"
        "wires P > K1 2 x #10 thhn, ground #12 bare in R1 40 ft circuit 1\n"
        "wires P > K2 7 x #14 thhn, ground #14 bare in R1 40 ft\n"
    )
    parts = stock(length_entry("#8 thhn", 1), length_entry("#10 bare", "0.5"))
    (remedy,) = of(sheet, parts, "circuit 1")
    assert remedy.action == "use #8 thhn and a #10 ground instead of #10 thhn and a #12 ground for P > K1"
    assert remedy.price == 88 + 22  # 2 x 40 ft and 1 x 40 ft, with 10 %
    assert_holds(job_of(sheet), remedy)


def test_wire_that_overfills_its_box_brings_a_larger_box():
    """Two cables of two wires, their grounds, the clamps and a receptacle are 4 + 1 + 1 + 2 allowances: 16.00 in3 of
    #14, 18.00 of #12 (314.16(B)).
    """
    sheet = (
        f"{HEAD}circuit 1 20 A 120 V 1920 VA\nbox A1 marked 16 in3 plastic 1-gang\n  clamps inside\n  receptacle\n"
        "run P > A1 14/2 nm-b 40 ft circuit 1 spaced\nrun A1 > K1 14/2 nm-b 10 ft circuit 1 spaced\n"
    )
    larger = box_entry("marked 18 in3 plastic 1-gang", 4, clamps="inside", mounting='"new-work"')
    (remedy,) = of(sheet, stock(cable_entry("12/2"), larger), "circuit 1")
    assert remedy.action.startswith("use 12/2 nm-b instead of 14/2 nm-b for P > A1, A1 > K1, and at A1 ")
    assert remedy.details[0] == "The thicker wire would overfill A1, so both go together."
    assert_holds(job_of(sheet), remedy)
    assert not of(sheet, stock(cable_entry("12/2")), "circuit 1")
    assert "has no room for that" in nothing(sheet, stock(cable_entry("12/2")), "circuit 1").reasons[0]


def test_wire_that_overfills_its_raceway_brings_a_larger_raceway():
    """3 x 0.0211 in2 of #10 and a bare ground fit in the 0.122 of EMT 1/2; 3 x 0.0507 of #6 and the ground do not
    (chapter 9, tables 4, 5 and 8).
    """
    sheet = (
        f"{HEAD}raceway R1 P > K1 emt 1/2 40 ft\ncircuit 1 60 A 240 V 12000 VA terminals 75 C\n"
        "wires P > K1 3 x #10 thhn, ground #10 bare in R1 circuit 1\n"
    )
    parts = stock(length_entry("#6 thhn", 1), length_entry("emt 3/4", 1, 10))
    (remedy,) = of(sheet, parts, "circuit 1")
    assert remedy.action == "use #6 thhn instead of #10 thhn for P > K1, and at R1 use EMT 3/4 instead of 1/2"
    assert_holds(job_of(sheet), remedy)


def test_an_unpriced_wire_and_an_unknown_length_are_said():
    (move,) = thicker_wire(placed(SHEET.replace("40 ft ", ""), PARTS, "circuit 1"))
    assert [(rate.each, rate.minutes, rate.length_of) for rate in move.rates] == [
        (Decimal("0.75"), Decimal("0.5"), "P > K1")
    ]
    (move,) = thicker_wire(placed(SHEET, stock(), "circuit 1"))
    assert "12/2 nm-b is on hand: the stock file has no price for it" in move.notes


def test_where_facts_are_open_nothing_is_offered_before_they_are_checked():
    """Six cables lie nobody knows how close to each other: bundled they keep 50 %, 15 A, which is less than the 16 A of
    1920 VA.
    """
    others = "".join(f"equipment K{many}\nrun P > K{many} 12/2 nm-b 40 ft\n" for many in range(2, 7))
    sheet = SHEET.replace("14/2", "12/2").replace(" spaced", "") + others
    assert not of(sheet, PARTS, "circuit 1")
    reasons = nothing(sheet, PARTS, "circuit 1")
    assert reasons.is_open
    assert reasons.reasons[0].startswith("check how many cables lie bundled at most")
