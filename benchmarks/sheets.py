"""How quick workbooks are: one of 5,000 rows written, and read back.

    ./run bench sheets

Medians in one run on one machine, by the processor's clock, as all of it is one thread's work.
"""

from __future__ import annotations

import os
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from benchmarks.core import long_sheet

from ampleroom import check, read_job
from ampleroom.sheets.reading import job_from_tables, read_tables
from ampleroom.sheets.writing import workbook

T = TypeVar("T")
BOXES, TIMES = 2_200, 7


def timed(work: Callable[[], T]) -> tuple[T, float]:
    """What it gives, and the median of its seconds."""
    took = []
    for _ in range(TIMES):
        began = time.process_time()
        found = work()
        took.append(time.process_time() - began)
    return found, statistics.median(took)


def main() -> int:
    job = read_job(long_sheet(BOXES))
    rows = len(job.boxes) + len(job.runs) + len(job.circuits) + len(job.panels) + 2
    print(f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}; {rows} rows")
    data, written = timed(lambda: workbook(job))
    print(f"written   {written:5.2f} s   aim 2 s   {len(data) / 1e6:.1f} MB")
    back, read = timed(lambda: job_from_tables(read_tables(data, "w.xlsx"), "w.xlsx"))
    print(f"read      {read:5.2f} s   aim 2 s   {'the same job' if back == job else 'ANOTHER JOB'}")
    report = check(job)
    data, written = timed(lambda: workbook(job, report))
    extra = len(report.findings) + sum(len(list(sheet.lines)) for sheet in report.worksheets.values())
    print(f"written with its results, {extra} rows more   {written:5.2f} s   {len(data) / 1e6:.1f} MB")
    return 0 if back == job else 1


if __name__ == "__main__":
    raise SystemExit(main())
