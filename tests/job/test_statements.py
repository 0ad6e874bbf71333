"""Every kind of line: its example is read, written back, and keeps its place."""

from typing import Any

import pytest

from ampleroom.job import Job, Sheet, write_job
from ampleroom.job.lines import ON_THEIR_OWN, STATEMENTS, UNDER_A_BOX
from tests.job.helpers import item, job

AROUND = "box J1\nbox J9\npanel P\n"
DIVIDED = {
    "barrier": "box X1\n  {}\n  space left 1/2\n  space right 1/2\n",
    "space": "box X1\n  barrier metal\n  {}\n  space right 1 gang\n",
    "apart": "raceway R1 J1 > J9 emt 1\nraceway R2 J1 > J9 emt 1\nbox X1\n  {}\n",
    "entry": "raceway R1 J1 > J9 emt 1\nbox X1\n  {}\n",
}
"""Lines that mean something only beside others."""


def sheet_with(statement):
    """A sheet with the example of a line, and what it needs around it."""
    if statement not in UNDER_A_BOX:
        around = AROUND.replace("box J1\n", "") if statement.words[0] == "box" else AROUND
        around = around.replace("panel P\n", "") if statement.words[0] == "panel" else around
        return f"{statement.example}\n" + around + ("circuit 3\n" if statement.words[0] == "run" else "")
    return DIVIDED.get(statement.words[0], "box X1\n  {}\n").format(statement.example) + AROUND


def records(found: Job, kind: type):
    several = (
        *found.readings, *found.notes, *found.kinds, *found.boxes, *found.panels, *found.equipment, *found.circuits,
        *found.raceways, *found.routes, *found.loads, *found.runs,
        *((found.dwelling,) if found.dwelling else ()), *(item for box in found.boxes for item in box.items),
    )  # fmt: skip
    return [record for record in several if type(record) is kind]


CASES = pytest.mark.parametrize("statement", STATEMENTS, ids=lambda statement: statement.words[0])


@CASES
def test_the_example_of_every_line_is_read_and_the_job_is_the_same_after_writing(statement):
    found = job(sheet_with(statement))
    assert job(write_job(found)) == found


@CASES
def test_the_example_of_every_line_is_written_as_it_stands(statement):
    found = job(sheet_with(statement))
    lines = [line.strip() for line in write_job(found).split("\n")]
    example = {
        "circuit": "circuit 3 20 A 1500 VA continuous for wheel bench",
        "raceway": "raceway R1 P > J9 emt 1 62 ft 3 bends 90",
        "route": "route attic 24 ft ambient 43.3333 C in insulation",
        "mounted": "mounted old-work cavity 3.5 in finished",
        "switch": "switch + receptacle #12 projects 1.25 in",
        "load": "load range 12000 VA on circuit 7",
    }.get(statement.words[0], statement.example)
    assert example in lines


@CASES
def test_every_line_keeps_where_it_was_written(statement):
    text = sheet_with(statement)
    found = job(text)
    lines = text.split("\n")
    for record in records(found, statement.record):
        assert 1 <= record.at.line <= len(lines)
        column, end = Sheet(text).columns(record.at)
        assert lines[record.at.line - 1][column - 1 : end - 1].strip()


@CASES
def test_every_line_may_begin_with_a_capital_or_be_shouted(statement):
    text = sheet_with(statement)
    for example in (statement.example.capitalize(), statement.example[0].upper() + statement.example[1:]):
        assert len(records(job(text.replace(statement.example, example)), statement.record)) == len(
            records(job(text), statement.record)
        )


NEED_A_DEVICE = (
    "single-pole double-pole 3-way 4-way single duplex locking range dryer pilot usb smart motion smoke weather "
    "tamper-resistant speed night wifi data combination isolated-ground"
)
"""First words that only say more of the device that follows."""
WHOLE_LINE = {
    "ground": "ground screw",
    "distribution": "distribution block",
    **{word: word for word in ("stud", "studs", "hickey", "hickeys")},
    **{word: f"{word} switch #12" for word in NEED_A_DEVICE.split()},
}
"""What a line says whose first word alone, with a size, is no whole line. The usual word of a line is tried by its
example."""


@pytest.mark.parametrize(
    ("statement", "word"),
    [(statement, word) for statement in UNDER_A_BOX if statement.counted for word in statement.words],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_a_line_that_may_be_counted_is_read_with_a_count(statement, word):
    example = statement.example.removeprefix("3 x ")
    line = example if example.split()[0] == word else WHOLE_LINE.get(word, f"{word} #12")
    assert item(f"3 x {line}").count == 3


def test_no_line_begins_with_the_word_of_another():
    alone = [word for statement in ON_THEIR_OWN for word in statement.words]
    under = [word for statement in UNDER_A_BOX for word in statement.words]
    assert len(alone) == len(set(alone))
    assert set(alone) & set(under) == {"equipment"}  # a place; as a device its kind stands before it


def test_every_record_has_one_way_to_be_written():
    ways: dict[type, Any] = {}
    for statement in STATEMENTS:
        assert ways.setdefault(statement.record, statement.write) is statement.write


def test_every_line_says_what_it_is_in_one_plain_sentence():
    for statement in STATEMENTS:
        assert statement.says
        assert statement.example.lower().split()[0] in (*statement.words, "3", "switch", "marked")
