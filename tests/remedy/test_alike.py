"""Boxes alike are judged once: with and without that, every option is exactly the same."""

from __future__ import annotations

from collections.abc import Hashable
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampleroom import read_job
from ampleroom.check import book_for
from ampleroom.job import write_job
from ampleroom.job.cables import sizes_of
from ampleroom.job.model import Job, Run
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.record import replace
from ampleroom.remedy.box import EVERY, all_remedies
from ampleroom.remedy.plan import Limits
from ampleroom.remedy.trial import Judgement, Trial, judgement_of
from ampleroom.worksheet import Verdict
from tests.remedy.crowded import STOCK, crowded_jobs
from tests.remedy.helpers import job_of
from tests.strategies import Dice, examples, jobs

ANY = st.one_of(crowded_jobs(), jobs(unknowns=True, most_boxes=3).map(lambda job: read_job(write_job(job))))
ALIKE = """kind usual
  square 4 x 1-1/2
  clamps inside
box A1 usual
box A2 usual
box A3 usual
  switch #14
run A1 > ? 4 x 12/2 nm-b 10 ft circuit 1
run A1 > ? 14/2 nm-b 4 ft
run A2 > ? 14/2 nm-b 8 ft
run A2 > P 4 x 12/2 nm-b circuit 2
run A3 > ? 4 x 12/2 nm-b
run A3 > ? 14/2 nm-b
panel P
"""


def renamed(name: Maybe[str]) -> Maybe[str]:
    return name if name is UNKNOWN else f"{name}x"


def with_twins(dice: Dice, job: Job) -> Job:
    """The job and the same once more by other names, circuits and lengths; in every run of the second one thing may
    differ.
    """
    boxes = tuple(replace(box, name=f"{box.name}x", items=tuple(reversed(box.items))) for box in job.boxes)
    boxes = tuple(
        replace(box, items=was.items) if dice.chance(2) else box for box, was in zip(boxes, job.boxes, strict=True)
    )
    return replace(job, boxes=(*job.boxes, *boxes), runs=(*job.runs, *(twin_of(dice.line(), run) for run in job.runs)))


def twin_of(dice: Dice, run: Run) -> Run:
    stops = tuple(replace(stop, name=renamed(stop.name)) for stop in run.stops)
    through = tuple(replace(passed, name=f"{passed.name}x") for passed in run.through)
    run = replace(run, stops=stops, through=through, length=Decimal(77), circuit="77", label="twin")
    match dice.whole(0, 7):
        case 0:
            return replace(run, count=dice.pick((1, 2, UNKNOWN)))
        case 1:
            return replace(run, low_voltage=not run.low_voltage)
        case 2 if run.cable is not None:
            return replace(run, cable=run.cable._replace(size=dice.pick(sizes_of(run.cable))))
        case 3:
            return replace(run, wires=run.wires[:-1]) if run.cable is not None else run
        case 4:
            slack, loop = dice.pick((("straight", None), ("loop", Decimal(20)), ("loop", Decimal(9)), ("landed", None)))
            return replace(run, through=tuple(replace(passed, slack=slack, loop=loop) for passed in through))
        case 5 if run.wires:
            return replace(run, wires=tuple(wires._replace(count=dice.pick((1, 3, UNKNOWN))) for wires in run.wires))
    return run


@st.composite
def twins(draw):
    return with_twins(Dice(draw), draw(st.one_of(crowded_jobs(), jobs(unknowns=True, most_boxes=3))))


class EachAlone(Trial):
    """Judges every box anew, as if no two were alike."""

    def contents(self, items, runs_at_box) -> Hashable:
        return object()


class Counting(Trial):
    """Keeps the contents that were asked for."""

    def contents(self, items, runs_at_box) -> Hashable:
        contents = super().contents(items, runs_at_box)
        self.asked = [*getattr(self, "asked", []), contents]
        return contents


@examples(150)
@given(twins())
def test_boxes_of_equal_contents_are_judged_alike(job):
    trial, graph = Trial(job, book_for(job)), job.graph
    judged: dict[Hashable, Judgement] = {}
    for box in job.boxes:
        contents = trial.contents(graph.items(box), graph.runs_at.get(box.name, ()))
        judgement = judgement_of(trial.reports[box.name])
        assert judged.setdefault(contents, judgement) == judgement


@examples(40)
@given(ANY, st.sampled_from(["", "12/2 nm-b"]), st.booleans())
def test_the_options_are_the_same_as_when_each_box_is_tried_alone(job, spare, is_plan):
    wanted = Limits().wanted(STOCK) if is_plan else EVERY
    once, alone = (kind(job, book_for(job), spare) for kind in (Trial, EachAlone))
    for box in job.boxes:
        if once.reports[box.name].verdict is not Verdict.PASSES:
            assert all_remedies(once, box, STOCK, wanted=wanted) == all_remedies(alone, box, STOCK, wanted=wanted)


def test_a_second_box_alike_is_not_judged_again_and_another_one_is():
    """A1 and A2 hold the same by other names, circuits, lengths and far ends; A3 has a switch besides."""
    job = job_of(ALIKE)
    trial = Counting(job, book_for(job))
    first = all_remedies(trial, job.boxes[0], STOCK)
    judged = len(trial._judged)
    assert judged > 3
    second = all_remedies(trial, job.boxes[1], STOCK)
    assert len(trial._judged) == judged
    assert len(trial.asked) > judged
    assert [remedy.margin for remedy in first] == [remedy.margin for remedy in second]
    assert all("A2" in remedy.touches for remedy in second)
    all_remedies(trial, job.boxes[2], STOCK)
    assert len(trial._judged) > judged


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("run A > ? 12/2 nm-b", "run B > ? 14/2 nm-b"),
        ("run A > ? 12/2 nm-b", "run B > ? 2 x 12/2 nm-b"),
        ("run ? > ? 12/2 nm-b through A", "run ? > ? 12/2 nm-b through B loop 20 in"),
        ("run ? > ? 12/2 nm-b through A loop 9 in", "run ? > ? 12/2 nm-b through B loop 20 in"),
        ("wires A > ? 2 x #12 thhn", "wires B > ? 3 x #12 thhn"),
    ],
)
def test_boxes_whose_runs_differ_hold_different_things(first, second):
    job = job_of(
        f"box A\n  square 4 x 1-1/2\n  clamps inside\nbox B\n  square 4 x 1-1/2\n  clamps inside\n{first}\n{second}\n"
    )
    trial, graph = Trial(job, book_for(job)), job.graph
    a, b = (trial.contents(job.items(box), graph.runs_at[box.name]) for box in job.boxes)
    assert a != b
    assert judgement_of(trial.reports["A"]) != judgement_of(trial.reports["B"])
