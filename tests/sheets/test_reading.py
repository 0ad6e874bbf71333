"""Faults of a filled workbook, each at its tab and cell; a person's own column names, said once and remembered."""

import datetime
import sys

import pytest

from ampleroom import SheetFaults, read_job
from ampleroom.errors import AmpleroomError, FileTrouble
from ampleroom.sheets.own_names import REMEMBERED, own_names, remembered, remembered_text
from ampleroom.sheets.reading import read_workbooks
from ampleroom.sheets.tables import letter, read_tables
from tests.sheets.helpers import faults, job_of, made, small
from tests.sheets.test_round_trip import ROWS

pytest.importorskip("python_calamine")

BOXES = ["Box", "What it is", "Clamps", "Devices", "At"]
JOB = [["Word", "What"], ["edition", "2020"]]


def told(**tabs):
    """Faults of a workbook of these tabs; the second column of Job is the edition where no Job is given."""
    return faults(made(**{"Job": JOB, **tabs}))


def test_every_fault_of_every_tab_is_told_at_once_each_at_its_cell():
    found = told(
        Boxes=[BOXES, ["A", "sqare 4 x 1-1/2", "insde", "switch #13", ""], ["A", "marked 20 in3", "", "", ""]],
        Runs=[["From", "To", "Cable or wires", "Length"], ["A", "Z", "12/2 nm-b", "long"], ["A", "A", "12/9 xx", ""]],
        Circuits=[["Circuit", "Amperes"], ["7", "many"]],
    )
    assert [place for place, _, _ in found] == [
        "tab Boxes, cell B2",
        "tab Boxes, cell C2",
        "tab Boxes, cell D2",
        "tab Boxes, cell A3",
        "tab Runs, cell D2",
        "tab Runs, cell C3",
        "tab Circuits, cell B2",
    ]
    assert found[3][1] == "place A is already in tab Boxes, cell A2"


def test_a_fault_is_printed_with_its_cell_the_words_and_what_to_do_and_no_line_of_a_sheet_nobody_wrote():
    with pytest.raises(SheetFaults) as found:
        job_of(made(Boxes=[BOXES, ["A", "sqare 4 x 1-1/2", "", "", ""]], Job=JOB))
    assert found.value.faults[0].text.splitlines() == [
        "w.xlsx, tab Boxes, cell B2: unknown word 'sqare'",
        "      |   sqare 4 x 1-1/2",
        "      |   ^^^^^ did you mean 'square'?",
    ]


def test_faults_of_amendments_stay_faults_of_their_own_file(tmp_path):
    (tmp_path / "w.xlsx").write_bytes(made(Boxes=[["Box"], ["A"]], Job=[*JOB, ["amendments", "here.toml"]]))
    (tmp_path / "here.toml").write_text("place = 3\n")
    with pytest.raises(SheetFaults, match=r"^here\.toml:1:"):
        read_workbooks([tmp_path / "w.xlsx"])


def test_a_word_that_is_nearly_right_gets_the_right_one_as_its_hint():
    ((place, message, hint),) = told(Boxes=[BOXES, ["A", "sqare 4 x 1-1/2", "", "", ""]])
    assert (place, message) == ("tab Boxes, cell B2", "unknown word 'sqare'")
    assert "'square'" in hint


def test_the_cell_is_that_of_the_second_of_several_lines():
    found = told(Boxes=[BOXES, ["A", "square 4 x 1-1/2", "", "switch #14; recptacle #12", ""]])
    assert [place for place, _, _ in found] == ["tab Boxes, cell D2"]


def test_rows_left_empty_and_a_head_farther_down_keep_the_numbers_of_the_cells():
    rows = [[None] * 6, [None] * 6, [None, *BOXES], [None] * 6, [None, "A", "sqare 4 x 1-1/2", None, None, None]]
    assert [place for place, _, _ in told(Boxes=rows)] == ["tab Boxes, cell C5"]


def test_a_date_a_spreadsheet_made_of_a_size_is_told():
    rows = [["From", "To", "Cable or wires"], ["?", "?", datetime.date(2026, 2, 12)]]
    places = [(place, message, hint) for place, message, hint in told(Runs=rows) if "date" in message]
    assert places == [
        (
            "tab Runs, cell C2",
            "the spreadsheet took this for a date: 2026-02-12",
            "format the column as text and write it again",
        )
    ]


def test_a_column_nobody_knows_is_told_with_how_to_say_what_it_is():
    ((place, message, hint),) = told(Boxes=[["Box", "Boxx size"], ["A", "square 4 x 1-1/2"]])
    assert (place, message) == ("tab Boxes, cell B1", "unknown column 'Boxx size' in tab Boxes")
    assert hint.startswith("say which one it is: --column 'Boxx size=")
    assert hint.endswith("or skip it: --column 'Boxx size=ignore'")


def test_a_column_that_is_there_twice_is_told():
    found = told(Boxes=[["Box", "At", "at"], ["A", "x", "y"]])
    assert ("tab Boxes, cell C1", "column At is there twice", "keep one of them") in found


def test_a_tab_without_its_first_column_and_a_row_without_its_name_are_told():
    no_column = [(place, message) for place, message, _ in told(Boxes=[["At"], ["the vat"]])]
    assert ("tab Boxes, cell A1", "tab Boxes has no column 'Box'") in no_column
    no_name = told(Boxes=[BOXES, ["", "square 4 x 1-1/2", "", "", ""], ["B"]])
    assert no_name == [("tab Boxes, cell A2", "the row has no Box", "fill it in, or empty the row")]


def test_a_tab_nobody_knows_is_told_with_the_nearest():
    found = told(Boxs=[["Colour"], ["red"]])
    assert ("tab Boxs, cell A1", "unknown tab 'Boxs'", "did you mean 'Boxes'?") in found


def test_neither_yes_nor_no_is_told():
    found = told(Panels=[["Panel"], ["P"]], Circuits=[["Circuit", "Amperes", "Continuous"], ["7", "20", "maybe"]])
    assert found == [("tab Circuits, cell C2", "'maybe' is neither yes nor no", "write yes, or leave it empty")]


@pytest.mark.parametrize(
    ("said", "is_yes"), [("yes", True), ("X", True), (True, True), (1, True), ("no", False), ("", False)]
)
def test_yes_is_said_in_several_ways(said, is_yes):
    job = job_of(made(Panels=[["Panel"], ["P"]], Circuits=[["Circuit", "Amperes", "Continuous"], ["7", 20, said]]))
    assert job.circuits[0].continuous is is_yes


def test_numbers_without_units_get_the_units_of_their_column():
    job = job_of(
        made(
            Panels=[["Panel", "Volts", "Phases", "Main, A"], ["P", "120/240", 1, 200.0]],
            Routes=[["Route", "Length", "Ambient, C", "Rooftop, in"], ["dock", "24 ft", -10, 4.0]],
        )
    )
    assert job == read_job(
        "panel P 120/240 V 1-phase main 200 A\nroute dock 24 ft ambient -10 C rooftop 4 in\n", beside=None
    )


def test_notes_results_and_what_is_empty_are_passed_over():
    job = job_of(made(Notes=[["anything"], ["at all"]], Results=[["Box"], ["A"]], Lists=[], **ROWS))
    assert job == small()


def test_letters_of_columns_are_those_of_a_spreadsheet():
    assert [letter(number) for number in (0, 25, 26, 51, 52, 701, 702)] == ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]


# ---- own column names ----------------------------------------------------------------------------------------------

OWN = {
    **ROWS,
    "Boxes": [["Box #", "Size", "Clamps", "Devices", "Room", "Breaker"], [*ROWS["Boxes"][1], "B7"]],
}
NAMES = ["Box #=Box", "SIZE = What it is", "room=At", "Breaker=ignore"]


def test_own_column_names_are_read_as_ours_whatever_their_case():
    assert job_of(made(**OWN), **own_names(NAMES)) == small()


def test_own_column_names_are_kept_beside_the_workbook_and_used_the_next_time(tmp_path):
    (tmp_path / "ours.xlsx").write_bytes(made(**OWN))
    names = own_names([*NAMES, 'a "quoted" \\ one=At'])
    (tmp_path / REMEMBERED).write_bytes(remembered_text(names))
    assert remembered(tmp_path) == names
    assert read_workbooks([tmp_path / "ours.xlsx"]) == small()
    assert read_workbooks([tmp_path / "ours.xlsx"], own_names(["room=At"])) == small()


def test_nothing_is_remembered_where_nothing_was_said(tmp_path):
    assert remembered(tmp_path) == {}


@pytest.mark.parametrize("text", ["columns = 3", "[columns", "[columns]\nx = 'no such column'", "\udcff"])
def test_a_file_of_names_that_was_spoiled_is_told(tmp_path, text):
    (tmp_path / "ampleroom-columns.toml").write_bytes(text.encode("utf-8", "surrogateescape"))
    with pytest.raises(AmpleroomError):
        remembered(tmp_path)


@pytest.mark.parametrize(
    ("pair", "message"),
    [
        ("Box", "'Box' is not a pair of column names; write 'Box #=Box', or 'Breaker=ignore'"),
        ("=Box", "'=Box' is not a pair of column names"),
        ("x=Bx", "there is no column 'Bx' here; did you mean 'Box'?"),
        ("x=zzzzzz", "there is no column 'zzzzzz' here; write one of: "),
    ],
)
def test_a_pair_of_names_that_says_nothing_is_told(pair, message):
    with pytest.raises(AmpleroomError) as found:
        own_names([pair])
    assert str(found.value).startswith(message)


def test_a_file_that_is_not_there_is_told(tmp_path):
    with pytest.raises(FileTrouble, match=r"there is no file .*none\.xlsx"):
        read_workbooks([tmp_path / "none.xlsx"])


def test_without_its_library_reading_says_what_to_install(monkeypatch):
    monkeypatch.setitem(sys.modules, "python_calamine", None)
    with pytest.raises(AmpleroomError, match=r"workbooks need python-calamine: ./run convert brings it"):
        read_tables(b"", "w.xlsx")
