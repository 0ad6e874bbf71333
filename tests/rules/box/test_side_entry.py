"""Since 2023 a device stays in front of the middle of a side entry, or half an inch off the box wall: 314.24(C).

The numbers are those of the 2023 text and of a trade magazine's quiz on it ("Code Quiz: clearance from box wall to
installed device", EC&M, 6 Feb 2025).
"""

from __future__ import annotations

import pytest

from ampleroom import read_job, write_job
from tests.helpers import COMPARED, finding, findings, in_box, reminders, verdict

RULE = "side-entry"
TOLD = "side-entry-clearance"


def beside(entry: str, device: str = "receptacle #12 projects 1-1/2 in") -> str:
    return in_box(f"clamps none; {entry}; {device}", base="square 4 x 2-1/8")


@pytest.mark.parametrize(
    ("entry", "word"),
    [
        ("entry side center 1-1/2 in back", "passes"),  # up to the middle is not past it
        ("entry side center 1-7/16 in back clear 1/2 in", "passes"),
        ("entry side center 1-7/16 in back clear 7/16 in", "fails"),
        ("entry side clear 1/2 in", "passes"),
        ("entry side clear 7/16 in", "check needed"),
        ("entry side center 1-7/16 in", "check needed"),
        ("entry side center ? in clear ? in", "check needed"),
        ("entry side", "check needed"),
    ],
)
def test_either_of_two_distances_is_enough(entry: str, word: str):
    assert finding(beside(entry), 2023, RULE).verdict.word == word


@pytest.mark.parametrize("year", [*COMPARED, 2026])
def test_it_is_a_rule_since_2023_and_is_carried_on(year: int):
    found = findings(beside("entry side center 1 in clear 1/4 in"), year, RULE)
    assert [one.verdict.word for one in found] == (["fails"] if year >= 2023 else [])
    if year >= 2023:
        assert found[0].cite == "314.24(C)"
        assert found[0].confidence == ("not compared with 2026" if year == 2026 else "two sources")


def test_what_would_settle_it_is_asked():
    found = finding(beside("entry side", "receptacle #12"), 2023, RULE)
    assert [fact.question for fact in found.facts] == [
        "what is clear between the receptacle and the box wall",
        "how far behind the device's mounting plane the middle of the entry is",
        "how far the receptacle reaches back",
    ]
    assert found.facts[0].settles == "passes with 1/2 in. or more"


def test_a_raceway_in_a_side_wall_matters_where_the_device_is_measured():
    sheet = "panel P\n" + in_box(
        "entry R1 left; receptacle #12 projects 1-1/2 in", "raceway R1 P > A emt 1/2", base="square 4 x 2-1/8"
    )
    assert finding(sheet, 2023, RULE).verdict.word == "check needed"
    assert findings(sheet.replace(" projects 1-1/2 in", ""), 2023, RULE) == []


def test_an_ordinary_box_is_reminded_and_not_left_open():
    sheet = in_box("clamps none; receptacle #12 projects 1 in", "run A > ? 12/2 nm-b", base="square 4 x 2-1/8")
    assert verdict(sheet, 2023) == "passes"
    (told,) = reminders(sheet, 2023, TOLD)
    assert (
        told.text
        == "where wiring enters a side wall, a device stays in front of that entry's middle or 1/2 in. off the box wall"
    )
    assert told.cite == "314.24(C)"
    assert reminders(sheet, 2020, TOLD) == []


@pytest.mark.parametrize(
    "sheet", [in_box(base="square 4 x 2-1/8"), in_box("switch #12", base="conduit body c 1 marked 9 in3")]
)
def test_a_box_without_a_device_and_a_conduit_body_are_told_nothing(sheet: str):
    assert reminders(sheet, 2023, TOLD) == []
    assert findings(sheet, 2023, RULE) == []


def test_a_box_that_writes_its_side_entry_is_not_reminded_of_it():
    assert reminders(beside("entry side clear 1 in"), 2023, TOLD) == []


@pytest.mark.parametrize(
    "entry",
    [
        "entry side",
        "entry side center 1.25 in back",
        "entry side clear ? in",
        "entry side center ? in back clear 0.5 in",
    ],
)
def test_an_entry_is_written_as_it_was_read(entry: str):
    job = read_job(beside(entry))
    assert read_job(write_job(job)) == job
    assert entry in write_job(job)
