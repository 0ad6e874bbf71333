"""Which pictures a subject has, by its kind: for any kind the room of each worksheet, for a box also what enters it,
for a raceway, a wireway or a gutter its cross-section, for a circuit its tree, for a panel
its directory and the one-line diagram.
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

from ampleroom.pictures.circuit_tree import circuit_tree
from ampleroom.pictures.cross_section import cross_section
from ampleroom.pictures.drawing import Drawing
from ampleroom.pictures.entering import box_picture
from ampleroom.pictures.plan import plan
from ampleroom.pictures.wireway_section import wireway_section
from ampleroom.report import Report
from ampleroom.rules.box.pull_box import NAME as PULL_BOX
from ampleroom.worksheet import Finding, SubjectReport, Verdict

PictureMaker = Callable[[Report, SubjectReport, bool], Drawing | None]
"""A picture of a subject beside its rooms, None where there is nothing to draw; the last argument: whether it has a
title of its own."""


def entering(report: Report, subject: SubjectReport, title: bool) -> Drawing:
    """What enters a box, and what of it ends there."""
    return box_picture(report.job, report.job.box(subject.name), report.book, title=title)


def section(report: Report, subject: SubjectReport, title: bool) -> Drawing | None:
    """A raceway cut across."""
    return cross_section(report.job, subject.name, report.book, title)


def trough(report: Report, subject: SubjectReport, title: bool) -> Drawing | None:
    """A wireway or gutter cut across."""
    return wireway_section(report.job, subject.name, report.book, title)


def directory(report: Report, subject: SubjectReport, title: bool) -> Drawing | None:
    """The directory of a panel. What draws it is loaded for panels alone."""
    from ampleroom.pictures.panel_directory import panel_directory

    return panel_directory(report, subject, title)


def diagram(report: Report, subject: SubjectReport, title: bool) -> Drawing | None:
    """The one-line diagram of the job a panel belongs to."""
    from ampleroom.pictures.one_line import one_line

    return one_line(report, subject, title)


BESIDE: dict[str, tuple[PictureMaker, ...]] = {
    "box": (entering, plan),
    "conduit body": (entering,),
    "raceway": (section,),
    "wireway": (trough,),
    "gutter": (trough,),
    "circuit": (circuit_tree,),
    "panel": (directory, diagram),
}
"""The pictures of a kind beside the rooms of its worksheets, by the kind's name; a kind without a line has none."""


NEXT_TO_NOTHING = Decimal("0.1")
"""Of a pull box that is filled to less than this part nobody needs the room drawn: its distances decide."""


def rooms(subject: SubjectReport) -> tuple[Finding, ...]:
    """The findings whose room is drawn. None of a pull box with next to nothing in it that has an allowance: its plan
    is its picture.
    """
    drawn = subject.drawn_findings
    is_pull_box = any(finding.rule == PULL_BOX for finding in subject.findings)
    return () if is_pull_box and all(map(is_almost_empty, drawn)) else drawn


def is_almost_empty(finding: Finding) -> bool:
    """Whether a room passes for certain, and nearly all of it is spare."""
    sheet = finding.worst
    if sheet is None or finding.verdict is not Verdict.PASSES or not sheet.there.is_finite():
        return False
    return sheet.needed < sheet.there * NEXT_TO_NOTHING


def beside(report: Report, subject: SubjectReport, title: bool = True) -> list[Drawing]:
    """The pictures that show what no worksheet does, in order."""
    made = (make(report, subject, title) for make in BESIDE.get(subject.kind, ()))
    return [drawing for drawing in made if drawing is not None]


__all__ = ["BESIDE", "PictureMaker", "beside", "entering", "rooms", "section", "trough"]
