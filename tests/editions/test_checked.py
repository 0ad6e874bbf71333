"""An edition is offered when every table in force in it was compared with it."""

from __future__ import annotations

import pytest

from ampleroom import EditionUnknown, check, read_job
from ampleroom.editions import NEWEST_COMPARED, OFFERED, CodeBook, edition
from tests.editions.test_tables import ALL_TABLES
from tests.helpers import COMPARED


def test_six_editions_are_offered_and_one_provisionally():
    assert COMPARED == (2008, 2011, 2014, 2017, 2020, 2023)
    assert [year for year, offered in OFFERED.items() if offered.provisional] == [2026]
    assert NEWEST_COMPARED == 2023


@pytest.mark.parametrize("table", ALL_TABLES)
@pytest.mark.parametrize("year", COMPARED)
def test_every_table_was_compared_with_every_edition_offered(year: int, table: str):
    book = CodeBook(year)
    assert year in book[table]["checked"]
    assert book.is_compared(table)


@pytest.mark.parametrize("table", [table for table in ALL_TABLES if table != "cables.cable"])
def test_no_table_was_compared_with_the_provisional_edition(table: str):
    book = CodeBook(2026)
    assert 2026 not in book[table]["checked"]
    assert book.confidence(table) == "not compared with 2026"
    assert book.not_compared == (table,)


def test_the_make_up_of_cables_is_a_fact_of_manufacture_and_holds_for_all():
    assert set(CodeBook(2026)["cables.cable"]["checked"]) == set(OFFERED)


@pytest.mark.parametrize("year", COMPARED)
def test_a_compared_edition_names_no_table(year: int):
    book = CodeBook(year)
    for table in ALL_TABLES:
        assert book[table]
    assert book.not_compared == ()


@pytest.mark.parametrize("year", [1999, 2005, 2009, 2029])
def test_an_edition_not_offered_is_refused_with_those_that_are(year: int):
    with pytest.raises(EditionUnknown) as refused:
        CodeBook(year)
    assert str(refused.value) == (
        f"no {year} edition is offered; the editions are 2008, 2011, 2014, 2017, 2020, 2023, 2026"
    )
    with pytest.raises(EditionUnknown):
        edition(year)


def test_a_sheet_without_an_edition_is_not_judged_by_a_silent_one():
    job = read_job("box J1\n  square 4 x 1-1/2\n")
    with pytest.raises(EditionUnknown) as refused:
        check(job)
    assert "the sheet does not say which edition" in str(refused.value)
    assert "'edition 2023'" in str(refused.value)
    assert "2008, 2011, 2014, 2017, 2020, 2023, 2026" in str(refused.value)


def test_the_edition_of_the_sheet_gives_way_to_one_asked_for():
    job = read_job("edition 2017\nbox J1\n  marked 100 in3\nwires J1 > ? ground 5 x #12\n")
    assert check(job).book.year == 2017
    assert check(job, 2020).book.year == 2020
