"""An edition is offered when every table in force in it was compared with it."""

from __future__ import annotations

import pytest

from ampleroom import EditionUnknown, check, read_job
from ampleroom.editions import NEWEST_COMPARED, OFFERED, CodeBook, edition
from ampleroom.editions.tables import MARKS, listed, mark_of
from tests.editions.test_tables import ALL_TABLES

ALL_OFFERED = ", ".join(map(str, OFFERED))
MATRIX: dict[str, str] = listed("compared")["compared"]


def test_six_editions_are_offered_and_one_provisionally():
    assert [year for year, offered in OFFERED.items() if not offered.provisional] == [
        2008,
        2011,
        2014,
        2017,
        2020,
        2023,
    ]
    assert [year for year, offered in OFFERED.items() if offered.provisional] == [2026]
    assert NEWEST_COMPARED == 2023


def test_the_matrix_has_a_row_for_every_table_and_a_mark_for_every_edition():
    assert set(MATRIX) == set(ALL_TABLES)
    assert {table: len(marks.split()) for table, marks in MATRIX.items()} == dict.fromkeys(ALL_TABLES, len(OFFERED))
    assert {mark for marks in MATRIX.values() for mark in marks.split()} == set(MARKS)


def test_every_table_was_compared_with_every_edition_that_is_not_provisional():
    books = [CodeBook(year) for year, offered in OFFERED.items() if not offered.provisional]
    assert [(book.year, table) for book in books for table in MATRIX if not book.is_compared(table)] == []
    assert [book.not_compared for book in books if any(book.block(table) for table in MATRIX)] == [()] * len(books)


def test_a_table_that_is_not_in_the_matrix_was_compared_with_no_edition():
    assert [mark_of("box_fill.cord_grips", year).compared for year in OFFERED] == [False] * len(OFFERED)


@pytest.mark.parametrize("table", [table for table in MATRIX if table != "cables.cable"])
def test_no_table_was_compared_with_the_provisional_edition(table: str):
    book = CodeBook(2026)
    assert not book.is_compared(table)
    assert book.block(table)["confidence"] == "not compared with 2026"
    assert book.not_compared == (table,)


def test_the_make_up_of_cables_is_a_fact_of_manufacture_and_holds_for_all():
    assert set(MATRIX["cables.cable"].split()) == {"c"}


# Typed a second time from the list of what was read: the tables that rest on memory, and in which editions.
FROM_MEMORY = {
    "box_room.measured": {2008, 2011, 2014, 2017, 2020, 2023},
    "box_room.spaces": {2008, 2011, 2014, 2017, 2020, 2023},
    "box_fill.devices": {2008},
    "box_fill.grounds": {2017},
    "box_depth.empty": {2008},
    "box_depth.projecting": {2008},
    "box_depth.large": {2008},
    "box_depth.by_conductor": {2008},
    "box_depth.rear_entry": {2008},
    "wireways.gutter_conductors": {2023},
    "wireways.gutter_splices": {2008, 2011, 2014, 2017, 2020, 2023},
    "wireways.bending": {2008, 2011, 2014, 2017, 2023},
    "wireways.gutter_bending": {2008, 2011, 2014, 2017, 2020, 2023},
    "wireways.entries": {2008, 2011, 2014, 2017, 2023},
    "wireways.gutter_entries": {2008, 2011, 2014, 2017, 2020, 2023},
    "wireways.support": {2008, 2011, 2014, 2017, 2023},
    "wireways.gutter_support": {2011, 2014, 2017, 2020, 2023},
    "ampacity.ambient": {2008},
    "ampacity.ambient_40": {2008},
    "ampacity.rooftop": {2014},
    "cables_heat.armored": {2008},
    "raceways.insulations": {2008, 2011, 2014, 2017, 2020, 2023},
    "grounding.path": {2008, 2011, 2014, 2017, 2020, 2023},
    "resistance.trade": {2008, 2011, 2014, 2017, 2020, 2023},
    "voltage_drop.branch": {2014, 2017},
    "voltage_drop.feeder": {2008, 2014, 2017},
    "motors.overload": {2008, 2011, 2014, 2017, 2020, 2023},
    "equipment.space_heat": {2008, 2011, 2014, 2017},
    "equipment.charging": {2008, 2011, 2014},
    "equipment.compressor_will_not_start": {2008, 2011, 2014, 2017, 2020, 2023},
    "by_place.ground_fault": {2008},
    "by_place.arc_fault": {2017},
    "by_place.outdoors": {2008, 2011, 2014, 2017},
    "by_place.extension": {2008},
    "loads.heat_or_cooling": {2008, 2011, 2014, 2017, 2023},
    "loads.charging": {2008, 2011, 2014},
    "loads.least_service": {2008, 2011, 2014, 2017, 2020, 2023},
    "panels.spaces": {2008, 2011, 2014, 2017, 2020, 2023},
    "panels.two_pole": {2008, 2011, 2014, 2017, 2020, 2023},
    "panels.balance": {2008, 2011, 2014, 2017, 2020, 2023},
    "panels.bus": {2008, 2011, 2014, 2017, 2020, 2023},
    "panels.branch": {2008, 2011, 2014, 2017, 2020, 2023},
    "panels.garage": {2008, 2011, 2014, 2017},
    "panels.steps": {2008, 2011, 2014, 2017, 2020, 2023},
    "multiwire.legs": {2008, 2011, 2014, 2017, 2020, 2023},
    "wire_ends.one_wire": {2008, 2011, 2014, 2017, 2020, 2023},
    "wire_ends.torque": {2008, 2011, 2014, 2017, 2020, 2023},
    "wire_ends.metals": {2008, 2011, 2014, 2017, 2020, 2023},
    "wire_ends.neutral": {2008, 2011, 2014, 2017, 2020, 2023},
    "wire_ends.service": {2008, 2011, 2014, 2017, 2020, 2023},
    "reminders.cover": {2014},
    "reminders.metal_entry": {2008, 2011, 2014, 2017, 2020, 2023},
    "reminders.power_limited": {2008, 2011, 2014, 2017, 2020, 2023},
}


def test_what_rests_on_memory_is_as_typed_a_second_time():
    """A mark may only be raised with a source; whoever raises one says so here too."""
    found = {table: {year for year in OFFERED if mark_of(table, year).from_memory} for table in MATRIX}
    assert {table: years for table, years in found.items() if years} == FROM_MEMORY


@pytest.mark.parametrize("year", [1999, 2005, 2009, 2999])
def test_an_edition_not_offered_is_refused_with_those_that_are(year: int):
    with pytest.raises(EditionUnknown) as refused:
        CodeBook(year)
    assert str(refused.value) == (f"no {year} edition is offered; the editions are {ALL_OFFERED}")
    with pytest.raises(EditionUnknown):
        edition(year)


def test_a_sheet_without_an_edition_is_not_judged_by_a_silent_one():
    job = read_job("box J1\n  square 4 x 1-1/2\n")
    with pytest.raises(EditionUnknown) as refused:
        check(job)
    assert "the sheet does not say which edition" in str(refused.value)
    assert f"'edition {NEWEST_COMPARED}'" in str(refused.value)
    assert ALL_OFFERED in str(refused.value)


def test_the_edition_of_the_sheet_gives_way_to_one_asked_for():
    job = read_job("edition 2017\nbox J1\n  marked 100 in3\nwires J1 > ? ground 5 x #12\n")
    assert check(job).book.year == 2017
    assert check(job, 2020).book.year == 2020
