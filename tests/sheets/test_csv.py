"""Plain CSV in: by the names of the files, with any separator, and nothing of a guard left in it."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampleroom.errors import AmpleroomError, FileTrouble, SheetFaults
from ampleroom.sheets.apostrophe import guarded, unguarded
from ampleroom.sheets.reading import job_from_tables, read_tables
from tests.sheets.helpers import small
from tests.sheets.test_round_trip import ROWS
from tests.strategies import examples


def written(rows, comma=",", end="\r\n"):
    out = io.StringIO()
    csv.writer(out, delimiter=comma, lineterminator=end).writerows(rows)
    return out.getvalue()


def job_of(files):
    return job_from_tables([table for name, data in files.items() for table in read_tables(data, name)], "job.csv")


@pytest.mark.parametrize("comma", [",", ";", "\t"])
@pytest.mark.parametrize("mark", ["", "\ufeff"], ids=["plain", "byte order mark"])
@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["LF", "CRLF"])
def test_files_named_like_tabs_are_the_same_job(comma, mark, end):
    files = {f"{name}.csv": (mark + written(rows, comma, end)).encode() for name, rows in ROWS.items()}
    assert job_of(files) == small()


def test_a_file_of_another_name_is_known_by_its_columns():
    files = {f"our {name} list.csv": written(rows).encode() for name, rows in ROWS.items()}
    assert job_of(files) == small()


def test_several_lines_in_a_quoted_cell_are_lines_of_the_box():
    rows = {**ROWS, "Boxes": [ROWS["Boxes"][0], [cell.replace("; ", "\n") for cell in ROWS["Boxes"][1]]]}
    assert job_of({f"{name}.csv": written(table).encode() for name, table in rows.items()}) == small()


@pytest.mark.parametrize(
    "place",
    [
        "-2+3",
        "=1+1",
        "@x",
        "+1",
        "＝1",
        "\u200b=1",
        "\ufeff\u2060＝1",
        "\u034f+1",
        "\u3164@x",
        "\u00ad-2+3",
        "'=1",
        "'tis so",
        "-4.00",
    ],
)
def test_the_apostrophe_of_the_guard_is_taken_off_again(place):
    boxes = [ROWS["Boxes"][0], [*ROWS["Boxes"][1][:-1], guarded(place)]]
    files = {f"{name}.csv": written(table).encode() for name, table in {**ROWS, "Boxes": boxes}.items()}
    assert job_of(files).boxes[0].description == place


@examples(400)
@given(st.text(st.sampled_from("'=+-@\t\n\r ＝1.ax\u200b\u034f\u3164"), max_size=6))
def test_what_is_guarded_begins_like_no_formula_and_comes_back_letter_by_letter(text):
    safe = guarded(text)
    assert unguarded(safe) == text
    assert safe[:1] not in ("=", "+", "@", "\t", "\r", "\n", "＝")
    shown = safe.strip("\u200b\u034f\u3164 ")
    assert shown == safe.strip(" ") or shown[:1] not in tuple("=+@-＝")
    if safe.startswith("-"):
        float(safe)


def test_a_file_that_is_not_utf_8_says_at_which_byte_and_what_to_do():
    with pytest.raises(FileTrouble, match=r"boxes\.csv is not UTF-8: byte 8\. Save it as CSV UTF-8 and try again"):
        read_tables(b"Box,At\nJ\xe9,x\n"[:6] + b"\n\xe9", "boxes.csv")


def test_a_file_that_is_no_table_is_told(monkeypatch):
    with pytest.raises(FileTrouble, match=r"boxes\.csv cannot be read as CSV"):
        read_tables(b'Box,At\n"' + b"x" * 200_000 + b'"\n', "boxes.csv")


def test_too_many_rows_and_too_many_bytes_are_refused():
    with pytest.raises(FileTrouble, match=r"has 200001 rows; the limit is 200000"):
        read_tables(b"a\n" * 200_001, "boxes.csv")
    with pytest.raises(FileTrouble, match=r"is 61 MB; the limit is 60 MB\. Is it the right file\?"):
        read_tables(b"a" * 61_000_000, "boxes.csv")


@pytest.mark.parametrize("data", [b"", b"\n", b"\xef\xbb\xbf"])
def test_an_empty_file_says_that_there_is_no_box(data):
    with pytest.raises(SheetFaults, match="there is no box in this sheet"):
        job_of({"boxes.csv": data})


@pytest.mark.parametrize("data", [b"", b"PK\x03\x04rubbish", b"\x00" * 99, b"%PDF-1.7"])
def test_what_is_no_workbook_is_told(data):
    pytest.importorskip("python_calamine")
    with pytest.raises(AmpleroomError, match=r"w\.xlsx cannot be read as a workbook"):
        read_tables(data, "w.xlsx")
