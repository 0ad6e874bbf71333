"""Bad sheets that say themselves what is wrong with them.

Under a line with a fault stands a remark with carets at the columns of the fault, and its message; a remark ``hint:
...`` under that is its hint, and where none stands any hint will do. The # of a remark takes the first column itself:
``#^^`` points at columns one to three, and ``#<`` at the first alone. The sheets are read as they are, these remarks
with them.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from ampleroom.job import Fault, read_with_faults, sheet_from_file
from ampleroom.job.words import with_example

HERE = Path(__file__).parent
SHEETS = sorted((HERE / "jobs" / "bad").glob("*.job"))
EXPECTED = re.compile(r"#(<| *\^+) (.*)")
HINT = re.compile(r"# +hint: (.*)")
SOURCE = HERE.parent / "src" / "ampleroom"


class Told(NamedTuple):
    file: str
    line: int
    column: int
    end: int
    message: str
    hint: str | None = None


def expected(path: Path) -> Iterator[Told]:
    """What a file says of itself."""
    line, found = 0, None
    for number, text in enumerate(path.read_text("utf-8").split("\n"), 1):
        if (remark := EXPECTED.fullmatch(text)) is not None:
            if found is not None:
                yield found
            marks = remark[1]
            column = 1 if marks[0] in "<^" else marks.index("^") + 2
            end = 2 if marks == "<" else len(marks) + 2
            found = Told(path.name, line, column, end, remark[2])
        elif found is not None and (hint := HINT.fullmatch(text)) is not None:
            found = found._replace(hint=hint[1])
        else:
            line = number
            if found is not None:
                yield found
            found = None
    if found is not None:
        yield found


def found_in(path: Path) -> list[Fault]:
    return read_with_faults(sheet_from_file(path))[1]


@pytest.mark.parametrize("path", SHEETS, ids=lambda path: path.stem)
def test_a_bad_sheet_gets_exactly_the_faults_it_says(path):
    beside = path.with_suffix(".toml")
    written = [*expected(path), *(expected(beside) if beside.exists() else ())]
    told = sorted(Told(*as_tuple(fault)) for fault in found_in(path))
    for index, fault in enumerate(sorted(written, key=lambda told: told[:5])):
        if fault.hint is None and index < len(told):
            told[index] = told[index]._replace(hint=None)
    assert told == sorted(written, key=lambda told: told[:5])


def as_tuple(fault: Fault) -> tuple[Any, ...]:
    return fault.file, fault.line, fault.column, fault.end, fault.message, fault.hint


@pytest.mark.parametrize("path", SHEETS, ids=lambda path: path.stem)
def test_a_fault_shows_its_line_and_a_caret_under_its_words(path):
    for fault in found_in(path):
        lines = fault.text.split("\n")
        assert lines[0] == f"{fault.file}:{fault.line}:{fault.column}: {fault.message}"
        if fault.source:
            assert lines[1][8:] == fault.source
            assert lines[2][8 + fault.column - 1 : 8 + fault.end - 1] == "^" * (fault.end - fault.column)


# ---- every message of the code stands in one of these sheets ---------------------------------------------------------

ELSEWHERE = {
    "that is not a run": "told of a single line given by itself: tests/job/test_trade_words.py",
    "that says several things at once": "told of a single line given by itself: tests/job/test_trade_words.py",
    "nothing is written": "told of a single line given by itself: tests/job/test_reader.py",
    "* does not go under a box": "told of a single line given by itself: tests/job/test_reader.py",
    "and more faults, not listed": "of a file with a hundred faults: tests/editions/test_amendments.py",
    "a depth is a number": "a ? before 'in' is read as a volume, so that this cannot happen yet",
    **dict.fromkeys(
        (
            f"{what} is missing"
            for what in ("a kind", "a kind of raceway", "a load", "a shape", "a trade size", "the amperes", "the volts")
        ),
        "a word is known to stand there",
    ),
}
"""Messages no sheet can bring about, and why."""
MESSAGES = {"wrong": 0, "fault": 1, "Unreadable": 2, "WrongValue": 1}
"""Calls that tell a fault, and which of their words is the message."""


def text_of(node: ast.expr) -> str | None:
    """A text in the code, with * for what is put in."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        return "".join(text_of(part) or "*" for part in node.values)
    return None


def messages_in(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if not isinstance(node, ast.Call):
            continue
        name = getattr(node.func, "attr", getattr(node.func, "id", ""))
        if name in MESSAGES and len(node.args) > MESSAGES[name]:
            text = text_of(node.args[MESSAGES[name]])
        elif name == "unknown" and node.args:
            name, after, before = (text_of(node.args[0]) or "*").partition(" after ")
            text = f"unknown {name} *{after}{before}"
        elif name in ("missing", "next") and node.args:
            name, example = with_example(text_of(node.args[0]) or "*")
            text = f"{name} is missing{example}"
        else:
            continue
        if text is not None and text not in ELSEWHERE:
            yield text


def sources() -> list[Path]:
    """The code that reads sheets and the amendments beside them."""
    reading = ("reader", "names", "words")
    files = [SOURCE / "job" / f"{name}.py" for name in reading] + sorted((SOURCE / "job" / "lines").glob("*.py"))
    return [*files, SOURCE / "editions" / "amendments_file.py"]


TOLD = [fault.message for path in SHEETS for fault in found_in(path)]
CODE = sorted({message for path in sources() for message in messages_in(path)})


@pytest.mark.parametrize("message", CODE)
def test_every_message_of_the_code_stands_in_a_bad_sheet(message):
    pattern = re.compile(".*".join(map(re.escape, message.split("*"))))
    assert any(pattern.fullmatch(told) for told in TOLD)
