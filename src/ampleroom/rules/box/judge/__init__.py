"""One box judged: each of its sides weighed, the other rules asked, and what cannot be counted said once."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ampleroom.editions import CodeBook
from ampleroom.facts import Assumption
from ampleroom.job.graph import Graph, RunAtBox
from ampleroom.job.model import Base, Box, Item, Job
from ampleroom.record import late
from ampleroom.rules.box.fill.ends import ENDS
from ampleroom.rules.box.judge.fill import fill_finding, fill_verdict
from ampleroom.rules.box.judge.other_findings import judged
from ampleroom.rules.box.judge.weighing import REMINDER_RULES, Side, asked
from ampleroom.rules.builder import SpaceBuilder, builder_of
from ampleroom.rules.conduit_body.splices import holds_splices
from ampleroom.rules.space import Space
from ampleroom.surplus import TooMany
from ampleroom.worksheet import Finding, SubjectReport, Verdict

BODY_KIND = "conduit body"


def place_report(box: Box, graph: Graph, book: CodeBook) -> SubjectReport:
    """What is found of one box or conduit body. Of boxes alike the first is judged; the others have its verdict, and
    their own sentences when somebody asks.
    """
    builder, items = builder_of(box, graph, book), graph.items(box)
    # Sides go by their names, and whatever lies in a raceway, with a line of its own or without, by where it goes.
    if builder.shares or builder.raceways or any(run.raceways for run, _ in builder.runs):
        return box_report(builder, items)
    contents = builder.contents(0)
    known = book.judged.get(contents)
    if known is not None:
        first: SubjectReport = known[0]
        if known[1].box is box and known[1].runs == builder.runs:
            return first  # the same box asked for again
        of_its_own = {"name": box.name, "description": box.description, "at": box.at}
        return late(first, judged_again, (builder, items), ("kind", "is_empty"), **of_its_own)
    report = box_report(builder, items)
    book.judged[contents] = report, builder  # what its records are known by holds as long as they live
    return report


def judged_again(_: SubjectReport, like: tuple[SpaceBuilder, tuple[Item, ...]]) -> tuple[Any, ...]:
    """The fields of the report of a box that is like one judged before."""
    report = box_report(*like)
    return tuple([getattr(report, field) for field in SubjectReport._fields])


def check_box(job: Job, box: Box, book: CodeBook) -> SubjectReport:
    """What is found of one box of a job, without looking at the others."""
    return place_report(box, job.graph_at(box.name), book)


def kind_of(items: tuple[Item, ...]) -> str:
    """What a place of a sheet is, by what stands under it: a conduit body is one kind of subject, any other box
    another.
    """
    return BODY_KIND if any(isinstance(item, Base) and item.form == BODY_KIND for item in items) else "box"


def box_report(builder: SpaceBuilder, items: tuple[Item, ...]) -> SubjectReport:
    """One box with the lines under it: each of its spaces weighed and judged, and what cannot be counted said once."""
    box, book = builder.box, builder.book
    sides = [Side(builder, index) for index in range(len(builder.sides))]
    is_empty = all(side.space.is_empty for side in sides)
    findings: list[Finding] = []
    for index, side in enumerate(sides):
        space = side.space
        if is_filled(space):
            fill = fill_finding(side, book, is_empty)
            if fill.verdict is Verdict.FAILS:
                fill = fill._replace(surplus=too_many(builder, items, index))
            findings.append(fill)
        elif is_empty:
            from ampleroom.rules.conduit_body.passing import (
                empty_body_finding,  # only a job with conduit bodies loads it
            )

            findings.append(empty_body_finding(space, book))
        findings += judged(side, book)
    reminders = [reminder for side in sides for reminder in asked(REMINDER_RULES, side.space, book, side.alike)]
    if len(sides) > 1:
        reminders = list(dict.fromkeys(reminders))
    return SubjectReport(kind_of(items), box.name, box.description, box.at, tuple(findings), tuple(reminders), is_empty)


def is_filled(space: Space) -> bool:
    """Whether a space is judged by box fill: every box, and a conduit body that may hold splices and does."""
    if not space.is_conduit_body:
        return True
    return holds_splices(space) and space.base is not None and space.base.volume is not None


def too_many(builder: SpaceBuilder, items: tuple[Item, ...], side_index: int) -> TooMany:
    """What is too many in a box that fails, or a side of it by its number. Other rules than box fill have no part in
    it.
    """

    def passes(runs: Sequence[RunAtBox]) -> bool:
        fewer = SpaceBuilder(builder.box, items, runs, builder.book, builder.raceways)
        side = Side(fewer, side_index)
        if not is_filled(side.space):
            return False
        is_empty = side.space.is_empty and all(space.is_empty for space in fewer.spaces(Assumption(ENDS)))
        return fill_verdict(side.case, is_empty).is_allowed

    share = builder.sides[side_index][0]
    return TooMany(tuple(builder.runs), share.name if share else "", passes)
