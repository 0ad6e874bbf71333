"""How quick pictures and the packet are: one room picture, a map of 300 boxes, and a packet of 300 boxes.

    ./run bench pictures

The job is the studio of the examples 25 times over: old and new cable, unknown facts, barriers, boxes that fail. The
packet has remedies and takeoff in it, and is made by a fresh process: seconds by the clock, since the aim is what a
person waits for, beside them the processor's, which a busy machine does not lengthen. Medians, all in one run on one
machine.
"""

from __future__ import annotations

import os
import re
import resource
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

from ampleroom import Report, check, read_job
from ampleroom.job.model import Job
from ampleroom.job.writer import write_job
from ampleroom.packet import packet
from ampleroom.pictures.entering import box_picture
from ampleroom.pictures.job_map import job_map
from ampleroom.pictures.room import room_picture
from ampleroom.pictures.svg import svg
from ampleroom.remedy.plan import plan
from ampleroom.remedy.stock import stock_from_text
from ampleroom.remedy.takeoff import takeoff

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
COPIES, TIMES = 25, 5


def studio() -> Job:
    return read_job((EXAMPLES / "studio.job").read_text("utf-8"))


REPEATED = {"box", "run", "wires", "raceway"}


def many_studios(copies: int) -> Job:
    """So many studios fed from one panel, each box with a name of its own."""
    job = studio()
    own = re.compile(rf"\b({'|'.join([box.name for box in job.boxes] + [way.name for way in job.raceways])})\b")
    head: list[str] = []
    again: list[str] = []
    lines = head
    for line in write_job(job).splitlines():
        if not line.startswith(" "):
            lines = again if line.partition(" ")[0] in REPEATED else head
        lines.append(line)
    copied = [own.sub(rf"\1-{copy}", line) for copy in range(copies) for line in again]
    return read_job("\n".join(head + copied) + "\n")


def once() -> str:
    """The packet made in this fresh process: seconds by the clock and of the processor, those before it, the most
    memory, its length.
    """
    job = many_studios(COPIES)
    stock = stock_from_text((EXAMPLES / "stock.toml").read_text("utf-8"))
    first = time.process_time()
    report = check(job)
    mended, bought = plan(job, report.book, stock), takeoff(job, stock)
    began, second = time.perf_counter(), time.process_time()
    pdf = packet(report, plan=mended, takeoff=bought)
    ended, third = time.perf_counter(), time.process_time()
    held = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000
    return f"{ended - began} {third - second} {second - first} {held} {len(pdf) / 1e6}"


def milliseconds(work: Callable[[], object], times: int) -> float:
    took = []
    for _ in range(times):
        began = time.perf_counter()
        work()
        took.append(time.perf_counter() - began)
    return statistics.median(took) * 1000


def print_pictures(report: Report) -> None:
    rooms = [finding for finding in report.findings if finding.worst is not None]
    each = [
        milliseconds(lambda finding=finding: svg(room_picture(finding)), 21)  # type: ignore[misc]
        for finding in rooms
    ]
    print(f"one room picture   median {statistics.median(each):5.2f} ms   slowest {max(each):5.2f} ms   aim 5 ms")
    entering = [
        milliseconds(lambda box=box: svg(box_picture(report.job, box, report.book)), 21)  # type: ignore[misc]
        for box in report.job.boxes
    ]
    print(f"what enters a box  median {statistics.median(entering):5.2f} ms   slowest {max(entering):5.2f} ms")


def main() -> int:
    if sys.argv[1:] == ["--once"]:
        print(once())
        return 0
    print(f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}")
    print_pictures(check(studio()))
    report = check(many_studios(COPIES))
    boxes = len(report.subjects)
    print(f"the map of {boxes} boxes {milliseconds(lambda: svg(job_map(report)), TIMES):8.0f} ms")
    outs = [
        [float(word) for word in subprocess.run([sys.executable, __file__, "--once"], capture_output=True, text=True,
         check=True).stdout.split()]
        for _ in range(TIMES)
    ]  # fmt: skip
    clock, processor, before, held, long = (statistics.median(values) for values in zip(*outs, strict=True))
    print(
        f"packet of {boxes} boxes {clock:6.2f} s by the clock, {processor:.2f} s of processor   aim 5 s   "
        f"{long:.1f} MB long"
    )
    print(
        f"the most memory {held:4.0f} MB   aim 500 MB;  check, remedies, takeoff before it {before:.2f} s of processor"
    )
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
