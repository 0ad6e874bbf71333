"""A sheet read again after a small change is what it would be if the whole of it were read."""

from __future__ import annotations

from random import Random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampleroom.job import again, one_line
from ampleroom.job.again import Reading, read_whole
from ampleroom.job.model import Job
from ampleroom.job.names import checked_run
from ampleroom.job.settling import read_run_line
from ampleroom.job.sheet import Sheet
from ampleroom.job.writer import write_job
from ampleroom.record import Record
from tests.strategies import examples, jobs

SHEET = """job Sail loft
edition 2020
panel P
kind usual
  square 4 x 1-1/2
  clamps inside

box A at stair
  marked 20.3 in3 plastic
  receptacle #12
run P > A 12/2 nm-b

box B usual
  switch #14

note the ladder is in the shed
box C
  square 4-11/16 x 2-1/8
  barrier metal
  space left 1/2
  space right 1/2
wires P > C/left 2 x #12 thhn in R1 then emt 3/4 then R2 by loft through B
run A > B 14/2 nm-b
run B > C/left 14/2 nm-b  circuit 3
raceway R1 P > B emt 1
raceway R2 B > C emt 1
route loft
circuit 3 15 A
"""
LINES = """  switch #12
  clamps inside
  clamps outside
  3 x receptacle #14
  marked ? in3
  space middle 1/4
  pigtails 2 x #12

# only a remark
run A > C/right 12/2 nm-b
run a > b 12/3 nm-b circuit 3
run A > Q 12/2 nm-b
run A > B 12/2
homerun A
wires P > A 2 x #12 thhn
note look behind the flue
box D
box A
kind other
circuit 5 20 A
edition 2017
nonsense
  nonsense
run P > B 4 x ?/2 nm-b
"""


def all_of(value: Any) -> Any:
    """Everything in a job, the places that take no part when records are compared too."""
    if isinstance(value, Record):
        return (type(value).__name__, *(all_of(getattr(value, field)) for field in type(value)._fields))
    return tuple(map(all_of, value)) if isinstance(value, tuple | list) else value


def assert_same(one: Reading, whole: Reading) -> None:
    assert one.faults == whole.faults
    assert all_of(one.job) == all_of(whole.job)
    assert one.job.sheet == whole.job.sheet


def changed(text: str, random: Random) -> str:
    """A text with some of its lines, mostly one, taken out, put in or exchanged."""
    lines = text.split("\n")
    for _ in range(random.choice((1, 1, 1, 2, 3))):
        at = random.randrange(len(lines))
        gone = random.choice((0, 0, 1, 1, 2))
        lines[at : at + gone] = random.choices([*LINES.splitlines(), *lines], k=random.choice((0, 1, 1, 2)))
    return "\n".join(lines)


@pytest.mark.parametrize("seed", range(60))
def test_a_chain_of_changes_reads_as_the_whole_sheet_would(seed: int):
    random = Random(seed)
    text = SHEET
    reading = read_whole(Sheet(text))
    for _ in range(12):
        after = changed(text, random)
        reading_after = reading.again(Sheet(after))
        whole = read_whole(Sheet(after))
        assert_same(reading_after, whole)
        if not whole.faults:
            text, reading = after, reading_after


@examples(60)
@given(jobs(unknowns=True, extras=True), st.randoms(use_true_random=False))
def test_random_jobs_read_again_as_the_whole_sheet_would(job: Any, random: Random):
    text = write_job(job)
    reading = read_whole(Sheet(text))
    after = changed(text, random)
    again_read = reading.again(Sheet(after))
    assert_same(again_read, read_whole(Sheet(after)))
    assert_same(again_read.again(Sheet(text)), read_whole(Sheet(text)))


def test_a_small_change_reads_its_own_lines_and_no_others(monkeypatch: pytest.MonkeyPatch):
    asked: list[str] = []
    read = one_line.read_one_line

    def noted(number: int, raw: str, hints: bool) -> Any:
        asked.append(raw)
        return read(number, raw, hints)

    reading = read_whole(Sheet(SHEET))
    monkeypatch.setattr(again, "read_one_line", noted)
    for before, after in (
        ("  receptacle #12\n", "  receptacle #12\n  switch #14\n"),
        ("run P > A 12/2 nm-b\n", "run P > A 2 x 12/2 nm-b\n"),
        ("  switch #14\n\nnote", "\nnote"),
        ("circuit 3 15 A\n", "circuit 3 15 A\nrun P > B 12/2 nm-b\n"),
    ):
        asked.clear()
        text = SHEET.replace(before, after)
        assert text != SHEET
        assert_same(reading.again(Sheet(text)), read_whole(Sheet(text)))
        assert 1 <= len(asked) <= 2, asked


def test_lines_below_a_change_have_their_new_numbers():
    text = SHEET.replace("  receptacle #12\n", "  receptacle #12\n  switch #14\n  switch #14\n")
    job = read_whole(Sheet(SHEET)).again(Sheet(text)).job
    assert text.split("\n")[job.box("C").at.line - 1] == "box C"
    assert text.split("\n")[job.box("C").items[1].at.line - 1] == "  barrier metal"
    assert text.split("\n")[job.runs[-1].stops[1].at.line - 1].startswith("run B > C/left")


@pytest.mark.parametrize("start", ["", "\ufeff"])
def test_a_mark_of_the_byte_order_is_no_letter(start: str):
    text = SHEET.replace("switch #14", "switch #12")
    assert_same(read_whole(Sheet(start + SHEET)).again(Sheet(start + text)), read_whole(Sheet(start + text)))


@pytest.mark.parametrize(
    "line",
    [
        "run J2 > ? 12/2 nm-b", "run j2 > j4 14/2 nm-b", "run J2 > J22 12/2 nm-b", "run D1 > J3 12/2 nm-b",
        "run D1/LEFT > P 12/2 nm-b", "run D1/middle > J3 12/2 nm-b", "run J2 > J2 12/2 nm-b", "run J2 > ? #12 in R9",
    ],
)  # fmt: skip
def test_one_more_run_is_read_by_the_boxes_it_names_as_by_all(line, monkeypatch):
    """Of a large job only these are looked at; the run, and every fault with its hint, are the same."""
    sides = "box D1\n  square 4 x 2-1/8\n  barrier plastic\n  space left 1/2\n  space right 1/2\n"
    boxes = "".join(f"box J{n}\n  square 4 x 2-1/8\n" for n in range(1, 9))
    job = read_whole(Sheet(f"job Quay\nedition 2020\npanel P\n{boxes}{sides}", "quay.job")).job

    def checked():
        faults = []
        run = checked_run(job, read_run_line(line, job), lambda *fault: faults.append(fault))
        return (faults, None) if faults else (faults, run)

    few = checked()
    monkeypatch.setattr(Job, "twice", lambda self: ("two of one name",))
    assert few == checked()
