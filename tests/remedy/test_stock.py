"""Stock files: faults with their places, as the files themselves say them; and what a file without faults gives."""

from __future__ import annotations

import contextlib
from decimal import Decimal
from pathlib import Path

import pytest

from ampleroom.errors import FileTrouble, SheetFaults
from ampleroom.job.model import Cable
from ampleroom.remedy import read_stock, stock_from_text
from ampleroom.remedy.takeoff import takeoff
from tests.helpers import lines_run
from tests.remedy.crowded import STOCK
from tests.remedy.helpers import CONNECTOR, box_entry, fitting_entry, job_of, pull_entry, stock
from tests.test_bad_sheets import Told, as_tuple, expected

FILES = sorted((Path(__file__).parent / "stocks").glob("*.toml"))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_bad_stock_file_gets_exactly_the_faults_it_says(path):
    with pytest.raises(SheetFaults) as raised:
        read_stock(path)
    told = sorted(Told(*as_tuple(fault)) for fault in raised.value.faults)
    written = sorted(expected(path), key=lambda fault: fault[:5])
    for index, fault in enumerate(written):
        if fault.hint is None and index < len(told):
            told[index] = told[index]._replace(hint=None)
    assert told == written
    assert written


def test_a_file_with_windows_line_ends_and_a_mark_reads_the_same(tmp_path):
    path = tmp_path / "stock.toml"
    text = box_entry("square 4 x 1-1/2", 2) + CONNECTOR
    path.write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode())
    assert read_stock(path).boxes == stock_from_text(text).boxes


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (None, "there is no stock file"),
        (b"\xff\xfe\x00rubbish\x00", "is not plain text; save it as UTF-8"),
    ],
)
def test_a_file_that_cannot_be_read_is_told_in_words(tmp_path, content, said):
    path = tmp_path / "stock.toml"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(FileTrouble, match=said):
        read_stock(path)


def test_a_folder_is_no_stock_file(tmp_path):
    with pytest.raises(FileTrouble, match="cannot be opened"):
        read_stock(tmp_path)


def test_the_example_has_something_of_every_group():
    assert all([STOCK.boxes, STOCK.parts, STOCK.connectors, STOCK.devices, STOCK.cables, STOCK.lengths])
    assert STOCK.per_hour == 92
    assert STOCK.kind_charge == 6


@pytest.mark.parametrize(
    ("cable", "connector"),
    [
        (Cable("nm-b", "12", "2"), "two-screw connector 3/8"),
        (Cable("nm-b", "6", "3"), "two-screw connector 3/4"),
        (Cable("mc", "12", "2"), "armored cable connector 3/8"),
        (Cable("mc", "6", "3"), None),
    ],
)
def test_the_connector_is_the_cheapest_that_takes_the_cable(cable, connector):
    found = STOCK.connector_for(cable)
    assert (found.name if found else None) == connector


def test_what_would_have_to_be_ordered_is_left_out():
    parts = stock(box_entry("square 4 x 1-1/2", 2), box_entry("square 4 x 2-1/8", 3, more="in_stock = false"))
    assert [box.name for box in parts.only_in_stock().boxes] == ["square 4 x 1-1/2"]


@pytest.mark.parametrize(
    ("name", "key"),
    [("deep square", "deep-square"), ("4 x 1-1/2 square", "4-x-1-1-2-square"), ("X", "box-x"), ("!!", "box-")],
)
def test_a_box_is_a_kind_of_one_word_in_a_sheet(name, key):
    (box,) = stock(box_entry("square 4 x 1-1/2", 2, name=name)).boxes
    assert box.key == key


def test_money_is_exact():
    (box,) = stock(box_entry("square 4 x 1-1/2", "0.10")).boxes
    assert box.price * 3 == Decimal("0.30")


PART = '[[device]]\nname = "part {n}"\nis = "switch"\nprice = 1.00\n\n'
MANY = {
    "parts": PART,
    "parts of one name": PART.replace("part {n}", "part"),
    "parts with nothing in them": "[[device]]\n",
    "keys nobody knows": "k{n} = 1\n",
    "sections nobody knows": "[k{n}]\n",
}


@pytest.mark.parametrize("before", ["", "[[box]]\n", "[labor.minutes]\n"])
@pytest.mark.parametrize("shape", MANY)
def test_four_times_the_lines_are_about_four_times_the_work(shape, before):
    """Every part and every fault looked for its place from the top of the file: 2,000 parts took 12 s."""

    def work(number):
        text = before + "".join(MANY[shape].format(n=n) for n in range(number))

        def read():
            with contextlib.suppress(SheetFaults):
                stock_from_text(text)

        return lines_run(read)

    work(100)  # what is loaded or worked out once is not counted
    assert work(800) < 5 * work(200)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ('[[fitting]]\nname = "x"\nis = "emt 1 elbow"\nprice = 1\n', "is no fitting"),
        ('[[fitting]]\nname = "x"\nis = "pipe 1 strap"\nprice = 1\n', "is no fitting"),
        (box_entry("inside 12 x 12 x 6 in", 1, uses='"junction"'), "a pull box is one with inside measures"),
        (box_entry("square 4 x 1-1/2", 1, uses='"pull"'), "a pull box is one with inside measures"),
    ],
)
def test_a_fitting_and_a_pull_box_say_what_they_are(text, told):
    with pytest.raises(SheetFaults, match=told):
        stock(text)


def test_takeoff_prices_fittings_and_a_pull_box_hung_either_way():
    job = job_of(
        "edition 2020\npanel P\nbox PB\n  inside 12 x 18 x 6 in\n  entry R1 left\n"
        "raceway R1 P > PB emt 2 20 ft\nwires P > PB 3 x #1/0 thhn in R1\n"
    )
    parts = stock(pull_entry("18 x 12 x 6", 60), fitting_entry("emt 2 bushing", "0.75"))
    priced = {line.item: line.price for line in takeoff(job, parts).lines if line.price is not None}
    assert priced["pull box 18 x 12 x 6"] == 60
    assert priced["emt 2 bushing"] == Decimal("1.50")
