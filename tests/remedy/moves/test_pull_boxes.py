"""A larger pull box, and raceways that come into it by other walls."""

from __future__ import annotations

from decimal import Decimal
from itertools import product
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampleroom import check
from ampleroom.check import book_for
from ampleroom.job.edit import changed
from ampleroom.job.model import Apart
from ampleroom.remedy import Remedy
from ampleroom.remedy.moves.pull_boxes import larger_pull_box, other_walls
from ampleroom.rules.box.pull_box.distances import SIDES
from ampleroom.sizing.arrangement import distances_apart, placed_in, rearranged_in
from ampleroom.sizing.pull_box import pulls_of
from ampleroom.worksheet import Verdict
from tests.remedy.helpers import (
    MoveCase,
    assert_holds,
    bought,
    check_after,
    job_of,
    nothing,
    of,
    only,
    placed,
    pull_entry,
    stock,
    whats,
)
from tests.strategies import examples

HEAD = "edition 2020\npanel P\nequipment K1\n"
STRAIGHT = (
    HEAD
    + """box PB
  inside 14 x 12 x 6 in metal
  entry R1 left
  entry R2 right
raceway R1 P > PB emt 2
raceway R2 PB > K1 emt 2
wires P > K1 3 x #1/0 thhn through PB in R1, R2
"""
)
"""Straight through EMT 2 takes 8 x 2, 16 in.; an angle or U pull 6 x 2, 12 in., and 12 in. between the entries."""
ROW = (
    HEAD
    + """box PB
  inside 20 x 12 x 6 in metal
  entry R1 left
  entry R2 left
  entry R3 bottom
  entry R4 bottom
  apart R1 R3 13 in
  apart R2 R4 13 in
raceway R1 P > PB emt 3 20 ft
raceway R2 P > PB emt 2 20 ft
raceway R3 PB > K1 emt 3 20 ft
raceway R4 PB > K1 emt 2 20 ft
wires P > K1 3 x #4/0 thhn through PB in R1, R3
wires P > K1 3 x #1/0 thhn through PB in R2, R4
"""
)
"""Angle pulls of a 3 and a 2: 6 x 3 and 2 more are 20 in. each way, as in published worked examples of 314.28(A)(2);
18 in. between the 3s."""
BOXES = stock(pull_entry("12 x 12 x 6", 40), pull_entry("18 x 12 x 6", 60), pull_entry("24 x 24 x 8", 150))

CASES = [
    MoveCase(larger_pull_box, STRAIGHT, BOXES, "60", 60, "1296", "16 in. from left to right: 18 x 12 x 6 will do"),
    MoveCase(
        other_walls,
        STRAIGHT.replace("14 x 12 x 6", "14 x 14 x 6"),
        BOXES,
        "0",
        30,
        "1176",
        "one raceway moved makes an angle pull: 12 in. each way of 14, and 12 in. apart across the corner",
    ),
]


def aparts(sheet: str, remedy: Remedy) -> list[Decimal]:
    """The distances between entries that a fix writes into the first box, inches."""
    items: Any = changed(job_of(sheet), remedy.change).boxes[0].items
    distances: list[Any] = [item.distance for item in items if isinstance(item, Apart)]
    return distances


def test_the_box_bought_keeps_the_walls_as_they_are():
    remedy = only([each for each in of(STRAIGHT, BOXES) if each.buys])
    assert remedy.action == "replace it with pull box 18 x 12 x 6"
    assert bought(remedy) == [("pull box 18 x 12 x 6", 1)]
    assert remedy.room_text == "every distance kept"
    assert_holds(job_of(STRAIGHT), remedy)


def test_of_boxes_that_will_do_the_larger_is_not_offered():
    moves = larger_pull_box(placed(STRAIGHT, BOXES))
    assert [move.action for move in moves] == ["replace it with pull box 18 x 12 x 6"]


def test_a_box_may_hang_the_other_way_round():
    sheet = STRAIGHT.replace("left", "top").replace("right", "bottom")
    remedy = only([each for each in of(sheet, BOXES) if each.buys])
    assert changed(job_of(sheet), remedy.change).boxes[0].items[0].inside == (12, 18, 6)
    assert_holds(job_of(sheet), remedy)


def test_no_shallower_box_takes_its_place():
    shallow = stock(pull_entry("18 x 12 x 4", 10), pull_entry("24 x 24 x 8", 150))
    assert [each.action for each in larger_pull_box(placed(STRAIGHT, shallow))] == [
        "replace it with pull box 24 x 24 x 8"
    ]


def test_with_other_walls_the_distances_between_entries_are_written():
    sheet = STRAIGHT.replace("14 x 12 x 6", "14 x 14 x 6")
    remedy = only(of(sheet, stock()))
    assert remedy.action == "bring R2 in at the top"
    box = check_after(job_of(sheet), remedy).subject("PB")
    assert all(finding.verdict is Verdict.PASSES for finding in box.findings)
    (apart,) = aparts(sheet, remedy)
    assert apart >= 12
    assert [detail.split(",")[0] for detail in remedy.details] == ["R1: left wall", "R2: top wall"]


def test_a_row_is_added_up_and_measured_distances_are_planned_anew():
    found = of(ROW, BOXES)
    assert whats(found) == ["replace it with pull box 24 x 24 x 8"]
    assert_holds(job_of(ROW), found[0])
    by_pair = aparts(ROW, found[0])
    assert [distance >= least for distance, least in zip(by_pair, (18, 12), strict=True)] == [True, True]


@pytest.mark.parametrize(
    ("sheet", "told"),
    [
        (STRAIGHT.replace("  entry R2 right\n", ""), "check the wall of PB that R2 comes in by"),
        (STRAIGHT.replace("  inside 14 x 12 x 6 in metal\n", ""), "check how far PB is inside"),
    ],
    ids=["a wall", "the box"],
)
def test_while_it_may_pass_nothing_is_offered_and_it_says_what_to_measure(sheet, told):
    assert of(sheet, BOXES) == []
    none = nothing(sheet, BOXES)
    assert none.is_open
    assert any(told in reason for reason in none.reasons)


def test_a_stock_without_pull_boxes_is_told_how_large_one_has_to_be():
    none = nothing(STRAIGHT, stock())
    assert "with its raceways where they are it takes a box of 16 in. x 2 in. x 6 in. inside" in none.reasons
    assert any("stock file has no pull boxes" in reason for reason in none.reasons)
    assert not any("in3" in reason for reason in none.reasons)


def test_a_divided_box_and_one_of_a_kind_are_left_alone():
    divided = STRAIGHT.replace("  entry R1", "  barrier metal\n  space a 1/2\n  space b 1/2\n  entry R1")
    divided = divided.replace("through PB in", "through PB/a in")
    assert list(larger_pull_box(placed(divided, BOXES))) == []
    of_kind = STRAIGHT.replace("box PB\n", "kind pull\n").replace("raceway R1", "box PB pull\nraceway R1", 1)
    assert list(larger_pull_box(placed(of_kind, BOXES))) == []


def test_no_plastic_box_where_metal_raceways_come_in():
    plastic = stock(pull_entry("24 x 24 x 8", 9).replace("in metal", "in plastic"))
    assert list(larger_pull_box(placed(STRAIGHT, plastic))) == []


# ---- the arrangement in a box of a size ----------------------------------------------------------------------------

SIZES = ("1-1/2", "2", "2-1/2", "3")


@st.composite
def pull_boxes(draw):
    """Two to four raceways with walls, and pulls between them, in a box that may be too small."""
    number = draw(st.integers(2, 4))
    walls = [draw(st.sampled_from(SIDES)) for _ in range(number)]
    sizes = [draw(st.sampled_from(SIZES)) for _ in range(number)]
    across, down = draw(st.sampled_from((10, 14, 18, 24))), draw(st.sampled_from((10, 14, 18, 24)))
    lines = [f"  entry R{place} {wall}" for place, wall in enumerate(walls)]
    raceways = [f"raceway R{place} P > PB emt {size} 20 ft" for place, size in enumerate(sizes)]
    wires = [
        f"wires P > K1 3 x #2 thhn through PB in R{place}, R{place + 1} circuit {place}" for place in range(number - 1)
    ]
    head = f"box PB\n  inside {across} x {down} x 8 in metal"
    return HEAD + "\n".join([head, *lines, *raceways, *wires]) + "\n"


@given(pull_boxes())
@examples(60)
def test_as_few_entries_as_will_do_are_moved(sheet):
    """Against every choice of walls tried."""
    job = job_of(sheet)
    book = book_for(job)
    pulled = pulls_of(job, "PB", book)
    base: Any = job.boxes[0].items[0]
    walls_now: Any = pulled.walls
    found = rearranged_in(pulled.entries, pulled.pulls, walls_now, base.inside[:2], book)
    moves = [
        sum(wall != was for wall, was in zip(walls, pulled.walls, strict=True))
        for walls in product(SIDES, repeat=len(pulled.walls))
        if placed_in(pulled.entries, pulled.pulls, walls, base.inside[:2], book) is not None
    ]
    if found is None:
        assert not moves
    else:
        assert sum(wall != was for wall, was in zip(found.walls, pulled.walls, strict=True)) == min(moves)
        assert all(distance > 0 for _, _, distance in distances_apart(pulled.entries, pulled.pulls, found, book))


@given(pull_boxes())
@examples(40)
def test_whatever_is_offered_passes_the_whole_check_and_costs_what_its_lines_say(sheet):
    job = job_of(sheet)
    if check(job).subject("PB").verdict is not Verdict.FAILS:
        return
    for remedy in of(sheet, BOXES):
        assert_holds(job, remedy)
        assert remedy.price == sum((buy.quantity * buy.each for buy in remedy.buys), Decimal(0))
