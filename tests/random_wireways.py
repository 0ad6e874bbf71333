"""Random sheets: one wireway or gutter, W1, and what lies in it, ends in it or comes to it by a raceway.

Numbers are drawn near what decides, so that many pass, many fail and some are exactly at a limit.
"""

from __future__ import annotations

from fractions import Fraction
from random import Random

from tests.naive_raceways import AREA
from tests.random_raceways import awg_text

SIDES = ("1.5", "2", "2.5", "3.5", "4", "5", "6", "8", "10")
INSULATIONS = ("thhn", "thw", "rhw", "xhhw-2", "compact xhhw", "bare")
WAYS = (
    *("P > M1 {} in W1",) * 4,
    "P > M1 {} through W1",
    "P > W1 {}",
    "P > W1 > M1 {}",
    "P > M1 {} in R1",
    *("P > M1 {} in R1 then R2",) * 2,
    "P > M1 {} in R1 then W1 then R2",
)
"""Where a run lies: each with one length of it in W1, but the one that stops there and goes on with two."""


def random_wireway(dice: Random, *, unknowns: bool) -> str:
    """A sheet with one wireway; with ``unknowns`` some measures, counts, sizes and insulations are not written."""

    def missing(one_in: int) -> bool:
        return unknowns and dice.randrange(one_in) == 0

    lines = [f"edition {dice.choice((2008, 2011, 2014, 2017, 2020, 2023, 2026))}", "panel P", "equipment M1"]
    one, other = dice.choice(SIDES), dice.choice(SIDES)
    left = Fraction(one) * Fraction(other) / 5
    runs: list[str] = []
    forms = dice.choice((1, 1, 2, 2, 3))
    for number in range(forms):
        part = left / (forms - number) * Fraction(dice.randint(60, 112), 100)
        way = dice.choice(WAYS)
        part = part / 2 if "W1 >" in way else part
        if dice.random() < 0.15:
            width = dice.choice(("0.38", "0.48", "0.57", "0.77", "1.1"))
            count = min(60, max(1, round(part / (Fraction(width) ** 2 * Fraction(11, 14)))))
            times = "? x " if missing(10) else f"{count} x " if count > 1 else ""
            wide = "? in" if missing(8) else f"{width} in"
            way = dice.choice((WAYS[0], "P > W1 {}"))
            runs.append("run " + way.format(f"{times}12/2 nm-b {wide} wide"))
            left -= part
            continue
        fitting = [key for key in AREA if AREA[key] <= max(part, Fraction(1, 50)) and key[0] in INSULATIONS]
        insulation, awg = dice.choice(fitting)
        count = min(200, max(1, round(part / AREA[insulation, awg])))
        left -= count * AREA[insulation, awg]
        if insulation == "bare":
            group = f"{count} x {awg_text(awg)} bare"
        else:
            size_text = "#?" if missing(15) else awg_text(awg)
            group = f"{'?' if missing(10) else count} x {size_text} {'' if missing(10) else insulation}"
            if dice.random() < 0.3:
                group += f", ground {awg_text(dice.choice(('10', '6', '2')))} thhn"
        runs.append("wires " + way.format(group))
    splices = dice.choice(("no splices", "no splices", "splices 1 in2", "splices 2 x 3 in", ""))
    splices = "splices ?" if missing(10) else splices
    turn = dice.choice(("", "straight", "straight", f"turns across {one} in", f"turns across {other} in"))
    known = [one, other]
    if missing(8):
        known[dice.randrange(2)] = "?"
        turn = turn if turn in ("", "straight") else ""
    apart = ""
    if any("R2" in run for run in runs) and dice.random() < 0.7:
        apart = f"apart R1 R2 {'?' if missing(5) else dice.choice(('6', '11.9', '12', '15', '16', '24'))} in"
    form = dice.choice(("wireway", "gutter"))
    lines.append(" ".join(f"{form} W1 {known[0]} x {known[1]} {splices} {turn} {apart}".split()))
    raceway = dice.choice(("1-1/2", "2", "?" if missing(4) else "2"))
    lines += [f"raceway R1 P > W1 emt {raceway}", "raceway R2 W1 > M1 emt 2"]
    return "\n".join([*lines, *runs]) + "\n"
