"""Every kind of line under a box is drawn, generated, read naively, tapped on the page and written in the workbook.

A new kind of line fails here until all of them know it, or until one of the lists below says why one need not.
"""

from __future__ import annotations

import random
from fractions import Fraction
from typing import Any, get_args

import pytest

from ampleroom import check, read_job
from ampleroom.job import write_job
from ampleroom.job.lines import UNDER_A_BOX
from ampleroom.job.model import (
    Apart,
    Barrier,
    Base,
    Carries,
    Clamps,
    Device,
    DistributionBlock,
    Entry,
    FixtureWires,
    Item,
    MarkedFor,
    Mounting,
    Part,
    Rated,
    Room,
    SpaceShare,
    Uncounted,
)
from ampleroom.pictures.entering import ROLES, box_picture
from ampleroom.web import engine
from ampleroom.web.edits import EDITS
from tests.naive import naive_reading
from tests.pictures.helpers import texts
from tests.strategies import Dice, job_of

ITEMS: tuple[type, ...] = get_args(Item)
EVERY = pytest.mark.parametrize("kind", ITEMS, ids=lambda kind: kind.__name__)

DIVIDED = "barrier metal\n  space left 1/2\n  space right 1/2"
LINES = {statement.record: statement.example for statement in reversed(UNDER_A_BOX)} | {
    Barrier: DIVIDED,
    SpaceShare: DIVIDED,
    Entry: "entry rear center",
    FixtureWires: "fixture wires 5 x #16 from domed canopy",
}
"""Lines of a sheet by what they are: the first example of each in the grammar, with what it cannot stand or count
without."""

NOT_LISTED_IN_THE_PICTURE = {
    Base: "the box itself",
    Part: "a part of the box",
    Barrier: "drawn as the line between two sides",
    SpaceShare: "drawn as a side",
    Mounting: "how the box sits in the wall",
    Uncounted: "takes no room",
    Carries: "hangs outside the box",
    Rated: "what the box is listed for",
    Entry: "a place in the wall of the box",
    Apart: "a distance between two places in the wall of the box",
    MarkedFor: "what the box is listed for",
    DistributionBlock: "has no allowance",
    Room: "where the box is",
}
TAKES_NO_ROOM = {
    Mounting: "how the box sits in the wall",
    Uncounted: "said to count for nothing",
    Carries: "hangs outside the box",
    Rated: "what the box is listed for",
    Entry: "judged by depth and side entry",
    Apart: "judged by the distances of a pull box",
    MarkedFor: "judged beside the distances of a pull box",
    DistributionBlock: "judged by the size of its box",
    Room: "where the box is",
}
RACEWAYS = "panel P\nraceway R1 P > A emt 2\nraceway R2 P > A emt 2\n"
BESIDE_JOB: dict[type, str] = {Apart: RACEWAYS}
"""What else a job must have for a line to be read."""
TAP = {Base: "set-base", Clamps: "set-clamps", Barrier: "divide", SpaceShare: "divide"}
"""What the page does instead of ``add-item``; each is tried in ``tests/web/test_edits.py``."""
BESIDE_OTHER: dict[type, str] = {Base: "base", Part: "part", Clamps: "clamps", Device: "device"}


def sheet(kind: type, line: str | None) -> str:
    """A box with two cables and one line of a kind; None: without it."""
    base = line or "marked 60 in3" if kind is Base else "marked 60 in3"
    clamps = line or "clamps outside" if kind is Clamps else "clamps inside"
    own = "" if line is None or kind in (Base, Clamps) else f"  {line}\n"
    return (
        f"edition 2023\nbox A\n  {base}\n  {clamps}\n{own}run A{'/left' if line == DIVIDED else ''} > ? 2 x 14/2 nm-b\n"
        + BESIDE_JOB.get(kind, "")
    )


def with_line(kind: type) -> str:
    return sheet(kind, LINES[kind])


@EVERY
def test_every_kind_of_line_is_read_and_written(kind: type):
    assert kind in LINES, f"{kind.__name__} stands in no Statement of ampleroom/job/lines"
    job = read_job(with_line(kind))
    assert any(type(item) is kind for item in job.boxes[0].items)
    assert read_job(write_job(job)) == job


def test_every_kind_of_line_is_generated():
    dice = random.Random(7)
    seen: set[type] = set()
    for _ in range(400):
        job = job_of(Dice(lambda _: dice.randbytes(48)), extras=True, most_boxes=3, most_runs=1)
        seen |= {type(item) for record in (*job.kinds, *job.boxes) for item in record.items}
    assert seen == set(ITEMS), "tests/strategies.py makes no such line: add it to CONTENTS or to box_items"


@EVERY
def test_every_kind_of_line_is_drawn_inside_its_box_or_it_is_said_why_not(kind: type):
    assert (kind in ROLES) != (kind in NOT_LISTED_IN_THE_PICTURE), "name it in `counts` of the rule that counts it"
    job = read_job(with_line(kind))
    told, without = (texts(box_picture(found, found.boxes[0])) for found in (job, read_job(sheet(kind, None))))
    assert (len(told) > len(without) or kind is Clamps) == (kind in ROLES or kind in (Barrier, SpaceShare))


def naive(text: str) -> tuple[Fraction | None, Fraction]:
    job = read_job(text)
    space = "left" if DIVIDED in text else ""
    return naive_reading(job, job.boxes[0], space, 2023, {})


@EVERY
def test_every_kind_of_line_that_takes_or_gives_room_is_read_naively(kind: type):
    before, after = naive(sheet(kind, None)), naive(with_line(kind))
    assert (after == before) == (kind in TAKES_NO_ROOM), "count it in tests/naive.py, or say in TAKES_NO_ROOM why not"
    worst = next(found for found in check(read_job(with_line(kind))).findings if found.rule == "box-fill").worst
    assert worst is not None
    assert (Fraction(worst.there), Fraction(worst.needed)) == after


@EVERY
def test_every_kind_of_line_is_tapped_on_the_page_shown_there_and_taken_out_again(kind: type):
    if kind in TAP:
        assert TAP[kind] in EDITS
        return
    before = sheet(kind, None)
    added = edited(before, do="add-item", line=LINES[kind])
    assert read_job(added["sheet"]) == read_job(with_line(kind))
    (row,) = [row for row in added["view"]["items"] if row["is"] not in ("base", "clamps")]
    assert row["is"] == BESIDE_OTHER.get(kind, "other")
    assert edited(added["sheet"], do="drop-item", index=row["index"])["sheet"] == before


def edited(text: str, **edit: Any) -> dict[str, Any]:
    answer = engine.answer("edit", {"sheet": text, "edit": {"box": "A", **edit}, "box": "A"})
    assert "error" not in answer, answer
    assert answer["faults"] == []
    return answer


@EVERY
def test_every_kind_of_line_is_written_in_the_workbook_and_read_from_it(kind: type):
    pytest.importorskip("xlsxwriter")
    pytest.importorskip("python_calamine")
    from tests.sheets.helpers import there_and_back

    job = read_job(with_line(kind))
    assert there_and_back(job) == job
