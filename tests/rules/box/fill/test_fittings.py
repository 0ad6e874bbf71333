"""Studs take one allowance, hickeys another: one a kind, by the largest conductor in the box."""

from __future__ import annotations

from decimal import Decimal

import pytest

from tests.helpers import COMPARED, in_box, line, lines

RULE = "box-fill-fittings"
CABLE = "run A > ? 14/2 nm-b"


@pytest.mark.parametrize(("fitting", "what"), [("stud", "Luminaire stud"), ("hickey", "Hickey")])
def test_a_fitting_takes_one_allowance_by_the_largest_conductor(fitting: str, what: str):
    found = line(in_box(f"clamps none; {fitting}", CABLE, "wires ? > ? 1 x #10 through A"), rule=RULE)
    assert (found.label, found.amount, found.cite) == (what, Decimal("2.50"), "314.16(B)(3)")
    assert found.why == "one, sized by the largest conductor in the box, #10"


@pytest.mark.parametrize("written", ["3 x stud", "stud; 2 x stud", "stud; stud; stud", "studs 3"])
def test_several_of_one_kind_take_one_allowance_together(written: str):
    found = line(in_box(f"clamps none; {written}", CABLE), rule=RULE)
    assert found.amount == 2
    assert found.why == "one for all 3, sized by the largest conductor in the box, #14"


def test_two_are_several():
    found = line(in_box("clamps none; 2 x stud", CABLE), rule=RULE)
    assert found.why == "one for all 2, sized by the largest conductor in the box, #14"


@pytest.mark.parametrize("year", COMPARED)
def test_a_stud_and_a_hickey_take_one_each(year: int):
    found = lines(in_box("clamps none; stud; hickey", CABLE), year, RULE)
    assert [(line.label, line.amount) for line in found] == [("Luminaire stud", 2), ("Hickey", 2)]
    assert {line.why for line in found} == {"one, sized by the largest conductor in the box, #14"}


def test_a_fitting_in_a_box_without_conductors_takes_nothing():
    assert lines(in_box("stud"), rule=RULE) == []


def test_without_a_fitting_there_is_no_line():
    assert lines(in_box("clamps none", CABLE), rule=RULE) == []
