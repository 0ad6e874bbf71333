"""Every move has a case worked by hand, in the test file of its own name: what it costs, how long it takes, what it
leaves.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from importlib import import_module
from importlib.util import find_spec

import pytest

from ampleroom import check
from ampleroom.job.edit import changed
from ampleroom.remedy.moves import MOVES, Maker
from ampleroom.remedy.trial import margin_of
from ampleroom.worksheet import Verdict
from tests.remedy.helpers import MoveCase, job_of, placed

EVERY: dict[Maker, None] = dict.fromkeys(make for moves in MOVES.values() for make in moves.makers)


def file_of(make: Maker) -> str:
    return f"tests.remedy.moves.test_{make.__module__.rpartition('.')[2]}"


def cases() -> Iterator[MoveCase]:
    for name in dict.fromkeys(map(file_of, EVERY)):
        if find_spec(name):
            yield from getattr(import_module(name), "CASES", ())


@pytest.mark.parametrize("make", EVERY, ids=lambda make: make.__name__)
def test_every_move_has_a_case_worked_by_hand(make: Maker):
    assert any(case.make is make for case in cases()), f"write {file_of(make)} with a MoveCase of it in CASES"


@pytest.mark.parametrize("case", list(cases()), ids=lambda case: case.make.__name__)
def test_a_move_gives_what_its_case_says(case: MoveCase):
    """Alone, judged by the whole rules; before it the box does not pass."""
    job = job_of(case.sheet)
    before = check(job)
    subject = before.subject(case.subject) if case.subject else before.subjects[0]
    assert subject.verdict is not Verdict.PASSES
    (move,) = case.make(placed(case.sheet, case.parts, case.subject))
    assert sum(buy.price for buy in move.buys) == Decimal(case.price)
    assert move.minutes == case.minutes
    after = check(changed(job, move.change)).subject(move.fixed_name)
    assert (after.verdict, margin_of(after)) == (Verdict.PASSES, Decimal(case.leaves))
    assert case.working
