"""Two devices on one yoke in place of two yokes."""

from decimal import Decimal

import pytest

from ampleroom.job.edit import changed
from ampleroom.job.model import Device
from ampleroom.job.unknown import UNKNOWN
from ampleroom.remedy.moves.combination import combination_device
from tests.remedy.helpers import MoveCase, assert_holds, device_entry, figures, job_of, of, only, placed, stock

PAIR = device_entry("switch + receptacle", "12.80")
TWINS = device_entry("switch + switch", "11.50")


def sheet(*devices, base="marked 20 in3 plastic 2-gang", runs="2 x 12/2 nm-b"):
    return "\n  ".join(["box S1", base, "clamps none", *devices]) + f"\nrun S1 > ? {runs}\n"


def offered(text, *entries):
    return list(combination_device(placed(text, stock(*entries))))


def devices_after(text, move):
    return [item for item in changed(job_of(text), move.change).boxes[0].items if isinstance(item, Device)]


CASES = [
    MoveCase(
        combination_device,
        sheet("switch #12 for lamp", "receptacle #12 for bench"),
        stock(PAIR),
        "12.80",
        15,
        "4.25",
        "9 + 2.25 and one yoke of 4.50 are 15.75 of 20",
    )
]


def test_two_devices_on_one_yoke_count_once():
    """9 + 2.25 and two yokes at 4.50 make 20.25 of 20; one yoke less leaves 4.25. 12.80 and 15 minutes."""
    text = sheet("switch #12 for lamp", "receptacle #12 for bench")
    found = only(of(text, stock(PAIR)))
    assert figures(found) == (Decimal("12.80"), 15, Decimal("4.25"))
    assert found.disturbance.word == "nothing"
    assert devices_after(text, found) == [Device(("switch", "receptacle"), "12", label="lamp and bench")]
    assert_holds(job_of(text), found)


def test_it_counts_by_the_thicker_wire_of_the_two():
    text = sheet("switch #14", "receptacle #12")
    (move,) = offered(text, PAIR)
    assert [device.size for device in devices_after(text, move)] == ["12"]
    (move,) = offered(sheet("switch #14", "receptacle"), PAIR)
    assert [device.size for device in devices_after(sheet("switch #14", "receptacle"), move)] == [UNKNOWN]


def test_of_a_line_that_stands_for_three_two_go():
    text = sheet("3 x switch #12 for stairs", base="marked 20 in3 plastic 3-gang")
    (move,) = offered(text, TWINS)
    after = devices_after(text, move)
    assert [(device.names, device.count) for device in after] == [(("switch",), 1), (("switch", "switch"), 1)]
    (move,) = offered(sheet("2 x switch #12"), TWINS)
    assert [(d.names, d.count) for d in devices_after(sheet("2 x switch #12"), move)] == [(("switch", "switch"), 1)]


def test_one_of_each_goes_where_both_lines_stand_for_several():
    text = sheet("2 x switch #12", "2 x receptacle #12", base="marked 30 in3 plastic 4-gang")
    (move,) = offered(text, PAIR)
    assert [(device.names[0], device.count) for device in devices_after(text, move)] == [
        ("switch", 1), ("receptacle", 1), ("switch", 1),
    ]  # fmt: skip
    assert len(devices_after(text, move)[2].names) == 2


@pytest.mark.parametrize(
    "other",
    [
        "dimmer #12",
        "receptacle #12 2-gang wide",
        "receptacle #12 2.2 in wide",
        "receptacle #12 pigtail #14",
        "receptacle #12 leads 2 x #18",
        "3-way switch #12",
    ],
)
def test_only_simple_devices_that_the_stock_has_on_one_yoke_are_joined(other):
    assert offered(sheet("switch #12", other), PAIR, TWINS) == []


def test_a_rating_that_is_written_is_kept():
    text = sheet("switch #12 20 A", "receptacle #12 20 A 120 V")
    assert offered(text, PAIR) == []
    assert offered(text, device_entry("switch + receptacle 15 A 120 V", 9)) == []
    assert len(offered(text, device_entry("switch + receptacle 20 A 120 V", 9))) == 1


def test_the_new_device_reaches_back_as_far_as_the_stock_says():
    """A box 2-1/2 in. deep: a body of 2-7/16 in. does not go in, whatever room there is."""
    text = sheet("switch #12", "receptacle #12", base="marked 20 in3 plastic 2-gang 2-1/2 in deep")
    assert len(of(text, stock(PAIR))) == 1
    assert of(text, stock(device_entry("switch + receptacle projects 2-7/16 in", 9))) == []


def test_devices_on_two_sides_of_a_barrier_are_not_joined():
    text = (
        "box D1\n"
        "  marked 20 in3 2-gang\n"
        "  barrier plastic\n"
        "  space a 1-gang\n"
        "  switch #12\n"
        "  space b 1-gang\n"
        "  receptacle #12\n"
    )
    assert offered(text + "run D1/a > ? 3 x 12/2 nm-b\nrun D1/b > ? 12/2 nm-b\n", PAIR) == []


def test_devices_of_a_kind_are_not_joined_for_one_box_of_it():
    text = (
        "kind pair\n"
        "  marked 20 in3 plastic 2-gang\n"
        "  switch #12\n"
        "  receptacle #12\n"
        "box S1 pair\n"
        "run S1 > ? 2 x 12/2 nm-b\n"
    )
    assert offered(text, PAIR) == []


def test_where_the_box_was_there_before_its_cover_comes_off():
    found = only(of(sheet("switch #12", "receptacle #12", "mounted existing"), stock(PAIR)))
    assert found.disturbance.word == "cover off"
