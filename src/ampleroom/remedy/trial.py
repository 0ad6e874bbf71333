"""Trying changes on a job: only the boxes a change touches are judged again, by the whole rules."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.check import box_reports
from ampleroom.editions import CodeBook
from ampleroom.fits import run_into
from ampleroom.job.edit import (
    AddAfter,
    AddBox,
    AddFirst,
    AddItem,
    AddKind,
    AddRun,
    Change,
    DropBox,
    DropItem,
    DropRun,
    PutItem,
    PutRun,
    SetKind,
    changed,
)
from ampleroom.job.model import Base, Box, Job, Run, SpaceShare
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import NO_LIMIT
from ampleroom.record import replace
from ampleroom.rules.meetings import meetings_by_place
from ampleroom.worksheet import BOX_FILL, SubjectReport, Verdict


class Trial:
    """A job, its reports, and what a change would make of them.

    ``spare``: something one more of which has to fit in every box besides (``12/2 nm-b``).
    """

    def __init__(self, job: Job, book: CodeBook, spare: str = "") -> None:
        self.job = job
        self.book = book
        self.boxes = {box.name: box for box in job.boxes}
        self.spare_text = spare
        self.spare = {box.name: run for box in job.boxes for run in self._spare_run(job, box)}
        self.order = {id(run): number for number, run in enumerate(job.runs)}
        self.runs_at: dict[str, tuple[Run, ...]] = {
            place: tuple({id(run): run for run, _ in met}.values()) for place, met in meetings_by_place(job).items()
        }
        self._alike: dict[str, dict[str, SubjectReport]] = {}
        reports = box_reports(replace(job, runs=(*job.runs, *self.spare.values())), book)
        self.reports = {report.name: report for report in reports}

    def _spare_run(self, job: Job, box: Box) -> tuple[Run, ...]:
        """The one more that has to fit, on the first side of a divided box; none in a conduit body."""
        if not self.spare_text or not takes_more(job, box):
            return ()
        side = next((item.name for item in job.items(box) if isinstance(item, SpaceShare)), "")
        return (run_into(job, f"{box.name}/{side}" if side else box.name, self.spare_text),)

    def touched(self, change: Change) -> frozenset[str]:
        """The boxes whose lines or runs a change alters."""
        found: set[str] = set()
        for step in change:
            match step:
                case (
                    AddItem(name, _)
                    | AddFirst(name, _)
                    | AddAfter(name, _, _)
                    | PutItem(name, _, _)
                    | DropItem(name, _)
                    | SetKind(name, _)
                ):
                    found.add(name)
                case AddBox(box, _):
                    found.add(box.name)
                case AddRun(run) | DropRun(run):
                    found |= places_of(run)
                case PutRun(run, was):
                    found |= places_of(run) | places_of(was)
                case DropBox(name):
                    found.add(name)
                case AddKind(_):
                    pass
        new = {step.new.name for step in change if isinstance(step, AddBox)}
        return frozenset(name for name in found if name in self.boxes or name in new)

    def after(self, change: Change) -> dict[str, SubjectReport]:
        """The reports of every box a change touches, as they would be."""
        touches = self.touched(change)
        return self.after_at(touches, change, touches)

    def after_at(
        self, names: frozenset[str], change: Change, touches: frozenset[str], alike: str = ""
    ) -> dict[str, SubjectReport]:
        """The reports of some of the boxes a change touches. Changes of which ``alike`` says the same leave the boxes that
        are there the same, and differ in new ones only: what is there is judged once for all of them.
        """
        known = self._alike.setdefault(alike, {}) if alike else {}
        asked = [name for name in names if name not in known]
        if not asked:
            return {name: known[name] for name in names}
        small = self.part(touches, change)
        small = replace(small, boxes=tuple([box for box in small.boxes if box.name in asked]))
        spare = [run for box in small.boxes for run in self._spare_of(small, box.name)]
        found = {report.name: report for report in box_reports(replace(small, runs=(*small.runs, *spare)), self.book)}
        known.update((name, report) for name, report in found.items() if name in self.boxes)
        return {name: found[name] if name in found else known[name] for name in names}

    def _spare_of(self, job: Job, name: str) -> tuple[Run, ...]:
        if not self.spare_text:
            return ()
        return (self.spare[name],) if name in self.spare else self._spare_run(job, job.box(name))

    def part(self, names: frozenset[str], change: Change = ()) -> Job:
        """A job of these boxes alone with all that comes into them, changed: their reports are those of the whole job."""
        anchors = {step.after for step in change if isinstance(step, AddBox)}
        boxes = tuple(self.boxes[name] for name in sorted({*names, *anchors}) if name in self.boxes)
        found = {id(run): run for box in boxes for run in self.runs_at.get(box.name, ())}
        runs = tuple(sorted(found.values(), key=lambda run: self.order[id(run)]))
        small = changed(replace(self.job, boxes=boxes, runs=runs), change)
        return replace(small, boxes=tuple([box for box in small.boxes if box.name in names]))

    def is_no_worse(self, after: dict[str, SubjectReport], mended: str) -> bool:
        """Whether the box mended and every new one pass, and no other is worse than it was: by its verdict, or with less
        room where it does not pass anyway.
        """
        for name, report in after.items():
            before = self.reports.get(name)
            if name == mended or before is None:
                if not report.verdict.is_allowed:
                    return False
            elif is_worse(report, before):
                return False
        return True


def is_worse(report: SubjectReport, before: SubjectReport) -> bool:
    if report.verdict is Verdict.PASSES or report.verdict < before.verdict:
        return False
    return report.verdict > before.verdict or margin_of(report) < margin_of(before)


def takes_more(job: Job, box: Box) -> bool:
    """Whether one would keep room in it: in a box, not in a conduit body."""
    return not any(isinstance(item, Base) and item.form == "conduit body" for item in job.items(box))


def places_of(run: Run) -> set[str]:
    return {stop.name for stop in run.stops if stop.name is not UNKNOWN} | {passed.name for passed in run.through}


def margin_of(report: SubjectReport) -> Decimal:
    """The least room left in any space of a box, with what is unknown at its worst, in3."""
    return min(report.margins(BOX_FILL.name, worst=True), default=NO_LIMIT)
