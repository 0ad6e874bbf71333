"""The room of one conductor, and what stands in for a size the table has no row for."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ampleroom.editions import CodeBook
from ampleroom.editions.conductor_room import CONDUCTOR_ROOM
from ampleroom.job.trade import SIZES
from ampleroom.rules.allowance import allowance, has_row, is_large, within_table

BOOK = CodeBook(2023)


@pytest.mark.parametrize(("size", "room"), [("18", "1.50"), ("12", "2.25"), ("6", "5.00"), ("4", None), ("20", None)])
def test_a_size_has_its_row_or_none(size: str, room: str | None):
    assert allowance(size, BOOK) == (None if room is None else Decimal(room))
    assert has_row(size, BOOK) is (room is not None)


@pytest.mark.parametrize(
    ("size", "row"),
    [
        ("24", "18"),
        ("20", "18"),
        ("18", "18"),
        ("16", "16"),
        ("6", "6"),
        ("4", "6"),
        ("4/0", "6"),
        ("250", "6"),
        ("2000", "6"),
    ],
)
def test_a_size_past_either_end_of_the_table_is_taken_as_the_row_at_that_end(size: str, row: str):
    assert within_table(size, BOOK) == row


@pytest.mark.parametrize(("size", "large"), [("18", False), ("6", False), ("4", True), ("1/0", True), ("250", True)])
def test_4_awg_is_the_first_that_belongs_to_pull_boxes(size: str, large: bool):
    assert is_large(size, BOOK) is large


def test_a_thicker_size_never_takes_less():
    rooms = [BOOK[CONDUCTOR_ROOM].rows[within_table(size, BOOK)] for size in SIZES]
    assert rooms == sorted(rooms)
