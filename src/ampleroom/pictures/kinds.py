"""Which pictures a subject has, by its kind: for any kind the room of each worksheet, for a box also what enters it."""

from __future__ import annotations

from collections.abc import Callable

from ampleroom.pictures.drawing import Drawing
from ampleroom.pictures.entering import box_picture
from ampleroom.report import Report
from ampleroom.worksheet import SubjectReport

PictureMaker = Callable[[Report, SubjectReport, bool], Drawing]
"""A picture of a subject beside its rooms; the last argument: whether it has a title of its own."""


def entering(report: Report, subject: SubjectReport, title: bool) -> Drawing:
    """What enters a box, and what of it ends there."""
    return box_picture(report.job, report.job.box(subject.name), report.book, title=title)


BESIDE: dict[str, tuple[PictureMaker, ...]] = {"box": (entering,), "conduit body": (entering,)}
"""The pictures of a kind beside the rooms of its worksheets, by the kind's name; a kind without a line has none."""


def beside(report: Report, subject: SubjectReport, title: bool = True) -> list[Drawing]:
    """The pictures that show what no worksheet does, in order."""
    return [make(report, subject, title) for make in BESIDE.get(subject.kind, ())]


__all__ = ["BESIDE", "PictureMaker", "beside", "entering"]
