"""A whole sheet: its boxes with their lines, its faults, its size."""

import time

import pytest

from ampleroom.job import read_job
from ampleroom.job.model import Device
from ampleroom.job.one_line import read_item
from ampleroom.job.words import Unreadable
from tests.job.helpers import faults, job, job_and_faults


def seconds(text):
    start = time.process_time()
    _, told = job_and_faults(text)
    for fault in told:
        assert fault.text
    return time.process_time() - start


def test_five_thousand_boxes_are_read_in_seconds():
    text = "job Tide mill, all floors\nedition 2020\npanel P\n"
    text += "".join(
        (
            f"box J{n} at bay {n}\n"
            "  square 4 x 1-1/2\n"
            "  clamps inside\n"
            "  switch #14\n"
            f"run {f'J{n - 1}' if n else 'P'} > J{n} 14/2 nm-b 12 ft\n"
        )
        for n in range(5000)
    )
    start = time.process_time()
    found = job(text)
    assert (len(found.boxes), len(found.runs)) == (5000, 5000)
    assert time.process_time() - start < 5


def test_a_large_job_with_every_far_end_mistyped_is_told_in_seconds():
    boxes = "".join(f"box J{n}\n" for n in range(5000))
    runs = "".join(f"run J{n} > K{n} 12/2 nm-b\n" for n in range(5000))
    assert seconds(boxes + runs) < 5


@pytest.mark.parametrize(
    "text",
    [
        "box J1\nrun J1 > " + "J1 > " * 100_000 + "J1 12/2 nm-b\n",
        "box J1\nrun J1 > ? " + "3 x #12, " * 50_000 + "\n",
        "box J1\nrun J1 > ? 12/2 nm-b" + " isolated ground #12" * 50_000 + "\n",
        "box J1\nraceway R1 J1 > J1 emt 1 " + "20 bends 90 " * 10_000 + "\n",
        "box J1\nbox J2\nrun J1 > ? 12/2 nm-b through " + "J2, " * 50_000 + "\n",
        "box J1\n" + "x" * 1_000_000 + "\n",
        "box J1\n  marked " + "9" * 1_000_000 + " in3\n",
        "box J1\n" + "1#" * 500_000 + "\n",
        "box J1\n" + "".join(f"wrod{n} bla\n" for n in range(30_000)),
    ],
    ids=["stops", "wires", "grounds", "bends", "through", "word", "number", "remarks", "rubbish"],
)
def test_very_long_lines_are_told_in_seconds(text):
    assert seconds(text) < 5


def test_more_than_a_thousand_faults_are_counted_not_listed():
    told = faults("box J1\n" + "wrod\n" * 1500)
    assert len(told) == 1001
    assert told[-1] == "and 500 more faults not listed; fix those above first. Is it the right file?"


def test_the_hundred_first_faults_get_the_nearest_word():
    told = faults("box J1\n" + "swich\n" * 101)
    assert told[99] == "unknown word 'swich'; did you mean 'switch'?"
    assert told[100].startswith("unknown word 'swich'; under a box you can write: square, marked")


def test_an_empty_sheet_and_one_of_remarks_only_say_so():
    assert faults("") == ["there is no box in this sheet; it is empty; 'new' writes a starter sheet"]
    assert faults("# one\n# two") == ["there is no box in this sheet; 2 lines read; 'new' writes a starter sheet"]


def test_a_sheet_read_from_the_example_is_the_job():
    assert read_job("box J1\n  square 4 x 1-1/2\nrun J1 > ? 2 x 12/2 nm-b\n").boxes[0].name == "J1"


def test_a_list_of_known_words_is_the_same_in_every_process():
    assert faults("box J1\n  3 x thing\n")[0].startswith(
        "unknown word 'thing'; write one of: device, stud, hickey, switch,"
    )


def test_a_single_line_of_a_box_is_read_by_itself():
    assert read_item("3 x switch #14") == Device(("switch",), "14", 3)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("", "nothing is written"),
        ("# nothing", "nothing is written"),
        ("run J1 > ? 12/2 nm-b", "'run' does not go under a box"),
    ],
)
def test_what_is_no_line_of_a_box_is_told(line, said):
    with pytest.raises(Unreadable, match=said):
        read_item(line)
