"""Rings and covers add what is marked on them; an extension ring of a standard size its box's volume; all else
nothing.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from tests.helpers import findings, in_box, line, settings, there, verdict

RULE = "box-room-parts"


@pytest.mark.parametrize("part", ["plaster ring", "raised cover", "domed cover", "extension ring"])
@pytest.mark.parametrize(
    ("marking", "room", "why"),
    [("3.5 in3", "3.5", "the volume marked on it"), ("unmarked", "0", "not marked, so it adds nothing")],
)
def test_a_ring_or_cover_adds_what_is_marked_and_nothing_else(part: str, marking: str, room: str, why: str):
    found = line(in_box(f"{part} {marking}", base="square 4 x 1-1/2"), rule=RULE)
    assert (found.label, found.amount, found.why) == (part.capitalize(), Decimal(room), why)
    assert (found.cite, found.count) == ("314.16(A)", 1)
    assert found.readings == (() if marking != "unmarked" else ("unmarked-ring",))


def test_depth_alone_adds_no_room():
    assert there(in_box("plaster ring unmarked 1-1/4 in deep", base="square 4 x 1-1/2")) == 21


@pytest.mark.parametrize(("choice", "room"), [("table-volume", "42.0"), ("adds-nothing", "21.0")])
def test_an_extension_ring_of_a_standard_size_adds_its_boxs_volume_as_it_is_read(choice: str, room: str):
    sheet = settings(in_box("extension ring square 4 x 1-1/2", base="square 4 x 1-1/2"), "table-size-ring", choice)
    found = line(sheet, rule=RULE)
    assert there(sheet) == Decimal(room)
    assert found.label == "Extension ring square 4 x 1-1/2"
    assert found.readings == ("table-size-ring",)
    if choice == "table-volume":
        assert (found.why, found.cite) == ("not marked, but a standard size: volume from the table", "Table 314.16(A)")
    else:
        assert found.why == "not marked: adds nothing, a disputed point"


def test_a_marked_extension_ring_adds_its_marking_whatever_its_size():
    assert there(in_box("extension ring square 4 x 1-1/2 marked 19 in3", base="square 4 x 1-1/2")) == 40


def test_a_nonmetallic_ring_with_no_marking_adds_nothing():
    assert there(in_box("extension ring square 4 x 1-1/2 plastic unmarked", base="square 4 x 1-1/2")) == 21


def test_several_parts_add_up():
    sheet = in_box("plaster ring 3.5 in3; raised cover 5.25 in3; domed cover unmarked", base="square 4 x 1-1/2")
    assert there(sheet) == Decimal("29.75")


def test_a_marking_nobody_read_adds_nothing_at_the_worst():
    sheet = in_box("plaster ring ?", "wires A > ? 11 x #14", base="square 4 x 1-1/2")  # 22.00
    (found,) = findings(sheet)
    assert found.verdict.word == "check needed"
    assert (found.worst.there, found.worst.have[1].why) == (21, "its marking has not been read")
    assert found.facts[0].question == "the volume marked in the plaster ring of A"
    assert found.facts[0].settles == "passes if 1.00 in3 or more"


def test_a_marking_nobody_read_does_not_matter_where_the_box_is_large_enough():
    assert verdict(in_box("plaster ring ?", "wires A > ? 10 x #14", base="square 4 x 1-1/2")) == "passes"


def test_a_device_on_a_raised_cover_still_counts_in_the_box():
    sheet = in_box("raised cover 5 in3; receptacle #12", base="square 4 x 1-1/2")
    (found,) = findings(sheet)
    assert (found.worst.there, found.worst.needed) == (26, Decimal("4.50"))
