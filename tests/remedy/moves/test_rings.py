"""Rings and covers: on a face they fit, where they add room, and never where they may not go."""

from decimal import Decimal

import pytest

from ampleroom.remedy.moves.rings import rings_and_covers
from tests.remedy.helpers import (
    MoveCase,
    assert_holds,
    box_entry,
    every,
    figures,
    job_of,
    nothing,
    of,
    only,
    part_entry,
    placed,
    stock,
    whats,
    work,
)

RING = part_entry("plaster ring 3.5 in3", "square 4", 1.70)
EXTENSION = part_entry("extension ring square 4 x 1-1/2", "square 4", 3.40)
RAISED = part_entry("raised cover 7.0 in3", "square 4", 2.30)
OVERFULL = """box J1
  {base}
  clamps outside
  {more}
run J1 > ? 4 x 12/2 nm-b
run J1 > ? 1 x 14/2 nm-b
"""


def sheet(base="square 4 x 1-1/2", *more):
    """8 x #12 and 2 x #14 and one ground: 18.00 + 4.00 + 2.25 = 24.25 in3 in a box of 21."""
    return OVERFULL.format(base=base, more="\n  ".join(more))


def offered(text, parts):
    return [move.action for move in rings_and_covers(placed(text, parts))]


CASES = [MoveCase(rings_and_covers, sheet(), stock(RING), "1.70", 12, "0.25", "24.25 in 21 and a ring of 3.5")]


def test_a_ring_with_a_marked_volume_puts_it_right():
    """3.25 short: the ring of 3.5 leaves 0.25. 1.70 and 12 minutes at a dollar."""
    found = only(of(sheet(), stock(RING)))
    assert found.action == "add plaster ring 3.5 in3"
    assert figures(found) == (Decimal("1.70"), 12, Decimal("0.25"))
    assert found.cost(stock(RING)) == Decimal("13.70")
    assert found.disturbance.word == "nothing"
    assert_holds(job_of(sheet()), found)


def test_an_unmarked_extension_ring_adds_the_room_of_its_standard_size():
    """21 + 21 - 24.25 = 17.75."""
    found = only(of(sheet(), stock(EXTENSION)))
    assert (found.margin, found.price) == (Decimal("17.75"), Decimal("3.40"))


@pytest.mark.parametrize(
    "ring", ["plaster ring unmarked 5/8 in deep", "raised cover unmarked", "extension ring unmarked"]
)
def test_an_unmarked_ring_adds_nothing_and_is_not_offered(ring):
    assert offered(sheet(), stock(part_entry(ring, "square 4", 1))) == []


def test_a_ring_goes_only_on_the_face_it_is_made_for():
    parts = stock(
        RING, part_entry("plaster ring 9 in3", "square 4-11/16", 1), part_entry("raised cover 9 in3", "octagon 4", 1)
    )
    assert offered(sheet(), parts) == ["add plaster ring 3.5 in3"]
    assert offered(sheet("square 4-11/16 x 1-1/4"), parts) == ["add plaster ring 9 in3"]
    assert offered(sheet("octagon 4 x 1-1/2"), parts) == ["add raised cover 9 in3"]


@pytest.mark.parametrize("base", ["marked 18 in3 plastic 1-gang", "square 4 x 1-1/2 plastic", "marked 18 in3"])
def test_a_nonmetallic_box_takes_no_metal_ring(base):
    assert offered(sheet(base), stock(RING, EXTENSION, RAISED)) == []


def test_boxes_ganged_together_take_no_ring_for_one_of_them():
    parts = stock(part_entry("extension ring device 3 x 2 x 2", "device 3 x 2", 2))
    assert offered(sheet("device 3 x 2 x 2"), parts) == ["add extension ring device 3 x 2 x 2"]
    assert offered(sheet("device 3 x 2 x 2 2 ganged"), parts) == []


def test_a_divided_box_takes_no_ring_here():
    text = sheet("square 4 x 1-1/2", "barrier metal", "space a 1/2", "space b 1/2").replace("J1 >", "J1/a >")
    assert offered(text, stock(RING)) == []
    assert any("its barrier stays" in reason for reason in nothing(text, stock(RING)).reasons)


def test_a_fan_hangs_from_its_box_and_not_from_a_ring():
    parts = stock(part_entry("extension ring octagon 4 x 1-1/2", "octagon 4", 2))
    assert offered(sheet("octagon 4 x 1-1/2", "carries luminaire 8 lb"), parts) != []
    assert offered(sheet("octagon 4 x 1-1/2", "carries fan 31 lb"), parts) == []
    assert offered(sheet("octagon 4 x 1-1/2", "rated fan 70 lb"), parts) == []


def test_a_ring_is_offered_for_how_the_box_is_mounted():
    parts = stock(
        part_entry("plaster ring 3.5 in3", "square 4", 1, more='mounting = ["new-work"]'),
        part_entry("raised cover 7.0 in3", "square 4", 1, more='mounting = ["surface"]'),
        part_entry("plaster ring 5.0 in3", "square 4", 1, more='mounting = ["old-work"]'),
    )
    assert offered(sheet("square 4 x 1-1/2", "mounted new-work"), parts) == ["add plaster ring 3.5 in3"]
    assert offered(sheet("square 4 x 1-1/2", "mounted surface"), parts) == ["add raised cover 7.0 in3"]
    assert offered(sheet("square 4 x 1-1/2", "mounted old-work"), parts) == ["add plaster ring 5.0 in3"]
    assert offered(sheet(), parts) == ["add plaster ring 3.5 in3", "add raised cover 7.0 in3"]


def test_a_cover_takes_the_place_of_the_one_that_is_there():
    """With the 1.0 ring 2.25 short; the 3.5 ring in its place leaves 0.25, not 1.25."""
    text = sheet("square 4 x 1-1/2", "plaster ring 1.0 in3")
    found = only(of(text, stock(RING)))
    assert found.action == "replace its plaster ring with plaster ring 3.5 in3"
    assert found.margin == Decimal("0.25")
    assert_holds(job_of(text), found)


def test_an_extension_ring_goes_under_the_cover_that_is_there():
    text = sheet("square 4 x 1-1/2", "plaster ring 1.0 in3")
    assert only(of(text, stock(EXTENSION))).margin == 18.75


def test_a_second_extension_ring_is_not_offered():
    assert offered(sheet("square 4 x 1-1/2", "extension ring 1 in3"), stock(EXTENSION)) == []


FINISHED = "mounted new-work finished"


@pytest.mark.parametrize(
    ("there", "entry", "disturbance"),
    [
        ((), RING, "plaster"),
        ((), EXTENSION, "cover off"),
        ((), RAISED, "cover off"),
        (("plaster ring 1.0 in3",), RAISED, "plaster"),
        (("raised cover 1.0 in3",), RAISED, "cover off"),
    ],
)
def test_a_plaster_ring_in_a_finished_wall_means_plaster(there, entry, disturbance):
    """Put in or taken out; a ring or cover in front of the wall only takes the cover off. 40 minutes each."""
    found = only(every(sheet("square 4 x 1-1/2", FINISHED, *there), stock(entry)))
    assert work(found) == (disturbance, 40)


def test_a_surface_box_has_no_plaster_around_it():
    found = only(of(sheet("square 4 x 1-1/2", "mounted surface finished"), stock(RING)))
    assert work(found) == ("cover off", 12)
    new = only(of(sheet("square 4 x 1-1/2", "mounted surface"), stock(RING)))
    assert new.disturbance.word == "nothing"


def test_a_ring_put_in_another_ones_place_is_known_to_need_the_same_opening():
    text = sheet("square 4 x 1-1/2", "plaster ring 1.0 in3", "receptacle #14")
    (move,) = rings_and_covers(placed(text, stock(RING)))
    assert move.notes == ("its opening fits the devices here",)


def test_a_ring_of_a_kind_is_exchanged_for_one_box_of_it_alone():
    """The box gets the lines of its kind with the new ring; the kind stays as it is for the others."""
    text = "kind usual\n  square 4 x 1-1/2\n  plaster ring 1.0 in3\n  clamps outside\nbox J1 usual\nbox J2 usual\n"
    text += "run J1 > ? 4 x 12/2 nm-b\nrun J1 > J2 14/2 nm-b\n"
    found = only(of(text, stock(RING)))
    job = job_of(text)
    assert_holds(job, found)
    assert found.margin == 0.25
    assert whats(of(text, stock(RING, box_entry("square 4 x 2-1/8", 3))))[0] == found.action


DEEP_DEVICE = """box J1
  square 4 x 1-1/2
  plaster ring 3.5 in3
  clamps outside
  receptacle #12 projects 1-5/8 in
run J1 > ? 2 x 12/2 nm-b
"""


@pytest.mark.parametrize("depth", ["", " ? in deep", " 1/4 in deep"])
def test_the_ring_that_may_be_there_already_is_not_sold_again(depth):
    """The box is open, or 1/8 in. too shallow: only a deeper ring helps for certain."""
    written = DEEP_DEVICE.replace("3.5 in3", f"3.5 in3{depth}")
    same = stock(part_entry("plaster ring 3.5 in3 1/2 in deep", "square 4", 1, name="ring 3.5"))
    larger = stock(part_entry("plaster ring 6 in3 3/4 in deep", "square 4", 2, name="ring 6"))
    if depth != " 1/4 in deep":
        assert offered(written, same) == []
    assert offered(written, larger) == ["replace its plaster ring with ring 6"]
