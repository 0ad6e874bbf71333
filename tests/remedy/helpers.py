"""What the tests of remedies share: a sheet and a stock in, remedies out, each judged by the whole check.

The stock's labor costs 60 an hour, so that a minute is a dollar and a cost is the parts and the minutes.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, NamedTuple

from ampleroom import Report, check, read_job
from ampleroom.check import book_for
from ampleroom.job.edit import changed, edited
from ampleroom.job.model import Job
from ampleroom.remedy import Remedy, Stock, remedies, stock_from_text
from ampleroom.remedy.box import Nothing, all_remedies, in_place, why_nothing
from ampleroom.remedy.moves import Maker
from ampleroom.remedy.remedy import CIRCUIT, MEASURED_BY_AREA, Move
from ampleroom.remedy.trial import Trial, margin_of
from ampleroom.worksheet import Verdict

LABOR = """
[labor]
per_hour = 60
[labor.minutes]
new_box = 10
another_box = 20
another_box_finished = 90
ring = 12
ring_finished = 40
connector = 5
connector_finished = 25
second_box = 30
second_box_finished = 110
combination_device = 15
another_run = 25
another_run_finished = 100
device = 8
cable_per_foot = 0.5
raceway_per_foot = 1
"""
CONNECTOR = """
[[connector]]
name = "clamp connector"
for = ["nm-b", "old"]
largest = "10"
price = 1
"""
CABLES = """
[[cable]]
name = "12/2 NM-B"
is = "12/2 nm-b"
per_foot = 0.75
[[cable]]
name = "14/2 NM-B"
is = "14/2 nm-b"
per_foot = 0.50
"""


class MoveCase(NamedTuple):
    """A box that one move fixes, worked by hand from the counts of the rules; nothing of the kind is published."""

    make: Maker
    sheet: str
    parts: Stock
    price: str
    minutes: int
    leaves: str
    """Room left in the box, in3; of a raceway in2."""
    working: str
    subject: str = ""
    """What it fixes, where that is not the first box."""


def box_entry(
    is_: str,
    price: object,
    *,
    name: str = "",
    uses: str = '"device", "junction", "ceiling"',
    mounting: str = '"new-work", "surface"',
    clamps: str = "none",
    more: str = "",
) -> str:
    """One box of a stock file."""
    return f"""
[[box]]
name = "{name or is_}"
is = "{is_}"
for = [{uses}]
mounting = [{mounting}]
clamps = "{clamps}"
price = {price}
{more}
"""


def part_entry(is_: str, on: str, price: object, *, name: str = "", more: str = "") -> str:
    """One ring or cover of a stock file."""
    return f"""
[[part]]
name = "{name or is_}"
is = "{is_}"
on = "{on}"
price = {price}
{more}
"""


def device_entry(is_: str, price: object) -> str:
    return f'\n[[device]]\nname = "{is_}"\nis = "{is_}"\nprice = {price}\n'


def stock(*entries: str, kind_charge: object = 0, labor: str = LABOR) -> Stock:
    return stock_from_text("".join([f"[charges]\nkind = {kind_charge}\n", labor, *entries]))


def job_of(sheet: str) -> Job:
    """The job in a sheet; without an edition of its own, of 2017, when grounds were one allowance."""
    return read_job(sheet if "edition " in sheet else f"edition 2017\n{sheet}")


def trial_of(job: Job, spare: str = "") -> Trial:
    return Trial(job, book_for(job), spare)


def placed(sheet: str, parts: Stock, name: str = "") -> Any:
    """A subject as its moves see it: the first box, if none is named."""
    job = job_of(sheet)
    trial = trial_of(job)
    return in_place(trial, trial.subject(name or job.boxes[0].name), parts)


def of(sheet: str, parts: Stock, name: str = "") -> list[Remedy]:
    """The remedies of a box or another subject, cheapest first."""
    job = job_of(sheet)
    trial = trial_of(job)
    return remedies(trial, trial.subject(name or job.boxes[0].name), parts)


def every(sheet: str, parts: Stock, name: str = "") -> list[Remedy]:
    """Every remedy of a box or another subject, those that another beats too."""
    job = job_of(sheet)
    trial = trial_of(job)
    return all_remedies(trial, trial.subject(name or job.boxes[0].name), parts)


def nothing(sheet: str, parts: Stock, name: str = "") -> Nothing:
    job = job_of(sheet)
    trial = trial_of(job)
    return why_nothing(trial, trial.subject(name or job.boxes[0].name), parts)


def figures(found: Remedy) -> tuple[object, object, object]:
    """The price of the parts, the minutes, the room left."""
    return found.price, found.minutes, found.margin


def work(found: Remedy | Move) -> tuple[str, object]:
    """How much it disturbs, and the minutes."""
    return found.disturbance.word, found.minutes


def bought(found: Remedy | Move) -> list[tuple[str, object]]:
    return [(buy.item, buy.quantity) for buy in found.buys]


def whats(found: Iterable[Remedy]) -> list[str]:
    return [remedy.action for remedy in found]


def only(found: list[Remedy]) -> Remedy:
    (remedy,) = found
    return remedy


def check_after(job: Job, remedy: Remedy) -> Report:
    """The whole changed job judged by the whole rules, and read again from its sheet if it has one."""
    after = changed(job, remedy.change)
    if job.sheet is not None:
        assert read_job(edited(job, remedy.change)) == after
    return check(after)


def assert_holds(job: Job, remedy: Remedy) -> None:
    """The box passes with the room said, every new one passes, and none that was there is worse than it was."""
    before, after = check(job), check_after(job, remedy)
    fixed = after.subject(remedy.fixed_name)
    assert fixed.verdict.is_allowed, remedy.action
    assert fixed.verdict is Verdict.PASSES or fixed.kind in (*MEASURED_BY_AREA, CIRCUIT), remedy.action
    assert margin_of(fixed) == remedy.margin, remedy.action
    was = {box.name: box for box in before.subjects}
    for box in after.subjects:
        if box.name not in was:
            assert box.verdict.is_allowed, f"{remedy.action}: the new {box.kind} {box.name}"
        elif box.name != remedy.fixed_name:
            assert box.verdict <= was[box.name].verdict, f"{remedy.action}: {box.name} is worse"
            if box.name in remedy.also_fixes:
                assert box.verdict.is_allowed, f"{remedy.action}: {box.name} is not fixed along"
            if box.verdict is not Verdict.PASSES and box.kind != CIRCUIT:  # of those only the verdict counts
                assert margin_of(box) >= margin_of(was[box.name]), f"{remedy.action}: {box.name} is worse"


# ---- raceways ------------------------------------------------------------------------------------------------------


def length_entry(is_: str, per_foot: object, length: int | None = None) -> str:
    """Wire or raceway by the foot, of a stock file; ``length`` of a stick in feet."""
    stick = f"length = {length}\n" if length else ""
    return f'\n[[length]]\nname = "{is_.upper()}"\nis = "{is_}"\nper_foot = {per_foot}\n{stick}'


def fitting_entry(is_: str, price: object) -> str:
    """One fitting of a stock file."""
    return f'\n[[fitting]]\nname = "{is_}"\nis = "{is_}"\nprice = {price}\n'


def pull_entry(inside: str, price: object) -> str:
    """One metal pull box of a stock file."""
    is_ = f"inside {inside} in metal"
    return box_entry(is_, price, name=f"pull box {inside}", uses='"pull"', clamps="outside")


# ---- circuits ------------------------------------------------------------------------------------------------------


def breaker_entry(is_: str, price: object) -> str:
    """One breaker of a stock file."""
    return f'\n[[breaker]]\nname = "{is_} breaker"\nis = "{is_}"\nprice = {price}\n'


def cable_entry(size: str, per_foot: object = "0.75") -> str:
    """Nonmetallic cable by the foot, of a stock file."""
    return f'\n[[cable]]\nname = "{size} NM-B"\nis = "{size} nm-b"\nper_foot = {per_foot}\n'
