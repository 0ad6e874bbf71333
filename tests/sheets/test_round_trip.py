"""Sheet to workbook to sheet loses nothing."""

from typing import Any

import pytest
from hypothesis import given

from ampleroom import read_job
from ampleroom.job.model import Circuit, Equipment, Note, Panel
from ampleroom.job.writer import write_job
from ampleroom.record import replace
from ampleroom.sheets.tabs import TABS
from tests.pictures.helpers import DIVIDED, ROOT
from tests.sheets.helpers import job_of, made, ods, small, there_and_back
from tests.strategies import examples, jobs

pytest.importorskip("xlsxwriter")
pytest.importorskip("python_calamine")


@examples(60)
@given(jobs(extras=True))
def test_a_known_job_comes_back_whole(job):
    assert there_and_back(job) == job


@examples(60)
@given(jobs(unknowns=True, extras=True, most_boxes=6, most_runs=8))
def test_a_job_with_unknown_facts_comes_back_whole(job):
    assert there_and_back(job) == job


@pytest.mark.parametrize(
    "name",
    [
        "examples/studio.job",
        "examples/rowhouse.job",
        "tests/jobs/good/shorthand.job",
        "tests/jobs/good/sail_loft.job",
        "tests/jobs/good/boathouse.job",
        "tests/jobs/good/cider_press.job",
    ],
)
def test_every_sheet_we_have_comes_back_whole(name):
    path = ROOT / name
    job = read_job(path.read_text("utf-8"), beside=lambda beside: (path.parent / beside).read_text("utf-8"))
    from ampleroom.sheets.reading import job_from_tables, read_tables
    from ampleroom.sheets.writing import workbook

    back = job_from_tables(
        read_tables(workbook(job), "w.xlsx"), "w.xlsx", {}, lambda beside: (path.parent / beside).read_text("utf-8")
    )
    assert back == job


def test_a_divided_box_comes_back_with_each_thing_on_its_side():
    job = read_job(DIVIDED)
    assert there_and_back(job) == job


ODD = (
    *(
        '=HYPERLINK("x")',
        "+1",
        "-2",
        "@x",
        "a = b",
        "50% + more",
        "\"quoted\" 'text'",
        "<b>&amp;",
        "]]>",
        "naïve 漢字 🔥",
        "_x0041_ &#65; \\u0041",
    ),
    *("a;b", "#12 wires", "no. 7", "x" * 200, "yes", "1e5", "007", "TRUE", "3/4"),
)


@pytest.mark.parametrize("text", ODD)
def test_odd_words_come_back_letter_by_letter(text):
    job = replace(
        small(),
        title=text,
        notes=(Note(text),),
        panels=(Panel("P", description=text),),
        circuits=(Circuit("1", label=text),),
        equipment=(Equipment("E", text),),
    )
    assert read_job(write_job(job)) == job  # a sheet can say it
    assert there_and_back(job) == job


@pytest.mark.parametrize("text", ["left; right", "a;b;;c;;;d", "ends;", "; begins"])
def test_a_semicolon_in_a_label_parts_nothing(text):
    sheet = f"edition 2020\nbox A\n  marked 30 in3\n  receptacle #12 for {text}\n  switch #14 for {text}\n"
    job = read_job(sheet)
    assert there_and_back(job) == job
    mixed = read_job(sheet.replace("  marked 30 in3\n", "") + "  marked 30 in3\n")
    assert there_and_back(mixed) == mixed


def test_a_workbook_with_results_in_it_reads_as_the_same_job():
    from ampleroom import check
    from ampleroom.sheets.writing import workbook

    job = read_job((ROOT / "examples" / "studio.job").read_text("utf-8"))
    assert job_of(workbook(job, check(job))) == job


ROWS: dict[str, list[list[Any]]] = {
    "Boxes": [
        ["Box", "What it is", "Clamps", "Devices", "At"],
        ["A", "square 4 x 1-1/2; plaster ring 3.5 in3", "inside", "receptacle #12 for the pump", "the vat"],
    ],
    "Panels": [["Panel"], ["P"]],
    "Runs": [["From", "To", "Cable or wires", "Length"], ["P", "A", "12/2 nm-b", "38"]],
    "Job": [["Word", "What"], ["job", "Cider press"], ["edition", "2020"]],
}


def test_a_workbook_filled_in_by_hand_says_the_same_as_the_sheet():
    rows = {name: [list(row) for row in table] for name, table in ROWS.items()}
    rows["Job"][2][1] = 2020
    rows["Runs"][1][3] = 38.0
    assert job_of(made(**rows)) == small()


def test_an_open_document_says_the_same_as_the_sheet():
    assert job_of(ods(*ROWS.items()), "w.ods") == small()


def test_every_tab_but_the_first_has_its_own_word():
    assert TABS[0].word == ""
    assert len({tab.word for tab in TABS}) == len(TABS)


REMARKED = """# the whole job, read on a ladder
job Cider press   # its name
edition 2020
panel P
# over the vat
box A at the vat  # #12 wires everywhere
  square 4 x 1-1/2
  receptacle #12  # brown
run P > A 12/2 nm-b  38 ft  # pulled
# the end
"""


def text_of(job):
    assert job.sheet
    return job.sheet.text


def remarks(job):
    return sorted(line.partition("# ")[2] for line in text_of(job).split("\n") if "# " in line)


def test_no_remark_is_lost_and_each_stays_with_its_row():
    job = read_job(REMARKED)
    back = there_and_back(job)
    assert back == job
    assert remarks(back) == remarks(job)
    assert remarks(there_and_back(back)) == remarks(job)
    text = text_of(back)
    assert "# over the vat\n# #12 wires everywhere\n# brown\nbox A" in text
    assert "# pulled\n# the end\nrun P > A" in text


def test_the_sheet_made_from_a_workbook_reads_as_the_same_job():
    back = there_and_back(small())
    assert read_job(text_of(back)) == back
    assert text_of(back) == (
        "job Cider press\n"
        "edition 2020\n"
        "\n"
        "box A at the vat\n"
        "  square 4 x 1-1/2\n"
        "  plaster ring 3.5 in3\n"
        "  clamps inside\n"
        "  receptacle #12 for the pump\n"
        "\n"
        "run P > A 12/2 nm-b 38 ft\n"
        "\n"
        "panel P\n"
    )


def test_a_loop_nobody_measured_does_not_take_the_runs_length():
    job = read_job("box A\nbox B\nrun A > ? 12/2 3 ft through B loop\n")
    assert there_and_back(job) == job


@pytest.mark.parametrize(
    "line", ["12/2", "?/? ?", "2 x #12 in emt 3/4", "12/2 in emt ?", "? x 14/?", "12/2, isolated ground #12"]
)
def test_a_run_in_the_trades_words_comes_back_whole(line):
    job = read_job(f"address 9 Net Loft Road\nphase final\ncable mc\nbox A\n  2 x wire connectors\nrun A > ? {line}\n")
    assert there_and_back(job) == job


def test_raceways_and_the_entries_of_a_pull_box_come_back_whole():
    job = read_job("""edition 2020
panel P
equipment K1
box PB
  inside 24 x 24 x 8 in
  entry R1 rear
  entry R2 left row 2
  entry R3 top
  apart R1 R2 ? in
  apart R2 R3 12-1/2 in
raceway R1 P > PB pvc-40 2 18 in underground
raceway R2 PB > K1 emt ? ? ft 2 bends 45 1 bends 90
raceway R3 PB > K1 rmc 1-1/4 sleeve
wires P > K1 3 x #2 xhhw-2, ground #8 bare through PB in R1, R2
wires PB > K1 3 x #4 thhn in R3
wires P > K1 3 x #8 thw in emt 3/4
""")
    assert there_and_back(job) == job
