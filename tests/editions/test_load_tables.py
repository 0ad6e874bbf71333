"""The tables of dwelling loads against the laws they are printed by, typed here a second time.

The formulas stand in the 2011 text (2013 California Electrical Code) below Tables 220.54 and 220.55.
"""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.loads import APARTMENTS, COOKING, DRYERS
from tests.helpers import COMPARED

A_COLUMN = "80 75 70 66 62 59 56 53 51 49 47 45 43 41 40 39 38 37 36 35 34 33 32 31 30"
"""For 1 to 25 appliances, read from the 2011 text."""
BOOKS = [CodeBook(year) for year in COMPARED]


def row_of(rows, quantity):
    return next(row for row in rows if row.up_to is None or quantity <= row.up_to)


def dryer_law(dryers: int) -> Decimal:
    """Percent by the formulas of Table 220.54."""
    if dryers <= 11:
        return Decimal((100, 100, 100, 100, 85, 75, 65, 60, 55, 50, 47)[dryers - 1])
    if dryers <= 23:
        return Decimal(47 - (dryers - 11))
    return Decimal(35) - Decimal(dryers - 23) / 2 if dryers <= 42 else Decimal(25)


def range_law(ranges: int) -> Decimal:
    """Column C of Table 220.55, kW: 8, then 3 more each up to five, then 1 more each; 15 and 1 each from 26 to 40, then
    25 and 3/4 each.
    """
    if ranges <= 5:
        return Decimal(5 + 3 * ranges)
    return Decimal(15 + ranges) if ranges <= 40 else Decimal(25) + Decimal(3 * ranges) / 4


def test_dryers_follow_their_formulas_in_every_compared_edition():
    for book in BOOKS:
        rows = book[DRYERS].rows
        assert [row_of(rows, n).percent for n in range(1, 80)] == [dryer_law(n) for n in range(1, 80)]


def test_ranges_follow_their_formulas_and_no_more_of_them_count_for_less():
    for book in BOOKS:
        rows = book[COOKING].rows
        demands = [(row := row_of(rows, n)).c + row.c_each * n for n in range(1, 200)]
        assert demands == [range_law(n) for n in range(1, 200)]
        assert demands == sorted(demands)
        assert [str(row_of(rows, n).a) for n in range(1, 26)] == A_COLUMN.split()
        for column in ("a", "b"):
            percents = [getattr(row, column) for row in rows]
            assert percents == sorted(percents, reverse=True)


def test_apartments_count_for_less_the_more_there_are_from_45_to_23_percent():
    for book in BOOKS:
        percents = [row.percent for row in book[APARTMENTS].rows]
        assert percents == sorted(set(percents), reverse=True)
        assert [percents[0], percents[-1], len(percents)] == [45, 23, 23]


def test_the_provisional_edition_has_the_changes_that_were_read():
    """Course page 1845: 1 or 2 dryers in full, 3 to 5 at 80 percent, from 43 on 25."""
    rows = CodeBook(2026)[DRYERS].rows
    assert [row_of(rows, n).percent for n in (1, 2, 3, 5, 43)] == [100, 100, 80, 80, 25]
