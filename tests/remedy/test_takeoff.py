"""Takeoffs against lists worked by hand: the workings stand beside them.

The stock's labor is that of ``helpers.LABOR``: 60 an hour; a new box 10 minutes, a ring 12, a connector 5, a device 8,
cable half a minute a foot, raceway a minute a foot. Waste 10 %.
"""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given

from ampleroom import read_job
from ampleroom.job import write_job
from ampleroom.remedy import Stock
from ampleroom.remedy.plan import plan
from ampleroom.remedy.takeoff import Takeoff, TakeoffLine, support_row, supports, takeoff
from tests.remedy.crowded import STOCK, crowded_jobs
from tests.remedy.helpers import CONNECTOR, box_entry, device_entry, job_of, part_entry, stock, trial_of
from tests.strategies import examples, jobs

COIL = """
[[cable]]
name = "12/2 NM-B"
is = "12/2 nm-b"
per_foot = 0.75
coil_feet = 250
coil_price = 135
[[cable]]
name = "14/2 NM-B"
is = "14/2 nm-b"
per_foot = 0.50
"""
PARTS = stock(
    box_entry("square 4 x 1-1/2", 2, name="four square", more="cover_price = 0.80"),
    box_entry("marked 20 in3 plastic 1-gang", 1, name="one-gang 20"),
    box_entry("device 3 x 2 x 2-3/4", 3, name="steel device box"),
    part_entry("plaster ring 3.5 in3", "square 4", "1.50", name="ring 3.5"),
    device_entry("switch", 4),
    CONNECTOR,
    COIL,
    '[[length]]\nname = "#6 THHN"\nis = "#6 thhn"\nper_foot = 1.05\n',
    '[[length]]\nname = "EMT 1"\nis = "emt 1"\nper_foot = 2.60\nlength = 10\n',
)


def taken(sheet: str, parts: Stock = PARTS) -> Takeoff:
    return takeoff(job_of(sheet), parts)


def lines(found: Takeoff, group: str) -> list[tuple[object, ...]]:
    return [(line.item, line.quantity, line.unit, line.price) for line in found.lines if line.group == group]


def line(found: Takeoff, what: str) -> TakeoffLine:
    return next(line for line in found.lines if line.item == what)


SHOP = """job Sail shop
panel P
box J1
  square 4 x 1-1/2
  clamps outside
box J2
  square 4 x 1-1/2
  plaster ring 3.5 in3
  clamps outside
  switch #12
box S1
  marked 20 in3 plastic 1-gang
  clamps none
  receptacle #12
run P > J1 12/2 nm-b 40 ft
run J1 > J2 12/2 nm-b 25 ft
run J1 > S1 14/2 nm-b 18 ft
"""


def test_a_whole_small_list():
    """Boxes: two squares, one plastic. Covers: J1 has nothing on it. Connectors: P, J1 three times, J2: five. 12/2: 65
    ft and a tenth: 71.5, so 72 ft at 0.75 = 54.00, cheaper than a coil. 14/2: 19.8, so 20 ft at 0.50. Supports, every
    4.5 ft and 1 ft from the ends: 40 ft: 38 / 4.5 = 8.4, so 9 stretches and 10; 25 ft: 23 / 4.5 = 5.1: 7; 18 ft: 16 /
    4.5 = 3.6: 5. Minutes: 3 boxes 30, a ring 12, 2 devices 16, 5 connectors 25, 83 ft of cable 41.5: 124.5, 2.08 h
    (2.075), 124.50.
    """
    found = taken(SHOP)
    assert lines(found, "boxes") == [("four square", 2, "", 4), ("one-gang 20", 1, "", 1)]
    assert lines(found, "rings and covers") == [
        ("blank cover for four square", 1, "", Decimal("0.80")),
        ("ring 3.5", 1, "", Decimal("1.50")),
    ]
    assert lines(found, "connectors") == [("clamp connector", 5, "", 5)]
    assert lines(found, "devices") == [("receptacle", 1, "", None), ("switch", 1, "", 4)]
    assert lines(found, "cable") == [("12/2 NM-B", 72, "ft", 54), ("14/2 NM-B", 20, "ft", 10)]
    assert lines(found, "fittings") == [("NM-B supports", 22, "", None)]
    assert lines(found, "labor") == [("labor", Decimal("2.08"), "h", Decimal("124.50"))]
    assert found.minutes == Decimal("124.5")
    assert found.total == 4 + 1 + Decimal("2.30") + 5 + 4 + 54 + 10 + Decimal("124.50")
    assert (found.unpriced, found.missing) == (2, ())


@pytest.mark.parametrize(
    ("feet", "bought"),
    [
        (100, [(110, "ft", "82.50")]),
        (163, [(1, "coil of 250 ft", "135")]),  # 179.3: 180 ft cost what a coil costs, which is longer
        (164, [(1, "coil of 250 ft", "135")]),  # 180.4: 181 ft would be 135.75
        (227, [(1, "coil of 250 ft", "135")]),  # 249.7
        (228, [(1, "coil of 250 ft", "135"), (1, "ft", "0.75")]),  # 250.8: one foot past the coil
        (454, [(2, "coil of 250 ft", "270")]),  # 499.4
        (700, [(3, "coil of 250 ft", "405"), (20, "ft", "15.00")]),  # 770
    ],
)
def test_cable_comes_in_whole_coils_and_by_the_foot_where_that_is_cheaper(feet, bought):
    found = taken(f"box J1\n  square 4 x 1-1/2\n  clamps none\nrun J1 > ? 12/2 nm-b {feet} ft\n")
    assert [(number, unit, price) for _, number, unit, price in lines(found, "cable")] == [
        (number, unit, Decimal(price)) for number, unit, price in bought
    ]


def test_waste_is_what_the_stock_says():
    bare = stock("[[cable]]\nname = '12/2 NM-B'\nis = '12/2 nm-b'\nper_foot = 1\n")
    sheet = "box J1\n  square 4 x 1-1/2\n  clamps none\nrun J1 > ? 2 x 12/2 nm-b 30 ft\n"
    assert lines(taken(sheet, bare), "cable") == [("12/2 NM-B", 66, "ft", 66)]


def test_what_was_there_is_not_bought_nor_old_cable():
    sheet = (
        "box A1\n  square 4 x 1-1/2\n  clamps outside\n  mounted existing\n  switch #12\nbox A2\n  square 4 x 1-1/2\n"
    )
    sheet += "  clamps outside\n  mounted finished\nrun A1 > A2 12/2 nm-b 20 ft existing\nrun A2 > ? 14/2 old 9 ft\n"
    found = taken(sheet)
    assert [line.group for line in found.lines] == ["labor"]
    assert found.minutes == 0


def test_a_new_cable_into_an_old_box_is_bought_with_its_connector():
    sheet = "box A1\n  square 4 x 1-1/2\n  clamps outside\n  mounted existing\nrun A1 > ? 12/2 nm-b 10 ft\n"
    found = taken(sheet)
    assert lines(found, "connectors") == [("clamp connector", 1, "", 1)]
    assert lines(found, "cable") == [("12/2 NM-B", 11, "ft", Decimal("8.25"))]
    assert lines(found, "boxes") == []


def test_boxes_ganged_together_are_bought_one_by_one():
    found = taken("box G1\n  device 3 x 2 x 2-3/4 3 ganged\n  clamps inside\n")
    assert lines(found, "boxes") == [("steel device box", 3, "", 9)]


def test_cable_that_passes_through_has_two_connectors_and_alike_runs_count_each():
    """P: 2. J1 passed by 2: 4. J2 spliced on the way: 2 each: 4. S1 has no clamps."""
    sheet = SHOP.partition("run P")[0] + "run P > J2 > S1 2 x 12/2 nm-b through J1 40 ft\n"
    assert lines(taken(sheet), "connectors") == [("clamp connector", 10, "", 10)]


@pytest.mark.parametrize(("size", "bushings"), [("#6", []), ("#4", [2]), ("#1/0", [2])])
def test_a_raceway_with_large_conductors_gets_a_bushing_at_each_end(size: str, bushings: list[int]):
    found = taken(
        "panel P\n"
        "box J9\n"
        "  marked 400 in3\n"
        "raceway R1 P > J9 emt 2 62 ft\n"
        f"wires P > J9 3 x {size} thhn, ground #4 bare in R1\n"
    )
    assert [line.quantity for line in found.lines if line.item == "EMT 2 bushings"] == bushings


def test_wires_and_raceway():
    """62 ft: 7 lengths of 10 ft, 6 joints, 2 ends; straps: 56 / 10: 6 stretches, 7. Wires as long as their raceway: 3 x
    62 = 186, with a tenth 204.6: 205 at 1.05 = 215.25; the ground 62, 68.2: 69. Minutes: 62 of the raceway.
    """
    sheet = (
        "panel P\nbox J9\n  marked 400 in3\nraceway R1 P > J9 emt 1 62 ft\nwires P > J9 3 x #6 thhn, ground #10 in R1\n"
    )
    found = taken(sheet)
    assert lines(found, "wire") == [("#10 bare", 69, "ft", None), ("#6 THHN", 205, "ft", Decimal("215.25"))]
    assert lines(found, "raceway") == [("EMT 1", 7, "length of 10 ft", 182)]
    assert lines(found, "fittings") == [
        ("EMT 1 connectors", 2, "", None),
        ("EMT 1 couplings", 6, "", None),
        ("EMT 1 straps", 7, "", None),
    ]
    assert found.minutes == 62 + 10


@pytest.mark.parametrize(
    ("sheet", "said"),
    [
        ("box J1 ?\n", "J1: which box goes there ('remedy' picks one)"),
        ("box J1\n  marked ? in3\n", "J1: the volume marked in it"),
        ("box J1\n  square 4 x 1-1/2 marked ? in3\n", "J1: the volume marked in it"),
        ("box J1\n  octagon 4 x ?\n", "J1: how deep its octagon 4 box is"),
        ("box J1\n  fs ?\n", "J1: the size of its fs box"),
        ("box J1\n  unmarked plastic\n", "J1: which box it is: no marking was found in it"),
        ("box J1\n  clamps none\n", "J1: which box it is"),
        ("box J1\n  marked 20 in3\n  plaster ring ? in3\n", "J1: the volume marked in its plaster ring"),
        ("box J1\n  marked 20 in3\n  device #12\n", "J1: which device it is (line 4)"),
        ("box J1\n  marked 20 in3\n  range receptacle #8\n", "J1: how many gangs its range receptacle needs"),
        ("box J1\n  marked 20 in3\nrun J1 > ? ?/2 nm-b 9 ft\n", "the size of the ?/2 nm-b (line 4)"),
        ("box J1\n  marked 20 in3\nrun J1 > ? 12/2 nm-b\n", "the length of 12/2 nm-b J1 > ? (line 4)"),
        (
            "box J1\n  marked 20 in3\nrun J1 > ? ? x 12/2 nm-b 9 ft\n",
            "how many 12/2 nm-b runs there are (line 4)",
        ),
        ("panel P\nbox J1\n  marked 20 in3\nraceway R1 P > J1 emt 1\n", "the length of raceway R1 (line 5)"),
    ],
)
def test_what_cannot_be_counted_is_said(sheet, said):
    assert said in taken(sheet).missing


def test_what_is_not_known_is_no_thing_to_buy():
    sheet = (
        "panel P\n"
        "box J1\n"
        "  marked ? in3\n"
        "box J2\n"
        "  octagon 4 x ?\n"
        "  plaster ring ? in3\n"
        "  clamps outside\n"
        "  device #12\n"
        "raceway R1 P > J2 emt 1\n"
        "raceway R2 P > J2 emt ? 9 ft\n"
        "wires P > J2 3 x #6 thhn in R1\n"
        "wires P > J2 ? x #6 thhn 9 ft\n"
        "run P > J1 12/2 nm-b\n"
        "run J1 > J2 ?/2 nm-b 9 ft\n"
        "run J1 > J2 ? x 12/2 nm-b 9 ft\n"
    )
    found = taken(sheet)
    assert lines(found, "connectors") == [("clamp connector", 1, "", 1)]  # of the 12/2 at the panel
    assert [line.item for line in found.lines if line.group not in ("labor", "connectors")] == []
    assert len(found.missing) == 11  # four of the boxes, three of cables, two of wires, two of raceways


@pytest.mark.parametrize("shape", ["square", "octagon"])
def test_a_ring_on_the_list_is_the_one_for_that_face(shape):
    """A 4 in. square extension ring and a 4 in. octagon one have the same numbers and are not the same thing."""
    both = stock(
        part_entry("extension ring octagon 4 x 1-1/2", "octagon 4", 1, name="octagon extension"),
        part_entry("extension ring square 4 x 1-1/2", "square 4", 2, name="square extension"),
        part_entry("plaster ring 3.5 in3", "octagon 4", 1, name="octagon ring"),
        part_entry("plaster ring 3.5 in3", "square 4", 2, name="square ring"),
    )
    rings = f"box J1\n  {shape} 4 x 1-1/2\n  extension ring {shape} 4 x 1-1/2\n  plaster ring 3.5 in3\n"
    price = 2 if shape == "square" else 1
    assert lines(taken(rings, both), "rings and covers") == [
        (f"{shape} extension", 1, "", price),
        (f"{shape} ring", 1, "", price),
    ]
    marked = taken(rings.replace(f"{shape} 4 x 1-1/2\n  ext", "marked 30 in3\n  ext"), both)
    assert set(lines(marked, "rings and covers")) == {
        ("plaster ring 3.5 in3", 1, "", None),
        (f"{shape} extension", 1, "", price),
    }


def test_a_ring_of_another_depth_or_material_is_not_the_one_on_sale():
    ring = stock(part_entry("plaster ring 3.5 in3 1/2 in deep metal", "square 4", 2, name="ring"))
    for written, name in (("", "ring"), (" 1/2 in deep", "ring"), (" ? in deep", "ring")):
        sheet = f"box J1\n  square 4 x 1-1/2\n  plaster ring 3.5 in3{written}\n"
        assert lines(taken(sheet, ring), "rings and covers") == [(name, 1, "", 2)]
    for written in (" 5/8 in deep", " plastic"):
        sheet = f"box J1\n  square 4 x 1-1/2\n  plaster ring 3.5 in3{written}\n"
        assert [price for *_, price in lines(taken(sheet, ring), "rings and covers")] == [None]


def test_a_junction_box_with_an_extension_ring_gets_its_blank_cover():
    sheet = "box J1\n  square 4 x 1-1/2\n  extension ring square 4 x 1-1/2\n"
    assert ("blank cover for four square", 1, "", Decimal("0.80")) in lines(taken(sheet), "rings and covers")
    for more in ("  raised cover 4 in3\n", "  switch #12\n"):
        assert "blank cover" not in str(lines(taken(sheet + more), "rings and covers"))


def test_what_the_stock_does_not_have_stands_on_the_list_without_a_price():
    found = taken("box J1\n  square 4-11/16 x 2-1/8\n  clamps outside\nrun J1 > ? 12/2 mc 10 ft\n")
    assert [(line.item, line.price) for line in found.lines if line.price is None] == [
        ("square 4-11/16 x 2-1/8", None),
        ("connector for 12/2 mc", None),
        ("12/2 mc", None),
        ("MC supports", None),
    ]


@pytest.mark.parametrize(
    ("feet", "number"),
    [("0.5", 1), ("1", 1), ("2", 1), ("2.1", 2), ("6.5", 2), ("6.6", 3), ("11", 3), ("38", 9)],
)
def test_supports_of_a_cable_are_a_foot_from_each_end_and_four_and_a_half_apart(feet, number):
    """334.30 as reprinted: within 12 in. of a box and 4-1/2 ft apart. 6.5 ft: at 1 and 5.5."""
    row = support_row("nm-b", read_job("box A\n"))
    assert row is not None
    assert supports(Decimal(feet), row) == number


def test_aluminum_is_not_sold_at_the_price_of_copper():
    """10 ft and a tenth more is 11 ft; at 0.75 and 1.05 a foot for the copper."""
    sheet = "panel P\nbox A\nraceway R1 P > A emt 1 10 ft\n"
    found = taken(
        sheet + "run P > A 12/2 nm-b 10 ft\nrun P > A 12/2 nm-b 10 ft aluminum\n"
        "wires P > A 1 x #6 thhn 10 ft in R1\nwires P > A 1 x #6 thhn 10 ft in R1 aluminum\n"
    )
    assert {*lines(found, "cable")} == {
        ("12/2 NM-B", 11, "ft", Decimal("8.25")), ("12/2 nm-b aluminum", 11, "ft", None)}  # fmt: skip
    assert {*lines(found, "wire")} == {
        ("#6 THHN", 11, "ft", Decimal("11.55")), ("#6 thhn aluminum", 11, "ft", None)}  # fmt: skip


# ---- what holds for all --------------------------------------------------------------------------------------------


@examples(150)
@given(jobs(unknowns=True, extras=True))
def test_any_job_has_a_takeoff_that_adds_up(job):
    job = read_job(write_job(job))
    found = takeoff(job, STOCK)
    for one in found.lines:
        assert one.quantity >= 0
        if one.each is not None:
            assert one.price == (one.quantity * one.each).quantize(Decimal("0.01")) or one.group == "labor"
        else:
            assert one.price is None
    assert found.total == sum(one.price for one in found.lines if one.price is not None)
    assert found.unpriced == sum(one.price is None for one in found.lines)
    assert [one.group for one in found.lines].count("labor") == 1


@examples(60)
@given(crowded_jobs())
def test_nothing_has_to_be_chosen_any_more_once_the_plan_is_made(job):
    """After the plan every box it could mend has a size; only boxes nothing helps are still to be chosen."""
    made = plan(job, trial_of(job).book, STOCK, solver=False)
    left = {nothing.box for nothing in made.nothing}
    chosen = {said.partition(":")[0] for said in takeoff(made.job_after, STOCK).missing if "to be chosen" in said}
    assert chosen <= left
