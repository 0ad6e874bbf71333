"""Reading a sheet again after a small change: only what changed is read, so a tap in a job of 4,000 boxes stays quick.

The lines of two texts are compared. If those that differ hold only lines under one box, runs and notes, the rest of the
job is kept, and what stands below is given its new line numbers. In any other case (a box more, another name, a fault)
the whole sheet is read. The result is the same either way; ``tests/job/test_again.py`` compares the two.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence
from functools import lru_cache
from operator import attrgetter
from typing import Any, TypeVar

from ampleroom.job.beside import Beside
from ampleroom.job.faults import Fault
from ampleroom.job.model import BOX_END, Box, Item, Job, Note, Run
from ampleroom.job.moved import moved
from ampleroom.job.names import Names
from ampleroom.job.one_line import read_one_line
from ampleroom.job.reader import read_with_closers
from ampleroom.job.settling import RunSettler
from ampleroom.job.sheet import Sheet
from ampleroom.job.words import Unreadable
from ampleroom.record import Record, replace
from ampleroom.where import Where

R = TypeVar("R", bound=Record)
BYTE_ORDER = "\ufeff"


class NotSmall(Exception):
    """The change is more than lines under one box, runs and notes, or has a fault: read the whole sheet."""


class Reading:
    """A sheet as it was read, with what it takes to read it again after a change."""

    __slots__ = ("_closers", "_lines", "_names", "faults", "job")

    def __init__(self, job: Job, faults: tuple[Fault, ...], closers: list[int], names: Names | None = None) -> None:
        self.job = job
        self.faults = faults
        self._closers = closers
        """Numbers of the lines that end the lines of the box above, in order; the heads of boxes are among them."""
        self._names = names
        self._lines: list[str] | None = None

    @property
    def lines(self) -> list[str]:
        """The lines of the text as it was read, without the mark of the byte order."""
        if self._lines is None:
            self._lines = self.text.split("\n")
        return self._lines

    @property
    def text(self) -> str:
        """The text as it was read, without the mark of the byte order."""
        assert self.job.sheet is not None  # it was read from one
        return self.job.sheet.text.removeprefix(BYTE_ORDER)

    def again(self, sheet: Sheet, beside: Beside | None = None) -> Reading:
        """The sheet as it reads now; ``sheet`` is the changed text under the same file name."""
        before = self.job
        if self.faults or before.amendments_file or not before.boxes or before.sheet is None:
            return read_whole(sheet, beside)
        if (before.sheet.file, before.sheet.folder) != (sheet.file, sheet.folder):
            return read_whole(sheet, beside)
        try:
            return self._after(sheet)
        except (NotSmall, Unreadable):
            self._names = None  # it remembers what was missing
            return read_whole(sheet, beside)

    def _after(self, sheet: Sheet) -> Reading:
        text = sheet.text.removeprefix(BYTE_ORDER)
        old, new = self.lines, text.split("\n")
        first, after = lines_alike(self.text, text)
        end, shift = len(old) - after, len(new) - len(old)
        # Lines first + 1 to end are replaced by lines first + 1 to end + shift.
        gone = [
            record
            for line_number in range(first + 1, end + 1)
            for record in read_small(line_number, old[line_number - 1])
        ]
        come = [
            record
            for line_number in range(first + 1, end + shift + 1)
            for record in read_small(line_number, new[line_number - 1])
        ]
        settler = self._settler()
        runs = [self.names.run(settler.settled(record)) for record in come if isinstance(record, Run)]
        notes = [record for record in come if isinstance(record, Note)]
        items = [record for record in come if not isinstance(record, Run | Note)]
        are_items = bool(items) or any(not isinstance(record, Run | Note) for record in gone)
        self.names.tell_missing()

        job = self.job
        changed = replace(
            job,
            boxes=self._boxes(items, are_items, first, end, shift),
            runs=spliced(job.runs, runs, first, end, shift),
            notes=spliced(job.notes, notes, first, end, shift),
            sheet=sheet,
            **{field: spliced(getattr(job, field), (), first, end, shift) for field in BELOW},
            dwelling=job.dwelling and moved_if_below(job.dwelling, end, shift),
        )
        closers = [line + shift if line > end else line for line in self._closers] if shift else self._closers
        reading = Reading(changed, (), closers, self.names)
        reading._lines = new
        return reading

    @property
    def closers(self) -> list[int]:
        """Numbers of the lines that end the lines of the box above, in order; the heads of boxes are among them."""
        return self._closers

    @property
    def names(self) -> Names:
        """Every name of the job; kept from one small change to the next, which give and take none."""
        if self._names is None:
            self._names = Names(self.job, refuse)
        return self._names

    def _settler(self) -> RunSettler:
        job = self.job
        raceways = {raceway.name.casefold() for raceway in job.raceways}
        return RunSettler(job.panels, raceways, job.usual_cable, refuse)

    def _boxes(self, items: list[Item], are_items: bool, first: int, end: int, shift: int) -> tuple[Box, ...]:
        """All boxes: the one whose lines changed made anew, those below it moved. ``are_items``: some line under it
        came or went.
        """
        boxes = self.job.boxes
        closer = bisect_right(self._closers, first)
        head = self._closers[closer - 1] if closer else 0
        below = bisect_right(boxes, end, key=line_of)
        place = bisect_left(boxes, head, key=line_of)
        if place < len(boxes) and line_of(boxes[place]) == head:
            box = boxes[place]
            kept = [item for item in box.items if item.at.line <= first]
            rest = moved_all([item for item in box.items if item.at.line > end], shift)
            changed = replace(box, items=(*kept, *items, *rest))
            if are_items:
                was = self.names.spaces_of(box)
                changed = self.names.box(changed)
                if self.names.spaces_of(changed) != was:
                    raise NotSmall  # its runs must say on which side they end
            boxes = (*boxes[:place], changed, *boxes[place + 1 :])
        elif are_items or any(line_of(kind) == head for kind in self.job.kinds):
            raise NotSmall  # lines under a kind, or under nothing
        return (*boxes[:below], *moved_all(boxes[below:], shift))


def refuse(where: Where, message: str, hint: str) -> None:
    """A fault: the whole sheet is read, so that it is told among all others."""
    raise NotSmall


def read_whole(sheet: Sheet, beside: Beside | None = None) -> Reading:
    """A sheet read from its first line to its last."""
    job, faults, closers = read_with_closers(sheet, beside)
    return Reading(job, tuple(faults), closers)


def read_small(line_number: int, raw: str) -> tuple[Any, ...]:
    """What a line under a box, a run or a note says; ``NotSmall`` of any other line."""
    line = read_one_line(line_number, raw, True)
    if line is None:
        return ()
    if not line.is_item and not isinstance(line.record, Run | Note):
        raise NotSmall
    if isinstance(line.record, Run) and line.record.stops[0].name == BOX_END:
        raise NotSmall  # a run of the box above it
    return (line.record, *line.more)


@lru_cache(maxsize=2)  # after a change, several ask about the same two texts
def lines_alike(before: str, after: str) -> tuple[int, int]:
    """How many lines two texts have in common at their start, and how many of the rest at their end.

    The texts are compared, not their lines: of a large sheet that takes a hundredth of the time.
    """
    old, new = before + "\n", after + "\n"
    first = old.count("\n", 0, alike(old, new))
    old, new = "\n" + before, "\n" + after
    same = alike(old[::-1], new[::-1])
    fewer = min(old.count("\n"), new.count("\n"))
    return first, min(old.count("\n", len(old) - same), fewer - first)


def alike(before: Sequence[Any], after: Sequence[Any]) -> int:
    """How many two lists, or the letters of two texts, have in common from the start."""
    low, high = 0, min(len(before), len(after))
    if before[:high] == after[:high]:
        return high
    while low + 1 < high:  # lines up to low are alike, and not all up to high
        middle = (low + high) // 2
        if before[low:middle] == after[low:middle]:
            low = middle
        else:
            high = middle
    return low


# ---- line numbers --------------------------------------------------------------------------------------------------

BELOW = ("readings", "kinds", "panels", "equipment", "circuits", "raceways", "wireways", "routes", "loads")
"""What a small change leaves as it is, but for the numbers of its lines."""
line_of: Callable[[Any], int] = attrgetter("at.line")


def spliced(records: tuple[R, ...], new: Sequence[R], first: int, end: int, shift: int) -> tuple[R, ...]:
    """Records in the order of the sheet, those of lines ``first + 1`` to ``end`` replaced, those below moved."""
    start, stop = bisect_right(records, first, key=line_of), bisect_right(records, end, key=line_of)
    if start == stop and not new and not shift:
        return records
    return (*records[:start], *new, *moved_all(records[stop:], shift))


def moved_all(records: Sequence[R], shift: int) -> Sequence[R]:
    """Records so many lines further down, in order."""
    if not shift:
        return records
    for record in records:
        if isinstance(record, Run):
            record.place_names  # noqa: B018  (kept with it, and taken along)
    return [moved(record, shift) for record in records]


def moved_if_below(record: R, end: int, shift: int) -> R:
    """A record so many lines further down where it stands below line ``end``, else as it is."""
    return moved(record, shift) if line_of(record) > end else record
