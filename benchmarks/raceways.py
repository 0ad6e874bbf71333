"""How quick raceways and pull boxes are: against boxes, in `size`, in a packed cross-section, and as a job grows.

    ./run bench raceways

Processor time, in fresh processes where a whole command is meant. A machine is noisy: ratios mean more than seconds.
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
from collections.abc import Callable
from pathlib import Path

from ampleroom import check, read_job
from ampleroom.check import book_for
from ampleroom.pictures.packing import RoundWall, packed
from ampleroom.sizing.pull_box import smallest_pull_box

ROOT = Path(__file__).resolve().parents[1]
WALLS = ("left", "right", "top", "bottom")


def raceways(number: int) -> str:
    """So many raceways of three kinds, each with its wires, between two panels."""
    lines = ["edition 2020", "panel P", "panel Q"]
    for each in range(number):
        kind = ("emt 3/4", "pvc-40 1", "rmc 1-1/4")[each % 3]
        wires = ("3 x #10 thhn, ground #10 thhn green", "3 x #6 thhn, ground #10 bare", "4 x #4 xhhw-2")[each % 3]
        lines += [f"raceway R{each} P > Q {kind} {20 + each % 50} ft", f"wires P > Q {wires} in R{each}"]
    return "\n".join(lines) + "\n"


def boxes(number: int) -> str:
    """So many boxes, each with two cables and a device."""
    lines = ["edition 2020", "panel P"]
    for each in range(number):
        lines += [f"box B{each}", "  marked 22.5 in3 plastic 1-gang", "  clamps tabs", "  switch #14"]
        lines += [f"run P > B{each} 2 x 14/2 nm-b"]
    return "\n".join(lines) + "\n"


def pull_boxes(number: int, raceways_each: int = 2) -> str:
    """So many pull boxes, each with pairs of raceways and a pull from one to the other."""
    lines = ["edition 2020", "panel P", "panel Q"]
    for box in range(number):
        names = [f"B{box}r{each}" for each in range(raceways_each)]
        lines += [f"box B{box}", "  inside 48 x 48 x 8 in"]
        lines += [f"  entry {name} {WALLS[each % 4]}" for each, name in enumerate(names)]
        for each, name in enumerate(names):
            lines.append(f"raceway {name} {f'P > B{box}' if each % 2 == 0 else f'B{box} > Q'} emt 2 40 ft")
        for one, other in zip(names[::2], names[1::2], strict=True):
            lines.append(f"wires P > Q 3 x #1/0 thhn through B{box} in {one}, {other}")
    return "\n".join(lines) + "\n"


def runs_in_one(number: int) -> str:
    """So many runs in one raceway."""
    lines = ["edition 2020", "panel P", "panel Q", "raceway R1 P > Q emt 4 40 ft"]
    return "\n".join([*lines, *["wires P > Q 1 x #14 thhn in R1"] * number]) + "\n"


def one_box(number: int) -> str:
    """One pull box with so many raceways, straight through."""
    return pull_boxes(1, number)


def once(sheet: str) -> float:
    """Read and checked in this process, every worksheet summed: processor seconds."""
    gc.disable()  # as the command line does
    began = time.process_time()
    report = check(read_job(sheet))
    sum(worksheet.passes for worksheet in report.worksheets.values())
    return time.process_time() - began


def fresh(what: str, number: int, times: int = 3) -> float:
    """The least of some fresh processes that read and check."""
    command = [sys.executable, __file__, "--once", what, str(number)]
    outs = [subprocess.run(command, capture_output=True, text=True, check=True).stdout for _ in range(times)]
    return min(map(float, outs))


def command(path: Path, times: int = 2) -> float:
    """The whole command `check`, the least of some times: processor seconds."""
    plain = {
        name: value for name, value in os.environ.items() if name not in ("PYTHONDONTWRITEBYTECODE", "PYTHONUNBUFFERED")
    }
    took = []
    for _ in range(times):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run(
            [sys.executable, "run", "check", str(path)], cwd=ROOT, env=plain, capture_output=True, check=False
        )
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        took.append(after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime)
    return min(took)


CROWDED = """\
edition 2020
panel P
panel Q
box B0
  inside 90 x 90 x 9 in
raceway R0 P > B0 emt 1
raceway R1 B0 > Q emt 4
raceway R2 P > B0 emt 4
raceway R3 B0 > Q emt 1-1/4
raceway R4 P > B0 emt 2
raceway R5 B0 > Q emt 2
raceway R6 P > B0 emt 2
raceway R7 B0 > Q emt 1
wires P > B0 > Q 3 x #1/0 thhn in R0, R1
wires P > Q 3 x #1/0 thhn through B0 in R2, R3
wires P > Q 3 x #1/0 thhn through B0 in R4, R5
wires P > Q 3 x #1/0 thhn through B0 in R6, R7
wires P > B0 3 x #4 thhn in R2
"""
"""Eight raceways, no wall written: the slowest of forty drawn at random."""

SHEETS = {
    "raceways": raceways, "boxes": boxes, "pull boxes": pull_boxes, "runs in one raceway": runs_in_one,
    "raceways of one pull box": one_box,
}  # fmt: skip
GROWN = {"raceways": 1_000, "pull boxes": 250, "runs in one raceway": 500, "raceways of one pull box": 100}


def timed(times: int, action: Callable[[], object]) -> float:
    """The median of some times, processor seconds."""
    took = []
    for _ in range(times):
        began = time.process_time()
        action()
        took.append(time.process_time() - began)
    return statistics.median(took)


def main() -> int:
    if sys.argv[1:2] == ["--once"]:
        print(once(SHEETS[sys.argv[2]](int(sys.argv[3]))))
        return 0
    number = int(sys.argv[1]) if len(sys.argv) > 1 else 5_000
    for what in ("boxes", "raceways"):
        took = fresh(what, number)
        print(f"read and check {number} {what:9} {took:6.2f} s   {number / took:6.0f} a second")
    job = read_job(CROWDED)
    book = book_for(job, None)
    took = timed(5, lambda: smallest_pull_box(job, "B0", book)) * 1000
    print(f"size of a pull box with eight raceways {took:5.0f} ms   aim 200")
    radii = [0.082] * 20 + [0.127] * 12 + [0.065] * 8
    wall = RoundWall(2.067 / 2)
    print(f"cross-section of 40 conductors {timed(20, lambda: packed(wall, radii)) * 1000:5.1f} ms   aim 20")
    with tempfile.TemporaryDirectory() as name:
        for what, few in GROWN.items():
            grown = []
            for times in (1, 2, 8):
                path = Path(name) / f"{times}.job"
                path.write_text(SHEETS[what](few * times), "utf-8")
                grown.append(command(path))
            exponent = math.log(grown[2] / grown[1]) / math.log(4)
            said = ", ".join(f"{few * times}: {each:.2f} s" for times, each in zip((1, 2, 8), grown, strict=True))
            print(f"check of {what:25} {said}   exponent {exponent:4.2f}   aim 1.1")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
