"""Boxes alike share what rules say of their contents; every answer is as if each had been asked alone."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given

from ampleroom import read_job
from ampleroom.check import book_for, check_box, subject_reports
from ampleroom.editions import CodeBook
from ampleroom.job.model import Device, Job, Run
from ampleroom.job.unknown import UNKNOWN
from ampleroom.job.writer import write_job
from ampleroom.record import replace
from ampleroom.rules.box import judge
from ampleroom.rules.box.judge import weighing
from ampleroom.rules.builder import SpaceBuilder
from ampleroom.worksheet import SubjectReport, Verdict
from tests.strategies import examples, jobs

PURPOSES = ("box-fill", "conduit-body-passing", "pull-box")

TWINS = """edition 2023
panel P
panel Q
box A at stair
  square 4 x 1-1/2
  clamps inside
  receptacle #12
box B at hall
  square 4 x 1-1/2
  clamps inside
  receptacle #12
run P > A 12/2 nm-b
run Q > B 12/2 nm-b
"""


def alone(job: Job, monkeypatch: pytest.MonkeyPatch) -> tuple[Any, ...]:
    """The answers where nothing is shared."""
    with monkeypatch.context() as patch:
        patch.setattr(SpaceBuilder, "contents", lambda builder, number: object())
        return subject_reports(job, book_for(job))


def places(reports: tuple[Any, ...]) -> list[Any]:
    """Where each finding says it was written, which takes no part when findings are compared."""
    return [(finding.at, finding.also, finding.facts) for report in reports for finding in report.findings]


def test_twins_share_their_contents_and_keep_their_own_names(monkeypatch: pytest.MonkeyPatch):
    job = read_job(TWINS)
    book = book_for(job)
    reports = subject_reports(job, book)
    assert len(book.alike) == 1
    assert reports == alone(job, monkeypatch)
    one, other = (report.findings[0].worst for report in reports)
    assert one is not None
    assert other is not None
    assert ["from P" in str(one.need[0]), "from Q" in str(other.need[0])] == [True, True]
    assert one.need[1] is other.need[1], "the line of the clamps is asked of the first alone"


@pytest.mark.parametrize(
    "change",
    [
        ("run Q > B 12/2", "run Q > B 14/2"),
        ("run Q > B 12/2 nm-b", "run Q > B 2 x 12/2 nm-b"),
        ("run Q > B 12/2 nm-b", "run Q > P 12/2 nm-b through B"),
        ("run Q > B 12/2 nm-b", "run Q > B > P 12/2 nm-b"),
        ("run Q > B 12/2 nm-b", "run Q > B 12/2 nm-b class 2"),
        ("receptacle #12\nrun", "switch #12\nrun"),
        ("run Q > B", "raceway R B > Q emt 3/4\nrun Q > B"),
    ],
)
def test_boxes_that_differ_share_nothing(change: tuple[str, str]):
    assert change[0] in TWINS
    job = read_job(TWINS.replace(*change))
    book = book_for(job)
    subject_reports(job, book)
    assert len(book.alike) == 2


def test_sides_in_another_order_are_not_taken_for_one_another():
    """The cable into the left side of either box takes 9.00 in3: two conductors, its ground, the clamps, each 2.25."""
    base = "  marked 20 in3\n  barrier metal 1 in3\n"
    left, right = (f"  space {side} 1/2\n  clamps inside\n" for side in ("left", "right"))
    boxes = f"box A\n{base}{left}{right}box B\n{base}{right}{left}"
    job = read_job(f"edition 2023\npanel P\n{boxes}run P > A/left 12/2 nm-b\nrun P > B/left 12/2 nm-b\n")
    needed = {
        finding.subject: finding.worst.needed
        for report in subject_reports(job, book_for(job))
        for finding in report.findings
        if finding.worst is not None
    }
    assert needed == {"A/left": 9, "A/right": 0, "B/left": 9, "B/right": 0}


def in_short(report: SubjectReport) -> tuple[Any, ...]:
    """What is said of a box before its own sentences are worked out."""
    margins = [report.margins(purpose, worst) for purpose in PURPOSES for worst in (False, True)]
    return report.verdict, report.is_empty, margins, report.readings, report.cautions


def test_the_second_of_two_boxes_alike_is_worked_out_when_somebody_looks(monkeypatch: pytest.MonkeyPatch):
    job = read_job(TWINS)
    first, second = subject_reports(job, book_for(job))
    asked: list[str] = []

    def noted(builder: SpaceBuilder, items: Any) -> SubjectReport:
        asked.append(builder.box.name)
        return first

    monkeypatch.setattr(judge, "box_report", noted)
    assert (first.like, second.like, second.verdict, second.name) == (None, first, Verdict.PASSES, "B")
    assert in_short(second) == in_short(first)
    assert asked == []
    assert second.findings == first.findings
    assert asked == ["B"]


def test_boxes_whose_cables_go_on_differently_are_not_taken_for_one_another():
    """One run that ends and goes on, or two runs: as many conductors, but an old cable is warned of for each run."""
    boxes = "".join(f"box {name}\n  square 4 x 2-1/8\n  clamps outside\n" for name in "AB")
    job = read_job(
        f"edition 2020\npanel P\npanel Q\n{boxes}run P > A > Q 14/2 old without ground\n"
        "run P > B 14/2 old without ground\nrun B > Q 14/2 old without ground\n"
    )
    assert [len(report.cautions) for report in subject_reports(job, book_for(job))] == [1, 2]


def test_wires_that_lie_in_a_raceway_without_a_line_are_not_taken_for_loose_ones():
    """Wires of a size nobody read may be 4 AWG or larger where they come by a raceway, and then distances decide."""
    boxes = "".join(f"box {name}\n  marked 300 in3\n  clamps none\n" for name in "AB")
    job = read_job(f"edition 2020\npanel P\n{boxes}wires P > A 3 x ? thhn\nwires P > B 3 x ? thhn in emt 1\n")
    first, second = subject_reports(job, book_for(job))[:2]
    assert (first.verdict, second.verdict) == (Verdict.PASSES, Verdict.OPEN)


def twin(run: Run) -> Run:
    """A run like it between the twins of its places."""
    stops = [stop if stop.name in ("P", UNKNOWN) else replace(stop, name=f"{stop.name}-twin") for stop in run.stops]
    through = [replace(passed, name=f"{passed.name}-twin") for passed in run.through]
    return replace(run, stops=tuple(stops), through=tuple(through), raceways=())


@examples(100)
@given(jobs(unknowns=True, most_boxes=4, most_runs=6))
def test_every_answer_is_as_if_each_box_were_asked_alone(job: Job):
    twins = tuple(replace(box, name=f"{box.name}-twin") for box in job.boxes)
    both = read_job(write_job(replace(job, boxes=(*job.boxes, *twins), runs=(*job.runs, *map(twin, job.runs)))))
    with pytest.MonkeyPatch.context() as patch:
        single = alone(both, patch)
    shared = subject_reports(both, book_for(both))
    assert [in_short(report) for report in shared] == [in_short(report) for report in single]
    assert shared == single
    assert places(shared) == places(single)


def test_boxes_tried_one_after_another_are_not_taken_for_one_another():
    """Each is gone when the next is made, perhaps in the same place of memory."""
    book = CodeBook(2020)
    job = read_job("edition 2020\nbox A\n  marked 20 in3\n  clamps outside\nrun A > ? 14/2 nm-b\n")
    (box,) = job.boxes
    for count in (*range(1, 30), *range(30, 0, -1)):
        tried = replace(box, items=(*box.items, Device(("switch",), size="14", count=count)))
        report = check_box(replace(job, boxes=(tried,)), tried, book)
        (sheet,) = [finding.worst for finding in report.findings if finding.worst is not None]
        assert sheet.needed == 2 * 2 + 2 + 4 * count  # two conductors, the ground, two allowances a switch


def test_a_rule_that_names_runs_may_not_share_what_it_says():
    """Turned round for the rule of conductors, the declaration is noticed."""
    job = read_job(TWINS)
    turned = tuple(replace(rule, of_contents=True) for rule in weighing.FILL_RULES)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(weighing, "FILL_RULES", turned)
        wrong = subject_reports(job, book_for(job))
    assert wrong != subject_reports(job, book_for(job))
