"""Files that are no job sheets: each gets a clear word, and none a traceback."""

import os

import pytest

from ampleroom.errors import FileTrouble
from ampleroom.job import read_job, sheet_from_bytes, sheet_from_file
from ampleroom.job.sheet import LARGEST

WORKBOOK = b"PK\x03\x04\x14\x00\x06\x00"
NO_SHEETS = {
    "UTF-16": (
        "box J1\n".encode("utf-16"),
        "press.job is saved as UTF-16; save it as UTF-8 (plain text) and try again",
    ),
    "zip": (WORKBOOK, "press.job is a workbook or a zip file, not a sheet of text; bring a workbook in with 'convert'"),
    "PDF": (b"%PDF-1.7\n", "press.job is a PDF, not a job sheet"),
    "rubbish": (
        b"box J1\n\x9c\x80\xff",
        (
            "press.job is not plain text: byte 8 (line 2) is not UTF-8. If it is a job sheet, save it as UTF-8 "
            "and try again"
        ),
    ),
    "zero byte": (b"box J1\n\x00", "press.job is not plain text: line 2 holds a zero byte. Is it the right file?"),
}


@pytest.mark.parametrize(("data", "said"), NO_SHEETS.values(), ids=NO_SHEETS)
def test_a_file_that_is_no_sheet_is_named_for_what_it_is(data, said):
    with pytest.raises(FileTrouble) as trouble:
        sheet_from_bytes(data, "press.job")
    assert str(trouble.value) == said


def test_a_file_of_fifty_megabytes_is_refused_before_it_is_read(tmp_path):
    path = tmp_path / "press.job"
    with path.open("wb") as file:
        file.truncate(50_000_000)
    with pytest.raises(
        FileTrouble, match=r"^press.job is 50 MB; a sheet of 60,000 boxes is about 24 MB. Is it the right"
    ):
        sheet_from_file(path)


def test_a_file_larger_than_the_memory_is_refused_all_the_same(tmp_path):
    path = tmp_path / "press.job"
    with path.open("wb") as file:
        file.truncate(2**43)
    with pytest.raises(FileTrouble, match=r"press\.job is 8796093 MB"):
        sheet_from_file(path)


@pytest.mark.skipif(not os.path.exists("/dev/zero"), reason="no endless file here")  # noqa: PTH110
def test_a_file_without_end_is_given_up():
    from pathlib import Path

    with pytest.raises(FileTrouble, match="zero is over 24 MB"):
        sheet_from_file(Path("/dev/zero"))


def test_a_sheet_of_exactly_the_most_bytes_is_taken():
    assert sheet_from_bytes(b"#" * LARGEST, "press.job").text == "#" * LARGEST


def test_a_folder_is_not_read(tmp_path):
    with pytest.raises(FileTrouble, match="is a folder; name the job sheet in it"):
        sheet_from_file(tmp_path)


def test_a_file_that_is_not_there_gets_the_nearest_sheets_beside_it(tmp_path):
    for name in ("cider.job", "loft.job"):
        (tmp_path / name).write_text("box J1\n")
    with pytest.raises(FileTrouble, match=r"there is no file .*cidre.job; there is cider.job$"):
        sheet_from_file(tmp_path / "cidre.job")
    with pytest.raises(FileTrouble, match=r"; there is cider.job, loft.job$"):
        sheet_from_file(tmp_path / "zzz")


def test_where_there_is_no_sheet_at_all_the_starter_is_offered(tmp_path):
    with pytest.raises(FileTrouble, match=r"; 'new' writes a starter sheet$"):
        sheet_from_file(tmp_path / "press.job")
    with pytest.raises(FileTrouble, match=r"^there is no folder .*nowhere$"):
        sheet_from_file(tmp_path / "nowhere" / "press.job")


def test_a_file_that_may_not_be_opened_is_told_with_the_systems_reason(tmp_path):
    path = tmp_path / "press.job"
    path.symlink_to(path)
    with pytest.raises(FileTrouble, match="cannot be opened: Too many levels of symbolic links"):
        sheet_from_file(path)


def test_a_path_is_a_file_and_a_text_with_lines_is_a_sheet(tmp_path):
    path = tmp_path / "press.job"
    path.write_text("box J1\n  square 4 x 1-1/2\n")
    assert read_job(path) == read_job(str(path)) == read_job(path.read_text())


def test_the_mark_some_editors_put_before_a_text_is_kept_and_not_read():
    sheet = sheet_from_bytes(b"\xef\xbb\xbfbox J1\n", "press.job")
    assert sheet.text == "\ufeffbox J1\n"
