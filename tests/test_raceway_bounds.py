"""The worst and the best of a raceway's findings on random contents, against every value of every fact nobody knows."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from itertools import islice
from random import Random
from typing import Any

import pytest

from ampleroom import Verdict, read_job
from ampleroom.check import book_for
from ampleroom.editions import OFFERED, CodeBook
from ampleroom.facts import Assumption, Fact, Unknown
from ampleroom.quantities import NO_LIMIT
from ampleroom.rules.raceway import fill, jam
from ampleroom.rules.raceway.filled import ENDS, Subject, filled, raceways_of
from ampleroom.rules.raceway.judge import raceway_report

MOST_TRIED = 600
"""A raceway with more combinations is left to another one."""
SEEDS = 200
COUNTS = (*map(Decimal, (0, 1, 2, 3, 4, 8)), NO_LIMIT)
WIDTHS = (*map(Decimal, ("0.05", "0.2", "0.3", "0.45", "0.9")), NO_LIMIT)
RULES = (fill, jam)


def random_sheet(seed: int) -> str:
    """A raceway small enough that what nobody knows often decides."""
    dice = Random(seed)
    kind = dice.choice(("emt", "pvc-80", "rmc", "lfmc", "fmc"))
    size = dice.choice(("1/2", "3/4", "3/4", "1", "1-1/4", "?"))
    length = dice.choice(("40 ft", "40 ft", "20 in", "", "? ft"))
    lines = [f"edition {dice.choice(sorted(OFFERED))}"]
    if dice.random() < 0.3:
        lines.append(f"reading fill-column {dice.choice(('printed', 'exact'))}")
    if dice.random() < 0.3:
        lines.append("reading nipple-rounding rounded")
    lines += [
        "panel P",
        "box J1",
        "  marked 90 in3 metal",
        "  clamps none",
        f"raceway R1 P > J1 {kind} {size} {length}",
    ]
    for _ in range(dice.choice((1, 1, 2))):
        if dice.random() < 0.2:
            cable = dice.choice(("12/2 nm-b", "14/2 nm-b", "10/3 nm-b", "12/2 mc", "12/2 nm-b ? in wide"))
            lines.append(f"run P > J1 {dice.choice(('', '2 x ', '? x '))}{cable} in R1")
            continue
        groups = []
        for _ in range(dice.choice((1, 1, 2))):
            count = dice.choice(("1", "2", "3", "3", "4", "7", "?"))
            awg = dice.choice(("14", "12", "10", "8", "8", "6", "?"))
            groups.append(f"{count} x #{awg} {dice.choice(('thhn', 'thw', 'xhhw', '', ''))}")
        if dice.random() < 0.4:
            groups.append(dice.choice(("ground ?", "ground #10", "ground #12 bare", "ground #8 thhn")))
        lines.append(f"wires P > J1 {', '.join(groups)} in R1")
    return "\n".join(lines) + "\n"


def values_of(unknown: Unknown[Any]) -> tuple[Any, ...]:
    """What a fact may be; of a range some values between its ends too."""
    if not unknown.is_range:
        return unknown.choices
    if unknown.unit == "in":
        return WIDTHS
    return tuple(value for value in COUNTS if value >= unknown.choices[0])


def everything(subject: Subject, book: CodeBook, rule: Any) -> Iterator[Verdict]:
    """The verdict of a rule at every value of every fact, each fact set by itself: nothing is left to a declared
    end.
    """
    waiting: list[dict[Fact, Any]] = [{}]
    while waiting:
        values = waiting.pop()
        assumption = Assumption(ENDS, True, values)
        holds = filled(subject, book, assumption)
        unset = next((unknown for fact, unknown in assumption.needed.items() if fact not in values), None)
        if unset is not None:
            waiting += [{**values, unset.fact: value} for value in values_of(unset)]
            continue
        function = {fill: fill.raceway_fill, jam: jam.raceway_jam}[rule]
        yield max((found.verdict for found in function(holds, book)), default=Verdict.PASSES)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.NAME)
@pytest.mark.parametrize("start", range(0, SEEDS, 50))
def test_a_finding_fails_only_where_every_value_fails_and_passes_only_where_every_value_passes(start: int, rule: Any):
    for seed in range(start, start + 50):
        job = read_job(random_sheet(seed))
        book = book_for(job)
        (subject,) = raceways_of(job)
        tried = list(islice(everything(subject, book, rule), MOST_TRIED + 1))
        if len(tried) > MOST_TRIED:
            continue
        report = raceway_report(subject, job.graph, book)
        found = [finding.verdict for finding in report.findings if finding.rule == rule.NAME]
        verdict = max(found, default=Verdict.PASSES)
        if Verdict.OPEN in tried:
            assert verdict >= Verdict.OPEN, random_sheet(seed)
        elif verdict is Verdict.FAILS:
            assert set(tried) == {Verdict.FAILS}, random_sheet(seed)
        elif verdict is Verdict.PASSES:
            assert set(tried) == {Verdict.PASSES}, random_sheet(seed)
