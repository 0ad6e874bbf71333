"""Since 2023 a terminal block takes one allowance, by the largest conductor on it; before, none was stated."""

from __future__ import annotations

from decimal import Decimal

import pytest

from tests.helpers import COMPARED, in_box, line, lines, settings

RULE = "box-fill-terminal-blocks"


@pytest.mark.parametrize("year", COMPARED)
def test_a_block_takes_one_allowance_since_2023_and_nothing_before(year: int):
    found = line(in_box("terminal block #10"), year, RULE)
    assert found.amount == (Decimal("2.50") if year >= 2023 else 0)
    assert found.cite == ("314.16(B)(6)" if year >= 2023 else "314.16(B) gives none before 2023")
    assert found.readings == (() if year >= 2023 else ("early-terminal-block",))


def test_it_is_the_conductor_on_it_that_decides_and_not_the_largest_in_the_box():
    found = line(in_box("terminal block #12", "wires A > ? 1 x #8"), rule=RULE)
    assert found.amount == Decimal("2.25")
    assert found.why == "by #12, the largest conductor on it"


def test_several_blocks_take_one_each():
    found = line(in_box("3 x terminal block #12"), rule=RULE)
    assert (found.label, found.amount) == ("3 terminal blocks", Decimal("6.75"))


@pytest.mark.parametrize(("choice", "room"), [("not-counted", 0), ("counted", "2.25")])
@pytest.mark.parametrize("year", [2008, 2020])
def test_before_2023_it_counts_only_if_it_is_read_so(choice: str, room: str, year: int):
    found = line(settings(in_box("terminal block #12"), "early-terminal-block", choice), year, RULE)
    assert found.amount == Decimal(room)
    assert found.readings == ("early-terminal-block",)
    said = "read as since 2023, by #12" if choice == "counted" else "the code gives no number; leave room for it anyway"
    assert found.why == said


def test_since_2023_no_reading_takes_it_away():
    sheet = settings(in_box("terminal block #12"), "early-terminal-block", "not-counted")
    assert line(sheet, 2023, RULE).amount == Decimal("2.25")


def test_a_block_of_unknown_size_holds_what_ends_here():
    assert line(in_box("terminal block", "wires A > ? 4 x #14"), rule=RULE).amount == 2


def test_a_block_on_4_awg_takes_the_last_row():
    assert line(in_box("terminal block #4"), rule=RULE).amount == 5


def test_without_a_block_there_is_no_line():
    assert lines(in_box(""), rule=RULE) == []
