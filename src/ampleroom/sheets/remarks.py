"""Remarks of a sheet on their way through a workbook: each stays with the row whose line it stands on or over."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from typing import Any

from ampleroom.job.model import Job
from ampleroom.job.sheet import without_remark, words_of

SIGN = "#"


class Remarks:
    """The remarks of a job's sheet by the line of the record they belong to."""

    def __init__(self, job: Job) -> None:
        records: Iterable[Any] = (
            *job.boxes, *job.kinds, *job.runs, *job.circuits, *job.panels, *job.equipment, *job.raceways, *job.wireways,
            *job.routes,
        )  # fmt: skip
        heads = sorted(record.at.line for record in records if record.at.line)
        self.by_line: dict[int, list[str]] = {}
        """Line 0: those before any record, and those of a job's own lines."""
        waiting: list[str] = []
        for line_number, raw in enumerate(job.sheet.lines if job.sheet else (), 1):
            if SIGN in raw:
                remark = raw[len(without_remark(raw)) :].strip().removeprefix(SIGN).strip()
                waiting += [remark] if remark else []
            if waiting and words_of(raw):
                place = bisect_right(heads, line_number)
                self.by_line.setdefault(heads[place - 1] if place else 0, []).extend(waiting)
                waiting = []
        if waiting:
            self.by_line.setdefault(heads[-1] if heads else 0, []).extend(waiting)

    def of(self, record: Any) -> str:
        """The remarks of a record, one a line."""
        return "\n".join(self.by_line.get(record.at.line, ())) if record.at.line else ""

    @property
    def before(self) -> list[str]:
        """The remarks that stand over everything else of the sheet."""
        return self.by_line.get(0, [])
