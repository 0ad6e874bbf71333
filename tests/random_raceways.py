"""Random sheets: one raceway, R1, and what lies in it; one pull box, PB, and what is pulled through its raceways.

Numbers are drawn near what decides, so that a third passes, a third fails and many are exactly at a limit.
"""

from __future__ import annotations

from fractions import Fraction
from random import Random

from tests.naive_raceways import AREA, BORE

SIZES = ("3/4", "1", "1-1/4", "2", "2-1/2", "3", "4")
LARGE = ("#4", "#2", "#1/0", "#3/0", "250 kcmil", "350 kcmil", "500 kcmil", "1000 kcmil")
OF_PULL_BOXES = (
    "reading small-in-row not-counted",
    "reading straight-splice as-straight",
    "reading entry-distance centers",
)


def random_pull_box(dice: Random, *, unknowns: bool) -> str:
    """A sheet with two to five raceways; with ``unknowns`` some walls, sizes and measures are not written."""

    def missing(one_in: int) -> bool:
        return unknowns and dice.randrange(one_in) == 0

    lines = ["edition 2020", "panel P", "panel Q"]
    lines += [reading for reading in OF_PULL_BOXES if dice.randrange(6) == 0]
    raceways, walls = [], []
    for number in range(dice.randint(2, 4 if unknowns else 5)):
        name = f"R{number + 1}"
        comes = number % 2 == 0 if number < 2 else dice.random() < 0.5
        size = "?" if missing(12) else dice.choice(SIZES)
        raceways.append((name, comes, f"raceway {name} {'P > PB' if comes else 'PB > Q'} emt {size} 40 ft"))
        row = f" row {dice.randint(1, 2)}" if dice.random() < 0.3 else ""
        wall = dice.choice(("left", "right", "top", "bottom", "rear"))
        walls.append("" if missing(8) else f"  entry {name} {wall}{'' if wall == 'rear' else row}")
    lines.append("box PB")
    if missing(10):
        lines.append("  marked 3000 in3")
    else:
        across, down = (dice.choice((12, 16, 18, 24, 30, 36, 48)) for _ in range(2))
        lines.append(f"  inside {across} x {down} x {dice.choice(('3', '4-1/2', '6', '8', '12'))} in")
    lines += [line for line in walls if line]
    names = [name for name, _, _ in raceways]
    for one in range(len(names)):
        for other in range(one + 1, len(names)):
            both = {wall.split()[2] if wall else "" for wall in (walls[one], walls[other])}
            if both in ({"left", "right"}, {"top", "bottom"}) or dice.random() < 0.3:
                continue
            distance = "?" if missing(8) else dice.choice(("6", "9-1/2", "12", "15", "18", "18", "22-1/2", "24", "11"))
            lines.append(f"  apart {names[one]} {names[other]} {distance} in")
    lines += [line for _, _, line in raceways]
    coming = [name for name, comes, _ in raceways if comes]
    going = [name for name, comes, _ in raceways if not comes]
    for _ in range(dice.choice((1, 1, 2, 2, 3))):
        size = "#12" if dice.random() < 0.15 else dice.choice(LARGE)
        size = "#?" if missing(15) else size
        wires = f"3 x {size} thhn"
        if dice.random() < 0.3:
            wires += f", 1 x {dice.choice(('#12', '#6', *LARGE))} thhn"
        if dice.random() < 0.3:
            wires += ", ground #8"
        kind = dice.randrange(4)
        if kind <= 1:
            lines.append(f"wires P > Q {wires} through PB in {dice.choice(coming)}, {dice.choice(going)}")
        elif kind == 2:
            lines.append(f"wires P > PB > Q {wires} in {dice.choice(coming)}, {dice.choice(going)}")
        elif dice.random() < 0.5:
            lines.append(f"wires P > PB {wires} in {dice.choice(coming)}")
        else:
            lines.append(f"wires PB > Q {wires} in {dice.choice(going)}")
    return "\n".join(lines) + "\n"


BODY_SIZES = ("1-1/4", "2", "2-1/2", "3", "4")
INSULATED = ("thhn", "xhhw", "rhw")


def random_conduit_body(dice: Random, *, unknowns: bool) -> str:
    """A sheet with one conduit body, LB, its raceways R1 and R2, and what goes through it."""

    def missing(one_in: int) -> bool:
        return unknowns and dice.randrange(one_in) == 0

    lines = [f"edition {dice.choice((2008, 2011, 2014, 2017, 2020, 2023, 2026))}", "panel P", "panel Q"]
    if dice.randrange(4) == 0:
        lines.append("reading marked-insulation size-alone")
    if dice.randrange(6) == 0:
        lines.append("reading straight-splice as-straight")
    kind, size = dice.choice(("emt", "rmc", "pvc-40")), dice.choice(BODY_SIZES)
    times = Fraction(BORE[kind, size][0])
    inside = ""
    if dice.random() < 0.6:
        long = dice.choice((8, 12, 15, 16, 18, 20, 24, 32))
        inside = f" inside {long} x {dice.choice((4, 12, 18, 24))} x {dice.choice(('2', '3-1/2', '4', '6'))} in"
    shape = dice.choice(("c", "lb", "lb", "ll", "lr", "t"))
    lines += ["box LB", f"  conduit body {shape} {size} on {kind}{inside}"]
    if shape == "t":
        hubs = dice.sample(("left", "right", "top", "rear"), 2)
        lines += [f"  entry {name} {hub}" for name, hub in zip(("R1", "R2"), hubs, strict=True) if not missing(4)]
    wire = dice.choice(("#4", "#2", "#1/0", "#4/0", "250 kcmil"))
    insulation = dice.choice(INSULATED)
    count = dice.choice((1, 2, 3, 3, 3, 4))
    for _ in range(dice.choice((0, 1, 1, 1, 1, 2))):
        if missing(5):
            lines.append("  marked for ?")
        elif dice.randrange(5) == 0:
            lines.append("  marked for none")
        else:
            marked = dice.choice((wire, wire, "#2", "#2/0", "#4/0", "300 kcmil"))
            named = dice.choice(("", "xhhw", "thhn"))
            lines.append(f"  marked for {max(1, count + dice.choice((-1, 0, 0, 1)))} x {marked} {named}".rstrip())
    if dice.random() < 0.6:
        distance = "?" if missing(6) else dice.choice(("6", "9", "12", "15", "18", "24"))
        lines.append(f"  apart R1 R2 {distance} in")
    lines += [f"raceway R1 P > LB {kind} {size} 40 ft", f"raceway R2 LB > Q {kind} {size} 40 ft"]
    group = f"{'?' if missing(10) else count} x {wire} {insulation}"
    if dice.random() < 0.5 and times > 1:
        group += dice.choice((", ground #8", ", ground #6 bare", ", ground #4 thhn", ", 1 x #12 thhn"))
    route = "P > LB > Q {} in R1, R2" if dice.randrange(5) == 0 else "P > Q {} through LB in R1, R2"
    lines.append(f"wires {route.format(group)}")
    return "\n".join(lines) + "\n"


def random_raceway(dice: Random, *, unknowns: bool) -> str:
    """A sheet with one raceway; with ``unknowns`` some counts, sizes, lengths and insulations are not written."""

    def missing(one_in: int) -> bool:
        return unknowns and dice.randrange(one_in) == 0

    lines = [f"edition {dice.choice((2008, 2011, 2014, 2017, 2020, 2023, 2026))}"]
    if dice.random() < 0.3:
        lines.append(f"reading fill-column {dice.choice(('printed', 'exact'))}")
    if dice.random() < 0.3:
        lines.append("reading nipple-rounding rounded")
    kind, size = dice.choice(list(BORE))
    length = dice.choice(("40 ft", "40 ft", "40 ft", "24 in", "2 ft", "25 in", "8 in"))
    lines += ["panel P", "panel Q"]
    lines.append(f"raceway R1 P > Q {kind} {'?' if missing(8) else size} {'' if missing(8) else length}")
    forms = dice.choice((1, 1, 1, 2, 2, 3))
    left = BORE[kind, size][4] * (Fraction(3, 2) if length in ("24 in", "2 ft", "8 in") else 1)
    for number in range(forms):
        part = left / (forms - number) * Fraction(dice.randint(60, 130), 100)
        if dice.random() < 0.2:
            width = dice.choice(("0.38", "0.41", "0.48", "0.57", "0.65", "0.77", "1.1"))
            count = max(1, round(part / (Fraction(width) ** 2 * Fraction(11, 14))))
            times = "? x " if missing(10) else f"{min(count, 60)} x " if count > 1 else ""
            lines.append(f"run P > Q {times}12/2 nm-b {'? in' if missing(8) else width + ' in'} wide in R1")
            left -= part
            continue
        insulation, awg = dice.choice([key for key in AREA if AREA[key] <= max(part, Fraction(1, 50))])
        count = min(200, max(1, round(part / AREA[insulation, awg])))
        left -= count * AREA[insulation, awg]
        if insulation == "bare":
            lines.append(f"wires P > Q {count} x {awg_text(awg)} bare in R1")
        else:
            size_text = "#?" if missing(15) else awg_text(awg)
            group = f"{'?' if missing(10) else count} x {size_text} {'' if missing(10) else insulation}"
            lines.append(f"wires P > Q {group} in R1")
    return "\n".join(lines) + "\n"


def awg_text(size: str) -> str:
    """A conductor size as a sheet writes it."""
    return f"{size} kcmil" if len(size) > 2 and "/" not in size else f"#{size}"
