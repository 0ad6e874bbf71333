"""Wires of a luminaire count by their size; under a domed canopy up to four thinner than 14 AWG are left out."""

from __future__ import annotations

from decimal import Decimal

import pytest

from tests.helpers import COMPARED, findings, in_box, line, lines, needed, report, settings, verdict

RULE = "box-fill-fixture-wires"


@pytest.mark.parametrize("canopy", ["", "from flat canopy"])
def test_they_count_one_by_one_unless_the_canopy_is_domed(canopy: str):
    found = line(in_box(f"fixture wires 3 x #18 {canopy}"), rule=RULE)
    assert (found.label, found.count, found.each) == ("Fixture wires, #18", 3, Decimal("1.50"))
    assert found.why == "they end here"
    assert found.cite == "314.16(B)(1)"


@pytest.mark.parametrize(
    ("wires", "room"),
    [
        ("1 x #18", 0),
        ("4 x #18", 0),
        ("5 x #18", "1.50"),
        ("4 x #16", 0),
        ("6 x #16", "3.50"),
        ("4 x #14", 8),
        ("1 x #14, 4 x #16", 2),
        ("2 x #18, 3 x #16", "1.50"),  # the thickest are left out first
    ],
)
@pytest.mark.parametrize("year", COMPARED)
def test_a_domed_canopy_relieves_four_wires_thinner_than_14(wires: str, room: str, year: int):
    assert needed(in_box(f"fixture wires {wires} from domed canopy"), year) == Decimal(room)


def test_a_canopy_nobody_saw_is_flat_at_the_worst_and_domed_at_the_best():
    (found,) = findings(in_box("fixture wires 3 x #18 from ? canopy", base="marked 3 in3"))
    assert (found.worst.needed, found.best.needed) == (Decimal("4.50"), 0)
    assert found.worst.need[0].readings == ("flat-canopy",)


def test_grounds_among_them_are_counted_with_the_grounds():
    assert [found.label for found in lines(in_box("leads 2 x #16, ground #16"), rule=RULE)] == [
        "Leads of equipment, #16"
    ]


def test_a_place_that_sends_6_awg_to_pull_boxes_too_leaves_leads_their_allowance():
    city = 'place = "Cold Harbor"\n[[reminders.pull_box]]\nfrom = 2008\nfrom_size = "6"\n'
    (sheet,) = report("amendments city.toml\n" + in_box("leads 1 x #6"), 2020, city).worksheets.values()
    assert sheet.needed == 5


def test_four_is_the_most_in_a_box_however_many_luminaires():
    sheet = in_box("fixture wires 3 x #18 from domed canopy; fixture wires 3 x #18 from domed canopy")
    assert needed(sheet) == 3  # 2 x 1.50


def test_what_is_left_out_is_said():
    left, counted = lines(in_box("fixture wires 5 x #16 from domed canopy"), rule=RULE)
    assert (left.label, left.amount, left.cite) == ("Fixture wires left out, #16", 0, "314.16(B)(1) exception")
    assert left.why == "the first 4 under a domed canopy, smaller than #14, are left out"
    assert (counted.label, counted.count) == ("Fixture wires, #16", 1)
    assert left.confidence == "one source"


def test_exactly_four_leaves_nothing_to_count():
    assert [found.label for found in lines(in_box("fixture wires 4 x #16 from domed canopy"), rule=RULE)] == [
        "Fixture wires left out, #16"
    ]


@pytest.mark.parametrize(("choice", "room"), [("counted", 3), ("as-domed", 0)])
def test_a_flat_canopy_gives_relief_only_if_it_is_read_so(choice: str, room: int):
    sheet = settings(in_box("fixture wires 2 x #18 from flat canopy"), "flat-canopy", choice)
    found = line(sheet, rule=RULE)
    assert found.amount == room
    assert found.readings == ("flat-canopy",)


def test_a_domed_canopy_leans_on_no_reading():
    assert line(in_box("fixture wires 2 x #18 from domed canopy"), rule=RULE).readings == ()


def test_a_canopy_nobody_looked_at_may_be_domed():
    (found,) = findings(in_box("fixture wires 2 x #18 from ? canopy", base="marked 2 in3"))
    assert found.verdict.word == "check needed"
    assert found.facts[0].question == "whether the canopy over A is domed"
    assert verdict(in_box("fixture wires 2 x #18 from ? canopy", base="marked 3 in3")) == "passes"


@pytest.mark.parametrize(
    ("wires", "reading"),
    [("fixture wires ground #18 from flat canopy", "flat-canopy"), ("leads ground #18", "equipment-leads")],
)
def test_a_ground_alone_that_counts_by_a_reading_says_so(wires: str, reading: str):
    assert reading in report(in_box(wires)).readings


# ---- outside the table ---------------------------------------------------------------------------------------------


def test_a_wire_thinner_than_the_table_counts_as_its_first_row():
    found = line(in_box("fixture wires 2 x #20"), rule=RULE)
    assert found.amount == 3
    assert found.why == "they end here, taken as #18"


def test_a_wire_of_4_awg_has_no_allowance():
    found = line(in_box("fixture wires 2 x #4"), rule=RULE)
    assert found.label == "Fixture wires, #4"
    assert (found.count, found.each, found.cite) == (2, 0, "314.28")
    assert found.why == "no allowance; pull-box distances apply"


# ---- leads ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("choice", "room"), [("counted", "8.75"), ("as-canopy", "1.75")])
def test_leads_of_equipment_outside_count_one_by_one_unless_they_are_read_as_a_canopys(choice: str, room: str):
    sheet = settings(in_box("leads 5 x #16 for room control"), "equipment-leads", choice)
    found = lines(sheet, rule=RULE)
    assert sum(line.amount for line in found) == Decimal(room)
    assert found[-1].label == "Leads of room control, #16"
    assert all(line.readings == ("equipment-leads",) for line in found)


def test_leads_without_a_name_are_leads_of_equipment():
    assert line(in_box("leads 3 x #14"), rule=RULE).label == "Leads of equipment, #14"


@pytest.mark.parametrize(("choice", "room"), [("not-counted", 0), ("counted", "8.00")])
def test_factory_leads_of_devices_count_only_if_they_are_read_so(choice: str, room: str):
    sheet = settings(in_box("2 x smart switch #14 leads 2 x #14"), "device-leads", choice)
    found = line(sheet, rule=RULE)
    assert found.amount == Decimal(room)  # 2 devices x 2 leads x 2.00
    assert found.label == "Leads of the smart switch, #14"
    assert found.readings == ("device-leads",)
    said = (
        "each counts: a disputed point"
        if choice == "counted"
        else "they never leave the box; leave real space for them"
    )
    assert found.why == said


def test_the_leads_of_two_devices_on_one_yoke_are_named_after_both():
    found = line(in_box("switch + pilot light #14 leads 2 x #16"), rule=RULE)
    assert found.label == "Leads of the switch + pilot light, #16"


def test_a_thick_lead_of_a_device_counts_as_the_last_row():
    assert line(settings(in_box("switch #6 leads 1 x #4"), "device-leads", "counted"), rule=RULE).amount == 5


def test_wires_nobody_counted_are_relieved_of_four_all_the_same():
    (found,) = findings(in_box("fixture wires ? x #18 from domed canopy", base="marked 3 in3"))
    assert found.verdict.word == "check needed"
    assert found.facts[0].settles == "passes with 6 or fewer"  # four left out, 2 x 1.50
