"""A smaller breaker for the wire, a larger one for the load."""

from decimal import Decimal

from ampleroom.remedy.moves.another_breaker import larger_breaker, smaller_breaker
from tests.remedy.helpers import (
    MoveCase,
    assert_holds,
    breaker_entry,
    cable_entry,
    job_of,
    of,
    placed,
    stock,
)

HEAD = "edition 2020\npanel P 120/240 V\nequipment K1\n"
SMALLER = f"{HEAD}circuit 1 20 A 120 V 1200 VA\nrun P > K1 14/2 nm-b 40 ft circuit 1 spaced\n"
LARGER = (
    f"{HEAD}circuit 3 20 A 240 V 4500 VA serves water heater terminals 60 C\n"
    "run P > K1 10/2 nm-b 30 ft circuit 3 spaced\n"
)
PARTS = stock(
    breaker_entry("15 A 1-pole", 6), breaker_entry("25 A 2-pole", 11), cable_entry("12/2"), cable_entry("10/2", "1.25")
)

CASES = [
    MoveCase(
        smaller_breaker,
        SMALLER,
        PARTS,
        "6",
        15,
        "0",
        "#14 copper has 15 A at most (240.4(D)(3)); 1200 VA at 120 V are 10 A",
        "circuit 1",
    ),
    MoveCase(
        larger_breaker,
        LARGER,
        PARTS,
        "11",
        15,
        "5",
        "4500 VA at 240 V are 18.75 A; a storage heater counts 125 %, 23.44 A (422.13), and 25 A is the next rating "
        "(240.6(A)). #10 copper carries 30 A at 60 C",
        "circuit 3",
    ),
]


def test_a_smaller_breaker_is_offered_only_where_it_carries_the_load():
    """16 A do not go on 15 A; nor do 10 A that last for hours and count 12.5 A on a breaker of 10 A."""
    too_much = SMALLER.replace("1200 VA", "1920 VA")
    assert not list(smaller_breaker(placed(too_much, PARTS, "circuit 1")))
    (move,) = smaller_breaker(placed(SMALLER.replace("1200 VA", "1200 VA continuous"), PARTS, "circuit 1"))
    assert move.action == "use a 15 A 1-pole breaker instead of 20 A"
    assert not move.notes


def test_where_no_load_is_written_the_smaller_breaker_says_so():
    (move,) = smaller_breaker(placed(SMALLER.replace(" 1200 VA", ""), PARTS, "circuit 1"))
    assert "15 A carries what is on it: its load is not written" in move.notes


def test_a_larger_breaker_brings_the_wire_it_needs():
    """25 A are too much for #12, which has 20 A at most: 30 ft and 10 % of #10, 33 ft at 1.25."""
    job = job_of(sheet := LARGER.replace("10/2", "12/2"))
    (remedy,) = of(sheet, PARTS, "circuit 3")
    assert remedy.action == (
        "use a 25 A 2-pole breaker instead of 20 A, and use 10/2 nm-b instead of 12/2 nm-b for P > K1"
    )
    assert (remedy.price, remedy.minutes) == (11 + Decimal("41.25"), Decimal(15 + 15))
    assert_holds(job, remedy)


def test_a_breaker_is_never_larger_than_its_wire_or_its_nameplate_allows():
    """A nameplate of 35 A at most and a breaker of 40 A: 35 A is the one that is offered."""
    sheet = (
        f"{HEAD}circuit 5 40 A 240 V mca 22 A mocp 35 A terminals 60 C\nrun P > K1 10/2 nm-b 30 ft circuit 5 spaced\n"
    )
    (move,) = smaller_breaker(placed(sheet, PARTS, "circuit 5"))
    assert move.action == "use a 35 A 2-pole breaker instead of 40 A"
    assert not list(larger_breaker(placed(sheet, PARTS, "circuit 5")))
