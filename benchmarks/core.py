"""How quick the core is: cold checks of a whole process, reading and checking a job of 5,000 boxes, and how the whole
command and its JSON grow with the job.

    ./run bench core

Everything in one run on one machine, as ratios where they mean more than seconds: a machine is noisy, and slower by the
hour. Processor time of this process, so that what else runs beside it tells less.
"""

from __future__ import annotations

import gc
import math
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from ampleroom import check, read_job

HERE = Path(__file__).resolve().parents[1]
KINDS = (
    ("square 4 x 2-1/8", "plaster ring 3.5 in3", "clamps outside"),
    ("marked 22.5 in3 plastic 1-gang", "clamps tabs", "switch #14"),
    ("marked 34 in3 plastic 2-gang", "clamps tabs", "switch #14", "receptacle #12"),
    ("octagon 4 x 2-1/8", "clamps inside"),
)


def long_sheet(boxes: int) -> str:
    """A job of so many boxes of four kinds, each fed from the one before it."""
    lines = ["job Ropewalk, every floor", "edition 2020", "panel P at the landing", "circuit 1 15 A", "circuit 3 20 A"]
    runs = []
    for number in range(boxes):
        kind = KINDS[number % 4]
        lines += [f"box B{number} at floor {number // 40}, place {number % 40}", *(f"  {line}" for line in kind)]
        far = f"B{number - 1}" if number else "P"
        runs.append(f"run {far} > B{number} 14/2 nm-b {4 + number * 7 % 37} ft circuit 1")
        if number % 4 == 2:
            runs.append(f"run P > B{number} 12/2 nm-b {4 + number * 5 % 37} ft circuit 3")
    return "\n".join(lines + runs) + "\n"


def answered(sheet: str) -> int:
    """Read and checked, every worksheet summed."""
    report = check(read_job(sheet))
    return sum(worksheet.passes for worksheet in report.worksheets.values())


def once(boxes: int) -> str:
    """One reading and check in this fresh process, nothing kept from before: processor seconds, and the peak in MB."""
    sheet = long_sheet(boxes)
    gc.disable()  # as the command line does
    began = time.process_time()
    answered(sheet)
    return f"{time.process_time() - began} {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000}"


def fresh(boxes: int, times: int = 7) -> tuple[float, float]:
    """The medians of some fresh processes: seconds, and MB."""
    command = [sys.executable, __file__, "--once", str(boxes)]
    outs = [subprocess.run(command, capture_output=True, text=True, check=True).stdout.split() for _ in range(times)]
    return statistics.median(float(out[0]) for out in outs), statistics.median(float(out[1]) for out in outs)


def process(*words: str) -> float:
    """A whole process, in seconds of processor time."""
    plain = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, *words], cwd=HERE, env=plain, capture_output=True, check=False)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return (after.ru_utime - before.ru_utime) + (after.ru_stime - before.ru_stime)


def cold(jobs: list[str], times: int = 15) -> tuple[float, list[float]]:
    """A bare Python and a check of each job, turn by turn: medians."""
    bare: list[float] = []
    whole: list[list[float]] = [[] for _ in jobs]
    for _ in range(times):
        bare.append(process("-c", "pass"))
        for took, job in zip(whole, jobs, strict=True):
            took.append(process("run", "check", job))
    return statistics.median(bare), [statistics.median(took) for took in whole]


def growth(folder: Path, words: tuple[str, ...], sizes: tuple[int, int], times: int = 3) -> tuple[list[float], float]:
    """The whole command at two sizes, the least of some times each, and the exponent between them: 1 is in proportion
    to the boxes, 2 to their square.
    """
    took = []
    for boxes in sizes:
        job = folder / f"boxes_{boxes}.job"
        job.write_text(long_sheet(boxes), "utf-8")
        took.append(min(process("run", *words, str(job)) for _ in range(times)))
    return took, math.log(took[1] / took[0]) / math.log(sizes[1] / sizes[0])


def drop_of(places: int) -> float:
    """The milliseconds of the processor for the voltage drop on a tree of so many places, each with a load."""
    from ampleroom import read_job
    from ampleroom.check import circuits
    from ampleroom.editions import CodeBook
    from ampleroom.facts import Assumption
    from ampleroom.rules.circuit.dropped import ENDS, dropped
    from ampleroom.rules.circuit.judge import drop_findings
    from ampleroom.rules.circuit.wired import Wiring

    starts = ["P", *(f"J{each * 7 // 8 or 1}" for each in range(1, places))]
    runs = [f"run {start} > J{each + 1} 12/2 nm-b 9 ft circuit 3 load 9 VA" for each, start in enumerate(starts)]
    head = ["edition 2020", "panel P 120/240 V", "circuit 3 20 A", *(f"box J{each}" for each in range(places + 1))]
    job, book = read_job("\n".join([*head, *runs, ""])), CodeBook(2020)
    (subject,) = circuits(job)

    def whole() -> float:
        began = time.process_time()
        known = dropped(Wiring(subject, job.graph, book, Assumption(ENDS)))
        found = list(drop_findings(subject, known, False, job.graph, book))
        assert len(known.spans) == places
        assert found
        return (time.process_time() - began) * 1000

    return min(whole() for _ in range(9))


def main() -> int:
    if sys.argv[1:2] == ["--once"]:
        print(once(int(sys.argv[2])))
        return 0
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "120.job").write_text(long_sheet(120), "utf-8")
        jobs = {"12 boxes": ("examples/studio.job", 5), "120 boxes": (str(folder / "120.job"), 6)}
        process("run", "check", "examples/studio.job")  # its bytecode is written once
        bare, whole = cold([job for job, _ in jobs.values()])
        print(f"bare python {bare * 1000:4.0f} ms")
        for (size, (_, aim)), took in zip(jobs.items(), whole, strict=True):
            print(f"cold check of {size:9} {took * 1000:6.0f} ms   ratio {took / bare:5.1f}   aim {aim}")
        sizes = (2_500, 10_000)
        for words in (("check",), ("check", "--json")):
            times, exponent = growth(folder, words, sizes)
            said = "   ".join(f"{boxes} boxes {took:5.2f} s" for boxes, took in zip(sizes, times, strict=True))
            print(f"{' '.join(words):12} {said}   exponent {exponent:4.2f}   aim 1.1")
    found = {boxes: fresh(boxes) for boxes in (1_250, 5_000)}
    for boxes, (took, held) in found.items():
        print(
            f"read and check {boxes:6} boxes {took:6.2f} s   {boxes / took:7.0f} boxes/s   aim 20000   {held:5.0f} MB"
        )
    print(f"voltage drop on a tree of 2000 places {drop_of(2000):4.0f} ms   aim 50")
    (short, _), (long, _) = found.values()
    print(f"four times the boxes take {long / short:.1f} times the time")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
