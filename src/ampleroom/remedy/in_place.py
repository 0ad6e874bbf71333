"""A subject of any kind as its moves see it."""

from __future__ import annotations

from typing import Any

from ampleroom.editions import CodeBook
from ampleroom.job.model import Job, Run
from ampleroom.record import Record
from ampleroom.remedy.stock import Stock
from ampleroom.worksheet import SubjectReport


class SubjectInPlace(Record):
    """One subject of a job as its moves see it; ``BoxInPlace`` is made of the same, and knows more."""

    job: Job
    subject: Any
    """The record of the job that is judged: a box, a piece of equipment ..."""
    stock: Stock
    book: CodeBook
    report: SubjectReport
    runs: tuple[Run, ...]
    """Every run that ends at its place or passes it."""
