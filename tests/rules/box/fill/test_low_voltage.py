"""Class 2 and data wires have no number in the table: read cautiously, each counts as 18 AWG."""

from __future__ import annotations

from decimal import Decimal

import pytest

from tests.helpers import in_box, line, lines, needed, settings

RULE = "box-fill-low-voltage"


@pytest.mark.parametrize(
    ("size", "each", "taken"),
    [("24", "1.50", "18"), ("22", "1.50", "18"), ("18", "1.50", "18"), ("16", "1.75", "16"), ("14", "2.00", "14")],
)
def test_a_thin_one_counts_as_18_and_a_thicker_one_by_its_own_size(size: str, each: str, taken: str):
    found = line(in_box("", f"wires A > ? 4 x #{size} class 2"), rule=RULE)
    assert (found.count, found.each) == (4, Decimal(each))
    assert found.label == f"Low-voltage wires, #{size}"
    assert found.why == f"4 x #{size} (other end not known); each taken as #{taken}"


@pytest.mark.parametrize(("choice", "room"), [("as-18", "6.00"), ("not-counted", "0")])
def test_they_count_as_they_are_read(choice: str, room: str):
    sheet = settings(in_box("", "wires A > ? 4 x #22 class 2"), "low-voltage", choice)
    found = line(sheet, rule=RULE)
    assert found.amount == Decimal(room)
    assert found.readings == ("low-voltage",)
    assert found.why.endswith("each taken as #18" if choice == "as-18" else "not counted here: a disputed point")


def test_the_line_says_that_the_book_has_no_value():
    found = line(in_box("", "wires A > ? 4 x #22 class 3"), rule=RULE)
    assert (found.cite, found.confidence) == ("no table value", "one source")


def test_a_low_voltage_cable_counts_all_its_wires_its_ground_too():
    sheet = in_box("clamps none", "run A > ? 18/2 ?, ground #18 class 2")
    assert sum(found.amount for found in lines(sheet, rule=RULE)) == Decimal("4.50")


@pytest.mark.parametrize(
    ("choice", "amount", "why"),
    [
        ("as-18", 6, "each taken as #18; each counts 2 times"),
        ("not-counted", 0, "not counted here: a disputed point"),
    ],
)
def test_a_long_loop_of_them_counts_twice_and_says_so_where_they_count(choice: str, amount: int, why: str):
    sheet = settings(in_box("", "wires ? > ? 2 x #18 class 2 through A loop 24 in"), "low-voltage", choice)
    found = line(sheet, rule=RULE)
    assert (found.amount, found.why) == (amount, f"2 x #18 passing on ? > ?; {why}")


def test_they_are_counted_nowhere_else():
    assert needed(in_box("", "wires A > ? 2 x #12", "wires A > ? 2 x #18 class 2")) == Decimal("7.50")


def test_power_wires_are_not_counted_here():
    assert lines(in_box("", "wires A > ? 2 x #18"), rule=RULE) == []


def test_one_thicker_than_the_table_takes_its_last_row():
    assert line(in_box("", "wires A > ? 1 x #4 class 2"), rule=RULE).amount == 5


def test_an_isolated_ground_of_class_2_wiring_counts_once():
    assert needed(in_box("", "wires A > ? isolated ground #18 class 2")) == Decimal("1.50")
