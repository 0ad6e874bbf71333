"""Every table of the code may be amended, every number in it: whole or with decimals, and no answer breaks on it."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from ampleroom import check, read_job
from ampleroom.cli.paper import Paper
from ampleroom.cli.text import write_subject
from ampleroom.editions import CodeBook
from ampleroom.editions.amendments import amendable_topics
from ampleroom.editions.amendments_file import read_amendments
from ampleroom.editions.raceways import Support
from ampleroom.editions.standard_boxes import STANDARD_BOXES
from ampleroom.editions.tables import blocks, read_toml, row_key, table_files, tables_of
from ampleroom.job import lines
from ampleroom.job.lines import standard_boxes
from ampleroom.remedy.takeoff import support_row
from ampleroom.toml_file import as_toml
from ampleroom.worksheet import Verdict
from tests.helpers import report

FROZEN = (Path(__file__).parent.parent / "snapshots" / "frozen.job").read_text("utf-8")
BODIES = """
box ZC1
  conduit body c 1/2 on emt area 0.7 in2
wires ? > ? 3 x #12 thhn, ground #12 bare through ZC1
run ? > ? 12/2 nm-b through ZC1
"""
NOT_OF_THE_CODE = {"cables.cable"}


def tables() -> Iterator[tuple[str, dict[str, Any]]]:
    for name in amendable_topics():
        for table in tables_of(name):
            whole: dict[str, Any] = {}
            for block in blocks(f"{name}.{table}"):
                whole |= block
            yield f"{name}.{table}", whole


def is_number(value: object) -> bool:
    return isinstance(value, int | Decimal) and not isinstance(value, bool)


def amendments_of(table: str, whole: dict[str, Any], number: str) -> Iterator[str]:
    """Every number of a table amended to this one, each in a file of its own."""
    head = f'place = "Cold Harbor"\n[[{table}]]\nfrom = 2008\n'
    for key, value in whole.items():
        if key == "from":
            continue
        if is_number(value):
            yield f"{head}{key} = {number}\n"
        elif isinstance(value, dict):
            yield f"{head}{key} = {{ {', '.join(f'{name} = {number}' for name in value)} }}\n"
        elif key == "rows":
            row = value[0]
            named = ", ".join(f"{name} = {as_toml(row[name])}" for name in row_key(blocks(table)))
            for name, one in row.items():
                if is_number(one) and name not in row_key(blocks(table)):
                    yield f"{head}rows = [{{ {named}, {name} = {number} }}]\n"


def test_every_table_of_the_code_can_be_amended():
    assert {f"{topic}.{name}" for topic in amendable_topics() for name in tables_of(topic)} == set(
        table_files()
    ) - NOT_OF_THE_CODE


@pytest.mark.parametrize("number", ["1", "1.5"])
@pytest.mark.parametrize(("table", "whole"), list(tables()), ids=lambda value: value if isinstance(value, str) else "")
def test_no_number_a_place_may_write_breaks_an_answer(table: str, whole: dict[str, Any], number: str, capsys):
    for text in amendments_of(table, whole, number):
        assert read_amendments(text)[1] == [], text
        found = report("amendments city.toml\n" + FROZEN + BODIES, 2023, text)
        for box in found.subjects:
            write_subject(box, found, Paper())
        assert found.to_json()["edition"]["amended_tables"] == [table]


@pytest.mark.parametrize(("table", "whole"), list(tables()), ids=lambda value: value if isinstance(value, str) else "")
def test_the_rows_of_every_list_are_told_apart_by_their_keys(table: str, whole: dict[str, Any]):
    rows = whole.get("rows")
    if not isinstance(rows, list):
        assert row_key(blocks(table)) == ()
        return
    names = [[row[key] for key in row_key(blocks(table))] for row in rows]
    assert row_key(blocks(table))
    assert len({str(name) for name in names}) == len(names)


def test_one_row_of_a_list_is_amended_and_the_others_stay():
    text = 'place = "X"\n[[raceways.bore]]\nfrom = 2020\nrows = [{ kind = "emt", size = "1/2", area = 1 }]\n'
    amendments, faults = read_amendments(text)
    assert faults == []
    before, after = (
        CodeBook(2023).block("raceways.bore")["rows"],
        CodeBook(2023, amendments).block("raceways.bore")["rows"],
    )
    (row,) = [row for row in after if row not in before]
    assert row == before[0] | {"area": Decimal(1)}
    assert len(after) == len(before)


@pytest.mark.parametrize(
    ("row", "message", "hint"),
    [
        (
            '[{ kind = "emt", size = "9", area = 1 }]',
            "raceways.bore has no row with kind 'emt', size '9'",
            'name one it has, such as rows = [{ kind = "emt", size = "1/2", diameter = 0.622, area = 0.304 }]',
        ),
        (
            '[{ kind = "emt", size = "1/2", aera = 1 }]',
            "the rows of raceways.bore have no 'aera'",
            "did you mean 'area'?",
        ),
        (
            '[{ kind = "emt", size = "1/2", area = "1" }]',
            "area is '1'",
            "write a number, such as 0.0625",
        ),
        (
            "[]",
            "the rows of raceways.bore are no list of rows",
            'write them as rows = [{ kind = "emt", size = "1/2", diameter = 0.622, area = 0.304 }]',
        ),
    ],
)
def test_a_row_that_cannot_be_amended_is_told(row: str, message: str, hint: str):
    (fault,) = read_amendments(f'place = "X"\n[[raceways.bore]]\nfrom = 2020\nrows = {row}\n')[1]
    assert (fault.line, fault.message) == (4, message)
    assert fault.hint.partition("area = ")[0] == hint.partition("area = ")[0] or "area is" in message


@pytest.mark.parametrize("value", ["nan", "inf", '"all"'])
def test_what_is_no_number_is_a_fault(value: str):
    (fault,) = read_amendments(f'place = "X"\n[[reminders.sheath]]\nfrom = 2008\ninside = {value}\n')[1]
    assert fault.line == 4
    assert ("is not a number" if value != '"all"' else "inside is 'all'") in fault.message


def test_straps_are_counted_as_the_place_wants_them():
    text = 'place = "X"\n[[raceways.support]]\nfrom = 2008\nrows = [{ kind = "nm-b", every = 2 }]\n'
    job = read_job("edition 2023\namendments city.toml\nbox A\n", beside=lambda name: text)
    plain = read_job("edition 2023\nbox A\n")
    assert support_row("nm-b", plain) == Support("nm-b", Decimal("4.5"), Decimal(1))  # 334.30
    assert support_row("nm-b", job) == Support("nm-b", Decimal(2), Decimal(1))


# ---- a box that a later edition brings -----------------------------------------------------------------------------


@pytest.fixture
def later_box(monkeypatch):
    """The table of standard boxes as it would be with a box that came in with 2023."""
    (first,) = blocks("box_room.standard")
    new = {"id": "r25", "shape": "square", "size": "5 x 2-7/8", "depth": Decimal("2.875"), "volume": Decimal(64)}
    new |= {"mm": "127 x 73", "cm3": 1048, "printed": []}
    later = {"from": 2023, "rows": [*first["rows"], new]}
    caches = (
        standard_boxes.standard_rows,
        standard_boxes.standard_sizes,
        standard_boxes.standard_faces,
        standard_boxes.metric_sizes,
    )
    monkeypatch.setitem(read_toml(STANDARD_BOXES.path)["box_room"], "standard", [first, later])
    for cached in (*caches, lines_cache()):
        cached.cache_clear()
    yield
    monkeypatch.undo()
    for cached in (*caches, lines_cache()):
        cached.cache_clear()


def lines_cache() -> Any:
    from ampleroom.job import one_line

    assert lines.UNDER_A_BOX
    return one_line.kept_line


def test_a_box_of_a_later_block_can_be_written_and_counts_from_its_edition(later_box):
    job = read_job("box A\n  square 5 x 2-7/8\n  clamps none\nrun A > ? 3 x 12/2 nm-b\n")
    newest, before = check(job, 2023), check(job, 2020)
    assert newest.verdict is Verdict.PASSES
    assert newest.worksheets["A"].there == 64
    assert before.verdict is Verdict.OPEN
    assert before.worksheets["A"].there == 0
    (fact,) = [fact for finding in before.findings for fact in finding.facts]
    assert fact.question == "the volume marked in A: the 2020 table has no such box"


def test_a_box_of_a_later_block_counts_by_its_marking_in_any_edition(later_box):
    job = read_job("box A\n  square 5 x 2-7/8 marked 60 in3\n  clamps none\nrun A > ? 3 x 12/2 nm-b\n")
    for edition in (2020, 2023):
        assert check(job, edition).worksheets["A"].there == 60


def test_an_unmarked_ring_of_a_later_size_adds_nothing_before(later_box):
    job = read_job("box A\n  square 4 x 1-1/2\n  extension ring square 5 x 2-7/8\n  clamps none\nrun A > ? 12/2 nm-b\n")
    assert check(job, 2023).worksheets["A"].there == 85
    assert check(job, 2020).worksheets["A"].there == 21


# ---- books and reports that are alike ------------------------------------------------------------------------------

SHEET = "reading plastic-tabs not-counted\nbox A\n  marked 20 in3\n  clamps tabs\nrun A > ? 12/2 nm-b\n"


def test_books_that_judge_alike_are_equal():
    amended = read_amendments('place = "X"\n[[box_fill.grounds]]\nfrom = 2020\ncovered = 2\n')[0]
    again = read_amendments('place = "X"\n[[box_fill.grounds]]\nfrom = 2020\ncovered = 2\n')[0]
    assert CodeBook(2023) == CodeBook(2023)
    assert CodeBook(2023, amended) == CodeBook(2023, again)
    assert hash(CodeBook(2023, amended)) == hash(CodeBook(2023, again))
    assert CodeBook(2023) != CodeBook(2020)
    assert CodeBook(2023) != CodeBook(2023, amended)
    assert CodeBook(2023) != CodeBook(2023, readings={"plastic-tabs": "not-counted"})
    assert CodeBook(2023) != 2023


def test_reports_of_the_same_job_are_equal():
    assert check(read_job(SHEET), 2026) == check(read_job(SHEET), 2026)
    assert check(read_job(SHEET), 2026) != check(read_job(SHEET), 2023)
    assert check(read_job(SHEET), 2026) != check(read_job(SHEET.replace("20 in3", "21 in3")), 2026)


def test_which_tables_were_not_compared_is_fixed_when_the_check_ends():
    found = check(read_job(SHEET), 2026)
    before = found.not_compared, found.notes, found.to_json()
    assert "raceways.fill" not in found.not_compared
    assert found.book.block("raceways.fill")["more"] == 40  # asked for later
    assert "raceways.fill" in found.book.not_compared
    assert (found.not_compared, found.notes, found.to_json()) == before


def test_a_second_check_names_the_same_tables_as_the_first():
    assert check(read_job(SHEET), 2026).not_compared == check(read_job(SHEET), 2026).not_compared
    assert "reminders.free_conductor" in check(read_job(SHEET), 2026).not_compared
