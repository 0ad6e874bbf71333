"""Grounds share one allowance; since 2020 only the first four do, and each further one adds a quarter."""

from __future__ import annotations

from decimal import Decimal

import pytest

from tests.helpers import COMPARED, findings, in_box, line, lines, needed, settings, there, verdict

RULE = "box-fill-grounds"
BEFORE, SINCE = (2008, 2011, 2014, 2017), (2020, 2023)


def grounds(number: int, size: str = "12") -> str:
    return in_box("", f"wires A > ? ground {number} x #{size}")


@pytest.mark.parametrize(("number", "room"), [(1, "2.25"), (4, "2.25"), (5, "2.8125"), (8, "4.50"), (12, "6.75")])
@pytest.mark.parametrize("year", SINCE)
def test_since_2020_a_quarter_is_added_past_the_first_four(number: int, room: str, year: int):
    assert needed(grounds(number), year) == Decimal(room)


@pytest.mark.parametrize("number", [1, 4, 5, 12])
@pytest.mark.parametrize("year", BEFORE)
def test_before_2020_all_grounds_share_one_allowance(number: int, year: int):
    assert needed(grounds(number), year) == Decimal("2.25")


def test_no_ground_is_no_line():
    assert lines(in_box("", "wires A > ? 2 x #12"), rule=RULE) == []


def test_the_line_says_how_many_share_and_how_many_add():
    def said(number: int, year: int = 2023):
        return line(grounds(number), year, RULE).why

    assert said(1) == "one, sized by #12"
    assert said(4) == "4 share one allowance, sized by the largest (#12)"
    assert said(5) == "5 share one allowance, sized by the largest (#12); 1 past the first 4 adds 0.25 each"
    assert said(9) == "9 share one allowance, sized by the largest (#12); 5 past the first 4 add 0.25 each"
    assert said(9, 2017) == "9 share one allowance, sized by the largest (#12)"


def test_the_line_cites_the_section():
    assert line(grounds(9), rule=RULE).cite == "314.16(B)(5)"


def test_the_largest_decides_for_the_quarters_of_the_small_ones_too():
    found = line(in_box("", "wires A > ? ground #10, ground 5 x #14"), rule=RULE)
    assert found.amount == Decimal("3.75")  # (1 + 2/4) x 2.50
    assert found.why.startswith("6 share one allowance, sized by the largest (#10)")


def test_grounds_of_every_run_are_counted_together():
    sheet = in_box("clamps none", "run A > ? 3 x 14/2 nm-b", "run A > ? 2 x 12/2 nm-b")
    assert line(sheet, rule=RULE).amount == Decimal("2.8125")


def test_a_ground_that_passes_counts_with_those_that_end():
    sheet = in_box("", "wires A > ? ground 4 x #12", "wires ? > ? ground #12 through A")
    assert line(sheet, rule=RULE).amount == Decimal("2.8125")


def test_a_ground_past_the_table_counts_as_its_last_row():
    found = line(in_box("", "wires A > ? ground #4"), rule=RULE)
    assert found.amount == 5
    assert found.why == "one, sized by #4, taken as #6, where the table ends"


# ---- isolated grounds ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("year", BEFORE)
def test_before_2020_an_isolated_set_takes_one_allowance_of_its_own(year: int):
    found = lines(in_box("", "wires A > ? ground 2 x #12, isolated ground 3 x #10"), year)
    assert [(line.label, line.amount) for line in found[1:]] == [
        ("Equipment grounds", Decimal("2.25")),
        ("Isolated grounds", Decimal("2.50")),
    ]
    assert found[2].why == "3 in a set of their own, one allowance, sized by the largest (#10)"
    assert found[2].readings == ()


@pytest.mark.parametrize("year", SINCE)
@pytest.mark.parametrize(("choice", "room"), [("pooled", "2.25"), ("own-allowance", "4.50")])
def test_since_2020_an_isolated_ground_is_pooled_unless_it_is_read_otherwise(year: int, choice: str, room: str):
    sheet = settings(in_box("", "wires A > ? ground #12, isolated ground #12"), "isolated-ground", choice)
    assert needed(sheet, year) == Decimal(room)
    assert all(found.readings == ("isolated-ground",) for found in lines(sheet, year, RULE))


def test_since_2020_an_isolated_ground_may_be_the_fifth():
    assert needed(in_box("", "wires A > ? ground 4 x #12, isolated ground #12")) == Decimal("2.8125")


@pytest.mark.parametrize("year", COMPARED)
def test_an_isolated_ground_alone_takes_one_allowance(year: int):
    assert needed(in_box("", "wires A > ? isolated ground #12"), year) == Decimal("2.25")


# ---- what is a ground, and what is none ----------------------------------------------------------------------------


def test_a_bonding_jumper_that_enters_is_one_of_them():
    found = line(in_box("bonding jumper #8", "wires A > ? ground 4 x #12"), rule=RULE)
    assert found.amount == Decimal("3.75")  # (1 + 1/4) x 3.00


@pytest.mark.parametrize(("choice", "room"), [("not-counted", "2.25"), ("counted", "2.8125")])
def test_a_grounding_pigtail_counts_only_if_it_is_read_so(choice: str, room: str):
    sheet = in_box("pigtail #12 ground", "wires A > ? ground 4 x #12")
    found = line(settings(sheet, "grounding-pigtail", choice), rule=RULE)
    assert found.amount == Decimal(room)
    assert found.readings == ("grounding-pigtail",)


def test_a_pigtail_that_is_no_ground_is_never_one_of_them():
    sheet = settings(
        in_box("pigtail #12 ground; 3 x pigtail #12", "wires A > ? ground 4 x #12"), "grounding-pigtail", "counted"
    )
    assert line(sheet, rule=RULE).amount == Decimal("2.8125")  # five: the four and the one pigtail


def test_a_disputed_point_that_two_leads_lean_on_is_said_once():
    sheet = in_box("leads 2 x #16, ground #16; leads 3 x #14, ground #14")
    assert line(sheet, rule=RULE).readings == ("equipment-leads",)


def test_armor_that_is_the_ground_counts_nothing():
    assert lines(in_box("clamps outside", "run A > ? 12/2 ac"), rule=RULE) == []


def test_the_ground_of_a_domed_canopy_is_left_out_and_that_of_a_flat_one_counts():
    sheet = in_box("fixture wires 2 x #18, ground #18 from {} canopy")
    assert lines(sheet.format("domed"), rule=RULE) == []
    assert line(sheet.format("flat"), rule=RULE).amount == Decimal("1.50")


def test_the_ground_among_equipment_leads_counts():
    assert line(in_box("leads 2 x #14, ground #14"), rule=RULE).amount == 2


def test_leads_without_a_ground_are_no_grounds():
    assert lines(in_box("leads 5 x #14; fixture wires 2 x #18"), rule=RULE) == []


def test_leads_read_as_a_canopys_leave_their_ground_out():
    sheet = settings(in_box("leads 2 x #16, ground #16"), "equipment-leads", "as-canopy")
    assert lines(sheet, rule=RULE) == []


def test_an_isolated_ground_among_equipment_leads_is_a_set_of_its_own_before_2020():
    found = lines(in_box("leads ground #14, isolated ground #12"), 2017, RULE)
    assert [(line.label, line.amount) for line in found] == [
        ("Equipment grounds", 2),
        ("Isolated grounds", Decimal("2.25")),
    ]


def test_a_ground_of_class_2_wiring_counts_as_a_low_voltage_wire():
    assert lines(in_box("", "wires A > ? 2 x #18, ground #18 class 2"), rule=RULE) == []


# ---- how sure ------------------------------------------------------------------------------------------------------


def test_a_ground_known_from_memory_makes_the_line_so():
    assert line(in_box("clamps none", "run A > ? 12/2 nm-b"), rule=RULE).confidence == "two sources"
    assert line(in_box("clamps none", "run A > ? 10/3 nm-b"), rule=RULE).confidence == "from memory"
    both = in_box("clamps none", "run A > ? 12/2 nm-b", "run A > ? 10/3 nm-b")
    assert line(both, rule=RULE).confidence == "from memory"


def test_an_old_cable_may_have_no_ground():
    sheet = in_box("clamps none", "run A > ? 14/2 old", base="marked 5 in3")
    (found,) = findings(sheet)
    assert found.verdict.word == "check needed"  # 4.00 without a ground, 6.00 with one
    assert found.facts[0].question == "whether 14/2 old (other end not known) has a ground, and its size"
    assert verdict(in_box("clamps none", "run A > ? 14/2 old, no ground", base="marked 5 in3")) == "passes"
    assert verdict(in_box("clamps none", "run A > ? 14/2 old, ground #16", base="marked 5 in3")) == "fails"


def test_a_ground_that_may_be_there_is_one_ground():
    sheet = in_box("clamps none", "run A > ? 14/2 old", "wires A > ? ground 4 x #14")
    (found,) = findings(sheet)
    assert found.worst.needed == Decimal("6.50")  # 2 x 2.00, and five grounds: 1.25 x 2.00


@pytest.mark.parametrize("number", range(1, 9))
@pytest.mark.parametrize("year", COMPARED)
def test_one_more_ground_never_takes_less_room(number: int, year: int):
    assert needed(grounds(number + 1), year) >= needed(grounds(number), year)


def test_grounds_take_no_room_away():
    assert there(grounds(9)) == 100
