"""convert: sheets to workbooks and back, CSV in, results out."""

import csv
import io

import pytest

from ampleroom import read_job
from tests.cli.helpers import FAILS, OPEN, inside
from tests.sheets.helpers import made, opened
from tests.sheets.test_reading import OWN
from tests.sheets.test_round_trip import ROWS

pytest.importorskip("xlsxwriter")
pytest.importorskip("python_calamine")


def told(ran):
    return " ".join((ran.out + ran.err).split())


def test_a_sheet_becomes_a_workbook_and_the_workbook_a_sheet(folder):
    ran = inside("convert", "fails.job", "--to", "w.xlsx")
    assert (ran.status, told(ran)) == (0, "w.xlsx is written: 1 box, 1 run")
    assert inside("convert", "w.xlsx", "--to", "back.job").status == 0
    assert read_job(folder / "back.job") == read_job(FAILS)


def test_a_sheet_converted_to_a_sheet_is_the_same_bytes(folder):
    odd = "# a remark\r\njob   Cider press\r\nedition 2020\r\nbox A   # here\r\n"
    (folder / "odd.job").write_bytes(odd.encode())
    inside("convert", "odd.job", "--to", "same.job")
    assert (folder / "same.job").read_bytes().replace(b"\r\n", b"\n") == odd.replace("\r\n", "\n").encode()


def test_the_workbook_has_the_results_of_the_edition_asked_for(folder):
    inside("convert", "fails.job", "--to", "w.xlsx", "--edition", "2017")
    row = next(opened((folder / "w.xlsx").read_bytes())["Results"].iter_rows(min_row=2, values_only=True))
    assert row[:3] == ("J1", "the vat", "fails")
    assert "2017 edition" in row


def test_without_an_edition_the_workbook_has_the_job_alone(folder):
    assert inside("convert", "no-edition.job", "--to", "w.xlsx").status == 0
    assert "Results" not in opened((folder / "w.xlsx").read_bytes()).sheetnames


def test_results_as_comma_separated_values(folder):
    inside("convert", "open.job", "--to", "r.csv")
    data = (folder / "r.csv").read_bytes()
    assert data.startswith(b"\xef\xbb\xbf")  # so that a spreadsheet takes it for UTF-8
    rows = list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))
    assert rows[1][:3] == ["J1", "ridge", "check needed"]
    assert inside("convert", "no-edition.job", "--to", "n.csv").status == 2


def test_a_template_is_empty_and_filled_in_it_is_a_job(folder):
    assert told(inside("convert", "--template", "--to", "ours.xlsx")) == "ours.xlsx is written: an empty template"
    book = opened((folder / "ours.xlsx").read_bytes())
    for name, rows in ROWS.items():
        sheet = book[name]
        heads = {cell.value: cell.column for cell in sheet[1]}
        for number, row in enumerate(rows[1:], 2):
            for head, value in zip(rows[0], row, strict=True):
                sheet.cell(number, heads[head], value)
    book.save(folder / "ours.xlsx")
    assert inside("convert", "ours.xlsx", "--to", "ours.job").status == 0
    assert [box.name for box in read_job(folder / "ours.job").boxes] == ["A"]


def test_a_template_is_a_workbook(folder):
    assert "a template is a workbook: --to ours.xlsx, not t.csv" in told(
        inside("convert", "--template", "--to", "t.csv")
    )


def test_csv_files_together_are_one_job(folder):
    for name, rows in ROWS.items():
        out = io.StringIO()
        csv.writer(out).writerows(rows)
        (folder / f"{name.lower()}.csv").write_text(out.getvalue())
    ran = inside("convert", "boxes.csv", "runs.csv", "panels.csv", "job.csv", "--to", "all.job")
    assert told(ran) == "all.job is written: 1 box, 1 run"


def test_own_column_names_are_said_once_and_remembered(folder):
    (folder / "ours.xlsx").write_bytes(made(**OWN))
    first = inside("convert", "ours.xlsx", "--to", "a.job")
    assert first.status == 2
    assert "tab Boxes, cell A1: unknown column 'Box #' in tab Boxes" in told(first)
    names = [
        word for pair in ("Box #=Box", "Size=What it is", "Room=At", "Breaker=ignore") for word in ("--column", pair)
    ]
    assert inside("convert", "ours.xlsx", "--to", "a.job", *names).status == 0
    assert inside("convert", "ours.xlsx", "--to", "b.job").status == 0
    assert (folder / "a.job").read_text() == (folder / "b.job").read_text()


def test_faults_are_told_by_cell_in_words_and_in_json_and_nothing_is_written(folder):
    (folder / "w.xlsx").write_bytes(made(Boxes=[["Box", "What it is"], ["A", "sqare 4 x 1-1/2"]]))
    assert "w.xlsx, tab Boxes, cell B2: unknown word 'sqare'" in told(inside("convert", "w.xlsx", "--to", "w.job"))
    said = inside("convert", "w.xlsx", "--to", "w.job", "--json").json
    assert said["faults"][0]["file"] == "w.xlsx, tab Boxes, cell B2"
    assert not (folder / "w.job").exists()


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["fails.job", "--to", "passes.job"], "passes.job is there already; choose another name, or add --force"),
        (["--to", "x.xlsx"], "name what to convert, or use --template"),
        (["fails.job", "passes.job", "--to", "x.xlsx"], "convert takes one sheet (.job), one workbook"),
        (["a.xlsx", "b.csv", "--to", "x.job"], "convert takes one sheet (.job), one workbook"),
        (["fails.job", "--to", "x.doc"], "convert makes .job, .xlsx or .csv, not '.doc'"),
        (["fails.job", "--to", "x"], "convert makes .job, .xlsx or .csv, not 'a file without an ending'"),
        (["none.xlsx", "--to", "x.job"], "there is no file none.xlsx"),
        (["w.xlsx", "--to", "x.job", "--column", "Box"], "'Box' is not a pair of column names"),
    ],
)
def test_what_cannot_be_done_is_told_and_nothing_is_written(folder, words, message):
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    ran = inside("convert", *words)
    assert (ran.status, ran.out) == (2, "")
    assert message in told(ran)
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before


def test_force_writes_over_what_is_there(folder):
    assert inside("convert", "open.job", "--to", "passes.job", "--force").status == 0
    assert read_job(folder / "passes.job") == read_job(OPEN)


def test_as_json_it_says_the_file(folder):
    said = inside("convert", "fails.job", "--to", "w.xlsx", "--json").json
    assert said == {"schema": "ampleroom-convert/1", "file": "w.xlsx"}
