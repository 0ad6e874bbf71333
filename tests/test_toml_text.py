"""TOML somebody else wrote: whatever stands in it, the answer is what it says or a fault with its place, in bounded
time.
"""

from __future__ import annotations

import time
import tomllib
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampleroom.check import check
from ampleroom.editions.amendments_file import read_amendments
from ampleroom.errors import SheetFaults
from ampleroom.job import Sheet, read_sheet
from ampleroom.remedy import read_stock, stock_from_text
from ampleroom.toml_text import LARGEST, read_toml
from tests.strategies import examples

HOSTILE = {
    "digits": ("a = " + "9" * 5000, 1, 5),
    "hexadecimal": ("a = 0x" + "f" * 60, 1, 5),
    "exponent": ("x = 1\na = 1e999999", 2, 5),
    "tiny": ("a = 1e-999999", 1, 5),
    "nan": ("a = nan", 1, 5),
    "inf in a list": ("a = [1,\n  -inf]", 2, 3),
    "deep list": ("a = " + "[" * 3000, 1, 17),
    "deep table": ("a = " + "{b = " * 3000, 1, 65),
    "long dotted key": (".".join("a" * 3000) + " = 1", 1, 1),
    "dotted key of quoted names": (" . ".join(['"a"'] * 3000) + " = 1", 1, None),
    "long key": ("a = 1\n" + "k" * 500 + " = 1", 2, 1),
    "long quoted key": ('"' + "k" * 500 + '" = 1', 1, 1),
    "long text": ('a = "' + "t" * 5000 + '"', 1, 5),
    "text without end": ('a = """' + '\\"""' * 1000, 1, None),
    "zero byte": ('a = "\x00"', 1, None),
    "carriage return": ("a = 1\rb = 2", 1, None),
}


@pytest.mark.parametrize(("text", "line", "column"), HOSTILE.values(), ids=HOSTILE)
def test_what_is_out_of_bounds_is_a_fault_at_its_place_for_stock_and_amendments_alike(text, line, column):
    _, faults = read_toml(text)
    assert len(faults) == 1
    assert faults[0].line == line
    assert column is None or faults[0].column == column
    with pytest.raises(SheetFaults) as raised:
        stock_from_text(text)
    assert (faults[0].line, faults[0].message) in [(fault.line, fault.message) for fault in raised.value.faults]
    assert (faults[0].line, faults[0].message) in [(fault.line, fault.message) for fault in read_amendments(text)[1]]


@pytest.mark.parametrize(
    "piece",
    ["[", "{a=", "a.", "'", '"', '"""', '\\"""', "'''", "9", "\n", "[[a]]\n", "a=1\n", "a.b.c=1\n", '"a".', "#\n", "="],
)
def test_two_million_letters_are_read_in_time_in_proportion(piece):
    def seconds(letters):
        text = 'x = """\n' * (piece == '\\"""') + piece * (letters // len(piece))
        start = time.process_time()
        read_toml(text)
        return time.process_time() - start

    assert seconds(400_000) < 6 * seconds(100_000) + 0.5


def test_a_text_that_is_too_long_is_not_read():
    assert read_toml("#" * (LARGEST + 1))[1][0].message == "the file is longer than 4 million letters"


@examples(300)
@given(st.text(st.sampled_from("ab.=[]{}\"'#\\\n ,019eE+-_nif"), max_size=40))
def test_what_the_standard_library_reads_it_reads_alike_and_what_it_does_not_is_a_fault(text):
    try:
        usual = tomllib.loads(text, parse_float=Decimal)
    except ValueError:
        assert read_toml(text)[1]
        return
    data, faults = read_toml(text)
    assert faults or data == usual


def test_a_number_that_is_none_does_not_hide_the_other_faults():
    with pytest.raises(SheetFaults) as raised:
        stock_from_text("[labor]\nper_hour = nan\nper_houl = 3\n")
    assert [(fault.line, fault.message) for fault in raised.value.faults] == [
        (2, "nan is not a number"), (3, "unknown key 'per_houl'"),
    ]  # fmt: skip


SHEET = "edition 2023\namendments a.toml\nbox J1\n  square 4 x 1-1/2\n  clamps inside\nrun J1 > ? 12/2 nm-b\n"


@pytest.mark.parametrize(
    "block",
    [
        "[[box_fill.grounds]]\nfrom = true\ncovered = 2",
        "[[box_fill.grounds]]\nfrom = 2020\ncite = 5\ncovered = 2",
        "[[box_fill.grounds]]\nfrom = 2020\nsource = []\ncovered = 2",
        "[[box_fill.grounds]]\nfrom = 2020\ncovered = inf",
        "[[box_fill.grounds]]\nfrom = 2020\ncovered = 1979-05-27",
        '[[box_fill.conductor_room]]\nfrom = 2020\nrows = { "17" = 2.0 }',
        "[[box_fill.conductor_room]]\nfrom = 2020\nrows = { 14 = nan }",
        "[[box_fill.conductor_room]]\nfrom = 2020\nrows = 3",
        "[box_fill]\ngrounds = [3]",
        "box_fill = [1]",
    ],
)
def test_a_wrong_value_in_amendments_is_a_fault_with_its_place(block):
    text = f'place = "Cold Harbor"\n{block}\n'
    with pytest.raises(SheetFaults) as raised:
        check(read_sheet(Sheet(SHEET, "a.job"), lambda name: text))
    assert {fault.file for fault in raised.value.faults} == {"a.toml"}
    assert all(fault.line >= 2 for fault in raised.value.faults)


@pytest.mark.parametrize(
    "name", ["../a.toml", "/a.toml", "..\\a.toml", "C:\\a.toml", "C:a.toml", "sub/../../a.toml", "pipe", "folder"]
)
def test_only_a_regular_file_in_the_sheets_folder_is_read_as_amendments(tmp_path, name):
    import os

    (tmp_path / "a.toml").write_text('place = "Cold Harbor"\n')
    here = tmp_path / "here"
    (here / "folder").mkdir(parents=True)
    os.mkfifo(here / "pipe")
    text = SHEET.replace("a.toml", name)
    with pytest.raises(SheetFaults, match="there is no file"):
        read_sheet(Sheet(text, "a.job", here))


def test_a_stock_file_of_many_megabytes_or_a_device_is_refused_before_it_is_read(tmp_path):
    from pathlib import Path

    from ampleroom.errors import FileTrouble

    with (tmp_path / "stock.toml").open("wb") as file:
        file.truncate(2**40)
    with pytest.raises(FileTrouble, match="is over 4 MB"):
        read_stock(tmp_path / "stock.toml")
    with pytest.raises(FileTrouble, match="it is not a regular file"):
        read_stock(Path("/dev/zero"))
