"""How a case of the acceptance files is asked of Ampleroom: the same for every file of cases."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

from ampleroom import check, read_job
from ampleroom.arithmetic import Counted
from ampleroom.editions import CodeBook
from ampleroom.fits import how_many
from tests.helpers import COMPARED, finding, needed, there, verdict, worksheet

Case = dict[str, Any]


def years(said: str) -> list[int]:
    """The compared editions of ``2008-2017``."""
    first, last = map(int, said.split("-"))
    return [year for year in COMPARED if first <= year <= last]


def expectations(cases: list[Case]) -> list[tuple[Case, int, Case]]:
    """Each case with each of its editions and what is expected then."""
    return [(case, year, expect) for case in cases for expect in case["expect"] for year in years(expect["editions"])]


def title(value: object) -> str | None:
    """The name of a test: the case's id and name, the year."""
    match value:
        case {"id": case_id, "name": name}:
            return f"{case_id}: {name}"
        case int():
            return str(value)
        case _:
            return ""


def allowances(sheet: str, year: int) -> Fraction:
    """How many allowances the fill comes to, whatever their sizes."""
    counts = (line.count for line in worksheet(sheet, year).need if isinstance(line, Counted))
    return sum((Fraction(count) for count in counts), Fraction(0))


def most(sheet: str, year: int, what: str) -> int:
    """How many more of something the first box takes."""
    job = read_job(sheet)
    return how_many(job, job.boxes[0].name, what, CodeBook(year)).certain


def most_passing(sheet: str, year: int, wire: str) -> int:
    """How many of a wire may pass the conduit body ``C1`` unbroken."""

    def passes(number: int) -> bool:
        return check(read_job(f"{sheet}\nwires ? > ? {number} x {wire} through C1\n"), year).verdict.word == "passes"

    number = 1
    while passes(number + 1):
        number += 1
    return number


ASKED: dict[str, Callable[[str, int, Any], Any]] = {
    "needed": lambda sheet, year, _: needed(sheet, year),
    "there": lambda sheet, year, _: there(sheet, year),
    "margin": lambda sheet, year, _: worksheet(sheet, year).margin,
    "verdict": lambda sheet, year, _: verdict(sheet, year),
    "allowances": lambda sheet, year, _: allowances(sheet, year),
    "more": lambda sheet, year, wanted: {what: most(sheet, year, what) for what in wanted},
    "passing": lambda sheet, year, wanted: {wire: most_passing(sheet, year, wire) for wire in wanted},
    "boxes": lambda sheet, year, wanted: {box: verdict(sheet.replace("BOX", box), year) for box in wanted},
    "found": lambda sheet, year, wanted: {rule: finding(sheet, year, rule).cite for rule in wanted},
    "tables": lambda sheet, year, wanted: {table: CodeBook(year).block(table)["cite"] for table in wanted},
}
"""How each key of an expectation is asked for."""


def answers(case: Case, year: int, expect: Case) -> Case:
    """What Ampleroom says to everything a case expects; ``BOX`` in its sheet stands for each box that is tried."""
    sheet = case["sheet"]
    one = sheet.replace("BOX", "marked 100 in3")
    return {key: ASKED[key](sheet if key == "boxes" else one, year, wanted) for key, wanted in expected(expect).items()}


def expected(expect: Case) -> Case:
    return {key: wanted for key, wanted in expect.items() if key != "editions"}
