"""How quick remedies are: one box's, and the least cost of mending 500 failing boxes from 60 kinds of box.

    ./run bench remedy

Seconds by the clock, which the aims speak of, and of processor time, which tells more where the load beside it is above
the cores there are. Medians of three. The search that needs nothing installed is held against the least cost HiGHS
proved on the same job. A check of the job, every box once, is the yardstick: a plan takes so many times as long.
"""

from __future__ import annotations

import gc
import os
import random
import statistics
import time
from collections.abc import Callable
from decimal import Decimal
from functools import partial
from typing import NamedTuple, TypeVar

from ampleroom import check, read_job
from ampleroom.check import book_for
from ampleroom.job.model import Job
from ampleroom.remedy import Stock, remedies, stock_from_text
from ampleroom.remedy.box import all_remedies
from ampleroom.remedy.choice import Problem, search
from ampleroom.remedy.plan import Limits, plan, problem_of
from ampleroom.remedy.solver import solve
from ampleroom.remedy.trial import Trial
from ampleroom.worksheet import Verdict

T = TypeVar("T")
BOXES, KINDS, TIMES, SORTS = 500, 60, 3, 24

PLACES = (
    ("marked 14 in3 plastic 1-gang 2-1/2 in deep", ("receptacle #12",), 3),
    ("marked 18 in3 plastic 1-gang 2-3/4 in deep", ("switch #14",), 4),
    ("marked 28 in3 plastic 2-gang 2-3/4 in deep", ("switch #14", "receptacle #12"), 5),
    ("marked 42 in3 plastic 3-gang 2-3/4 in deep", ("2 x switch #14", "receptacle #12"), 6),
    ("square 4 x 1-1/4", (), 4),
    ("square 4 x 1-1/2", (), 5),
    ("octagon 4 x 1-1/4", ("stud",), 3),
    ("octagon 4 x 1-1/2", ("fixture wires 3 x #18 from flat canopy",), 4),
)
"""Boxes, what is in them, and with how many cables they fail, or one more."""
CABLES = ("12/2 nm-b", "12/2 nm-b", "14/2 nm-b", "14/3 nm-b", "12/3 nm-b")
STANDARD = (
    *("square 4 x 1-1/4", "square 4 x 1-1/2", "square 4 x 2-1/8", "square 4-11/16 x 1-1/4", "square 4-11/16 x 1-1/2"),
    *("square 4-11/16 x 2-1/8", "octagon 4 x 1-1/4", "octagon 4 x 1-1/2", "octagon 4 x 2-1/8", "device 3 x 2 x 3-1/2"),
)
MARKED = (("1-gang", 16, 19), ("2-gang", 36, 14), ("3-gang", 54, 10), ("", 33, 7))
"""Plastic boxes: gangs, the volume of the smallest, how many kinds; each holds 1.5 in3 more than the one before."""


def crowded_job(boxes: int = BOXES, sorts: int = 0) -> Job:
    """A job of so many boxes of which every one fails, with cables between neighbors and to ends nobody found.

    ``sorts``: so many different boxes, again and again, as the same apartment floor after floor; 0: hardly two are
    alike.
    """
    dice = random.Random(7)
    lines = ["job Cannery, all floors", "edition 2020"]
    runs: list[str] = []
    for number in range(boxes):
        if sorts:
            dice = random.Random(number % sorts)
        base, inside, cables = PLACES[number % len(PLACES)]
        clamps = "clamps inside" if not base.startswith("marked") else "clamps tabs"
        lines += [f"box B{number}", *(f"  {line}" for line in (base, clamps, *inside))]
        for at in range(cables + dice.randrange(2)):
            far = f"B{number - 1}" if at == 0 and 0 < number % 8 < 6 else "?"
            runs.append(f"run B{number} > {far} {dice.choice(CABLES)} {dice.randrange(6, 40)} ft circuit {at // 2}")
    return read_job("\n".join([*lines, *runs, ""]))


def wide_stock() -> Stock:
    """60 kinds of box, a charge for each that is carried, and what else mends boxes, at invented prices."""
    dice = random.Random(11)
    entries = ["[labor]\nper_hour = 90\n[charges]\nkind = 24\n"]
    for at, standard in enumerate(STANDARD):
        entries.append(boxed(f"steel {at}", standard, "outside", 2 + at / 2 + dice.random()))
    for gangs, smallest, kinds in MARKED:
        for step in range(kinds):
            room = smallest + Decimal("1.5") * step
            price = 1 + float(room) / 12 + 2 * dice.random()
            entries.append(boxed(f"molded {gangs} {room}", f"marked {room} in3 plastic {gangs}".strip(), "none", price))
    for number, (face, kind) in enumerate((face, kind) for face in ("square 4", "octagon 4") for kind in (1, 2)):
        entries.append(f'[[part]]\nname = "ring {number}"\nis = "extension ring {face} x 1-1/2"\non = "{face}"\n')
        entries.append(f"price = {3 + 2 * kind + dice.random():.2f}\n")
    entries.append('[[connector]]\nname = "connector"\nfor = ["nm-b"]\nlargest = "10"\nprice = 0.60\n')
    entries += [f'[[cable]]\nname = "{cable}"\nis = "{cable}"\nper_foot = 0.8\n' for cable in sorted(set(CABLES))]
    return stock_from_text("\n".join(entries))


def boxed(name: str, is_: str, clamps: str, price: float) -> str:
    uses = ["junction"] if is_.startswith("square") else ["ceiling", "junction"] if "gang" not in is_ else ["device"]
    uses = ["device"] if is_.startswith("device") else uses
    return (
        f'[[box]]\nname = "{name}"\nis = "{is_}"\nfor = {uses}\nmounting = ["new-work"]\n'
        f'clamps = "{clamps}"\nprice = {price:.2f}\n'
    )


class Took(NamedTuple):
    """Seconds by the clock and of the processor, as medians."""

    clock: float
    processor: float

    def __str__(self) -> str:
        return f"{self.clock:7.3f} s by the clock {self.processor:7.3f} s of processor"


def timed(doing: Callable[[], T], times: int = TIMES) -> tuple[T, Took]:
    """What it gives, and how long it took, the median of so many times."""
    took = []
    for _ in range(times):
        began, work = time.perf_counter(), time.process_time()
        found = doing()
        took.append((time.perf_counter() - began, time.process_time() - work))
    return found, Took(*(statistics.median(each) for each in zip(*took, strict=True)))


def asked(job: Job, stock: Stock) -> Problem:
    """The choice alone, as the plan puts it."""
    trial, wanted = Trial(job, book_for(job)), Limits().wanted(stock)
    found = {box.name: every for box in job.boxes if (every := all_remedies(trial, box, stock, wanted=wanted))}
    return problem_of(found, stock, Limits())[0]


def main() -> int:
    job, stock = crowded_job(), wide_stock()
    failing = sum(box.verdict is not Verdict.PASSES for box in check(job).subjects)
    assert (failing, len(stock.boxes)) == (BOXES, KINDS), (failing, len(stock.boxes))
    print(f"{BOXES} failing boxes, {KINDS} kinds; load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")

    gc.disable()  # as the command line does
    _, once = timed(lambda: check(job))
    print(f"a check, the yardstick   {once}")

    _, options = timed(lambda: asked(job, stock))
    print(f"all options              {options}   {options.processor / once.processor:.1f} checks")
    floors = crowded_job(sorts=SORTS)
    _, options = timed(lambda: asked(floors, stock))
    print(f"  of {SORTS} sorts of box     {options}   {options.processor / once.processor:.1f} checks")

    made, whole = timed(lambda: plan(job, book_for(job), stock))
    by = f"{made.choice.found_by}, {'proved' if made.choice.is_proved else f'gap {made.choice.gap:.2f} %'}"
    print(f"the whole plan           {whole}   aim 5 by the clock; {whole.processor / once.processor:.0f} checks")
    print(f"                         {made.cost} for {len(made.remedies)} boxes, {len(made.nothing)} left ({by})")

    problem = asked(job, stock)
    proved, proving = timed(lambda: solve(problem))
    best, alone = timed(lambda: search(problem))
    print(f"HiGHS alone              {proving}   {sum(map(len, problem.options))} options")
    print(f"the search alone         {alone}   aim 5 by the clock")
    if proved is not None and proved.is_proved and best.left == proved.left:
        above = 100 * (best.cost - proved.cost) / proved.cost
        print(
            f"                         {above:.2f} % above the least, aim 3; by its own bound at most {best.gap:.2f} %"
        )

    trial = Trial(job, book_for(job))
    each = [timed(partial(remedies, trial, box, stock), 1)[1] for box in job.boxes]
    middle, slowest = Took(*map(statistics.median, zip(*each, strict=True))), Took(*map(max, zip(*each, strict=True)))
    print(f"one box's remedies       {middle}   aim 0.2 by the clock")
    print(f"  the slowest box        {slowest}")
    print(f"load {os.getloadavg()[0]:.1f}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
