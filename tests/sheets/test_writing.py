"""Workbooks and tables as a second library opens them: text is text, whatever it begins with."""

import csv
import io
import time

import pytest

from ampleroom import check, read_job
from ampleroom.errors import AmpleroomError
from ampleroom.sheets.apostrophe import guarded, unguarded
from ampleroom.sheets.tabs import TABS
from ampleroom.sheets.writing import LINE_COLUMNS, RESULT_COLUMNS, results_csv, workbook
from ampleroom.words import CAUTION
from tests.hostile import HOSTILE
from tests.pictures.helpers import OVERFULL, UNREAD, report
from tests.pictures.test_svg import hostile_job
from tests.sheets.helpers import opened, small

pytest.importorskip("xlsxwriter")


def cells(book):
    for sheet in book:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.value is not None:
                    yield sheet.title, cell


@pytest.mark.parametrize("name", HOSTILE.values(), ids=HOSTILE)
def test_a_hostile_name_is_text_in_every_cell_of_the_workbook(name):
    job = hostile_job(name)
    book = opened(workbook(job, check(job)))
    found = list(cells(book))
    assert {cell.data_type for _, cell in found} <= {"s", "n"}
    assert not any(cell.hyperlink for _, cell in found)
    for tab, cell in found:
        if cell.data_type == "n":
            assert tab in ("Results", "Worksheets")
    visible = {str(cell.value) for _, cell in found}
    if name.isprintable() and len(name) < 200:
        assert name in visible


def test_no_cell_is_a_formula_and_no_text_a_link():
    data = workbook(hostile_job("=1+1"), check(hostile_job("http://x.example")))
    import zipfile

    with zipfile.ZipFile(io.BytesIO(data)) as file:
        for name in file.namelist():
            text = file.read(name)
            if name.startswith("xl/worksheets/sheet"):
                assert b"<f>" not in text
                assert b"<hyperlink" not in text


@pytest.mark.parametrize(("text", "safe"), [
    ("=1+1", "'=1+1"), ("+1", "'+1"), ("@x", "'@x"), ("-x", "'-x"), ("-2+3", "'-2+3"), ("\tx", "'\tx"), ("\rx", "'\rx"),
    ("-4.00", "-4.00"), ("-0.5", "-0.5"), ("J1", "J1"), ("", ""), ("1=1", "1=1"), (" =1", "' =1"), ("\n=1", "'\n=1"),
    ("-", "'-"), ("＝1", "'＝1"), ("'=1", "''=1"), ("'tis", "'tis"), ("-1-1", "'-1-1"), ("-٣", "'-٣"),
])  # fmt: skip
def test_text_a_spreadsheet_would_take_for_a_formula_gets_an_apostrophe_in_csv(text, safe):
    assert guarded(text) == safe
    assert unguarded(safe) == text


@pytest.mark.parametrize("name", HOSTILE.values(), ids=HOSTILE)
def test_no_cell_of_the_csv_begins_like_a_formula(name):
    table = list(csv.reader(io.StringIO(results_csv(check(hostile_job(name))), newline="")))
    assert table[0] == list(RESULT_COLUMNS)
    for row in table:
        assert len(row) == len(RESULT_COLUMNS)
        for cell in row:
            assert cell[:1] not in ("=", "+", "@", "\t", "\r")
            assert not cell.startswith("-") or cell[1:].replace(".", "").isdigit()


def test_the_csv_has_the_numbers_of_the_answer():
    row = list(csv.reader(io.StringIO(results_csv(report(OVERFULL)))))[1]
    assert row[:10] == ["A", "the vat", "fails", "18.00", "7.50", "-10.50", "in3", "box", "314.16", "2020 edition"]
    unread = list(csv.reader(io.StringIO(results_csv(report(UNREAD)))))[1]
    assert unread[2:6] == ["check needed", "13.50", "0.00", "-13.50"]


def test_the_results_are_numbers_one_row_a_finding_and_one_a_line():
    found = report(OVERFULL)
    book = opened(workbook(found.job, found))
    rows = list(book["Results"].iter_rows(values_only=True))
    assert rows[0] == RESULT_COLUMNS
    assert rows[1][:8] == ("A", "the vat", "fails", 18, 7.5, -10.5, "in3", "box")
    lines = list(book["Worksheets"].iter_rows(values_only=True))
    assert lines[0] == LINE_COLUMNS
    amounts = [row[6] for row in lines[1:] if row[1] == "Box fill"]
    assert sum(amounts) == 18
    assert any(CAUTION in str(row[0]) for row in rows)


def test_the_template_has_every_tab_with_heads_that_stay_in_sight():
    book = opened(workbook())
    assert book.sheetnames == ["Read me", *(tab.name for tab in TABS)]
    for tab in TABS:
        sheet = book[tab.name]
        assert sheet.freeze_panes == "B2"
        assert tuple(cell.value for cell in sheet[1]) == tab.names
        assert sheet.max_row == 1


def test_every_column_with_choices_has_a_drop_down_over_its_rows():
    book = opened(workbook())
    for tab in TABS:
        validations = book[tab.name].data_validations.dataValidation
        for place, column in enumerate(tab.columns):
            over = [v for v in validations if f"{chr(65 + place)}2" in v.sqref]
            assert bool(over) == bool(column.choices), (tab.name, column.name)
            if over:
                assert over[0].formula1 == '"' + ",".join(column.choices) + '"'
                assert over[0].errorStyle == "warning"
                assert f"{chr(65 + place)}300" in over[0].sqref


def test_every_column_that_has_a_note_shows_it_at_its_head():
    book = opened(workbook())
    for tab in TABS:
        for cell, column in zip(book[tab.name][1], tab.columns, strict=True):
            assert (cell.comment.text if cell.comment else "") == column.note


def test_columns_are_text_so_that_no_spreadsheet_makes_a_date_of_a_size():
    sheet = opened(workbook(small()))["Boxes"]
    assert {cell.number_format for cell in sheet[2] if cell.value} == {"@"}


def test_every_word_offered_in_a_drop_down_can_be_read_back():
    sheet = "edition 2020\nbox A\n  marked 30 in3\n"
    clamps = next(column for tab in TABS if tab.name == "Boxes" for column in tab.columns if column.name == "Clamps")
    for choice in clamps.choices:
        assert read_job(f"{sheet}  clamps {choice}\n").boxes[0].items


def test_a_workbook_has_the_same_bytes_every_time():
    one = workbook(small())
    time.sleep(1.1)  # the format's own clock counts seconds
    assert workbook(small()) == one


def test_what_is_too_long_for_a_cell_is_told_and_not_dropped():
    """A cell holds 32,767 letters, by the format's published limits."""
    job = read_job(f"edition 2020\nbox A at {'x' * 32_767}\n")
    assert any(len(str(cell.value)) == 32_767 for _, cell in cells(opened(workbook(job))))
    job = read_job(f"edition 2020\nbox A at the{'x' * 32_765}\n")
    with pytest.raises(AmpleroomError, match=r"tab Boxes, row 2 would hold 32768 letters in one cell, and .* 'thexxx"):
        workbook(job)


def test_without_its_library_writing_says_what_to_install(monkeypatch):
    import sys

    monkeypatch.setitem(sys.modules, "xlsxwriter", None)
    with pytest.raises(AmpleroomError, match=r"workbooks need XlsxWriter: ./run convert brings it"):
        workbook()
