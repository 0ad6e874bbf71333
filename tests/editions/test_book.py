"""What is in force in a year: the blocks down to it, later keys over earlier, and how sure each is."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ampleroom.editions import READINGS, Amendments, CodeBook, source_text
from ampleroom.editions.cables import CABLES
from ampleroom.editions.readings import Reading
from ampleroom.editions.standard_boxes import STANDARD_BOXES
from ampleroom.rules.box.fill.devices import DEVICES
from ampleroom.rules.box.fill.grounds import GROUNDS, Grounds


@pytest.mark.parametrize(
    ("table", "key", "last", "first", "old", "new"),
    [
        ("box_fill.grounds", "covered", 2017, 2020, "all", 4),
        ("box_fill.grounds", "extra", 2017, 2020, 0, Decimal("0.25")),
        ("box_fill.grounds", "isolated_set", 2017, 2020, 1, 0),
        ("box_fill.clamps", "assembly", 2011, 2014, 1, 0),
        ("box_fill.terminal_blocks", "each", 2020, 2023, 0, 1),
        ("box_fill.conductor_room", "cite", 2020, 2023, "Table 314.16(B)", "Table 314.16(B)(1)"),
        ("box_room.barrier", "stated", 2014, 2017, False, True),
        ("box_depth.rear_entry", "clearance", 2020, 2023, Decimal("0.25"), Decimal("0.5")),
        ("conduit_bodies.short_radius", "cite", 2008, 2011, "314.5", "314.16(C)(3)"),
        ("reminders.free_conductor", "spliced", 2020, 2023, False, True),
        ("reminders.cover", "screws", 2011, 2014, False, True),
        ("reminders.sheath", "metal", 2014, 2017, False, True),
        ("reminders.sheath", "cite", 2017, 2020, "314.17(B), (C)", "314.17(B)"),
        ("reminders.access", "cite", 2017, 2020, "314.29", "314.29(A)"),
    ],
)
def test_a_change_takes_effect_in_its_edition_and_not_before(table, key, last, first, old, new):
    assert CodeBook(last).block(table)[key] == old
    assert CodeBook(first).block(table)[key] == new


def test_what_a_later_block_does_not_say_falls_through():
    assert CodeBook(2020).block("box_fill.grounds")["cite"] == "314.16(B)(5)"
    assert CodeBook(2023).block("box_fill.conductor_room")["rows"]["12"] == Decimal("2.25")


def test_a_value_from_memory_says_so_in_its_edition_only():
    assert CodeBook(2008)[DEVICES].confidence == "from memory"
    assert CodeBook(2011)[DEVICES].confidence == "two sources"
    assert CodeBook(2017)[GROUNDS].confidence == "from memory"
    assert CodeBook(2020)[GROUNDS].confidence == "two sources"


def test_a_row_may_lower_how_sure_its_table_is_and_never_raise_it():
    in_2023, in_2026 = CodeBook(2023), CodeBook(2026)
    one_reprint = in_2023.standard_box("device", "4 x 2-1/8 x 1-1/2")
    assert in_2023.confidence(STANDARD_BOXES, one_reprint) == "one source"
    assert in_2023.confidence(STANDARD_BOXES, in_2023.standard_box("square", "4 x 1-1/2")) == "two sources"
    assert in_2026.confidence(STANDARD_BOXES, one_reprint) == "not compared with 2026"


def test_a_size_that_is_no_standard_one_has_no_row():
    assert CodeBook(2023).standard_box("square", "4 x 1-3/4") is None


def test_a_table_that_is_not_there_is_our_mistake():
    with pytest.raises(KeyError):
        CodeBook(2023).block("box_fill.nothing")


def test_a_table_not_in_force_yet_is_our_mistake_too(monkeypatch):
    monkeypatch.setattr("ampleroom.editions.book.blocks", lambda table: [{"from": 2026, "cite": "of later"}])
    with pytest.raises(LookupError) as refused:
        CodeBook(2023).block("box_fill.later")
    assert str(refused.value) == "no table 'box_fill.later' in the 2023 edition"


def test_rows_of_a_table_of_one_source_may_rest_on_memory():
    book = CodeBook(2023)
    rows = {(row.kind, row.size, row.of): row for row in book[CABLES].rows}
    assert book.confidence(CABLES, rows["nm-b", "10", "3"]) == "from memory"
    assert book.confidence(CABLES, rows["nm-b", "12", "2"]) == "one source"


def test_an_amendment_may_bring_rows_where_the_book_has_none():
    book = CodeBook(2023, Amendments("Cold Harbor", "", {"box_fill.grounds": [{"from": 2020, "by_size": {"12": 1}}]}))
    assert book[GROUNDS] == Grounds(
        "Cold Harbor amendment", "as Cold Harbor says", Decimal(4), Decimal("0.25"), Decimal(0)
    )
    assert book.block("box_fill.grounds")["by_size"] == {"12": 1}
    assert book.block("box_fill.grounds")["covered"] == 4


def test_the_notes_say_that_it_is_provisional_what_was_not_compared_and_what_was_amended():
    book = CodeBook(2026, Amendments("Cold Harbor", "Ordinance 12-4", {"reminders.fan": [], "box_fill.devices": []}))
    assert book.block("box_fill.grounds")["covered"] == 4
    assert book.block("box_fill.clamps")["together"] == 1
    provisional, not_compared, amended = book.notes
    assert provisional == f"Provisional: {book.edition.note}."
    assert not_compared == "Tables not compared with this edition: box_fill.clamps, box_fill.grounds."
    assert amended == "Amended by Cold Harbor (Ordinance 12-4): box_fill.devices, reminders.fan."
    without_source = CodeBook(2023, Amendments("Cold Harbor", "", {"reminders.fan": []}))
    assert without_source.notes == ["Amended by Cold Harbor: reminders.fan."]
    assert CodeBook(2023).notes == []


def test_the_title_names_the_edition():
    assert CodeBook(2020).title == "2020 edition"


def test_only_the_tables_asked_for_are_named_as_not_compared():
    book = CodeBook(2026)
    assert not book.not_compared
    assert book.block("box_fill.grounds")["covered"] == 4
    assert book.block("box_fill.clamps")["together"] == 1
    assert book.not_compared == ("box_fill.clamps", "box_fill.grounds")


# ---- readings and sources ------------------------------------------------------------------------------------------


def test_the_disputed_points_are_numbered_in_order():
    """The first thirty-six as the shelf has them, then those met later."""
    assert [reading.row for reading in READINGS.values()] == list(range(1, len(READINGS) + 1))
    assert list(READINGS)[35] == "printed-counts"


def test_a_point_is_read_by_default_until_the_sheet_says_otherwise():
    assert CodeBook(2023).reading("plastic-tabs") == "counted"
    assert CodeBook(2023, readings={"plastic-tabs": "not-counted"}).reading("plastic-tabs") == "not-counted"


def test_the_default_stands_first():
    point = Reading(1, "name", "asks", {"first": "a", "second": "b"}, "S1")
    assert point.default == "first"
    assert point.is_open
    assert not Reading(1, "name", "asks", {"only": "a"}, "S1").is_open


@pytest.mark.parametrize("name", READINGS)
def test_every_reading_says_where_it_was_discussed(name: str):
    source = READINGS[name].source
    assert source == "own reading" or all(source_text(key) != key for key in source.split())


def test_a_phrase_that_is_no_key_stands_for_itself():
    assert source_text("own reading") == "own reading"
    assert source_text("S15") == 'Trade-forum thread "EGC Fill"'
