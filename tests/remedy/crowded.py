"""Random jobs whose boxes are about full, of the kinds there are remedies for, and a stock to mend them from."""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise
from pathlib import Path

from hypothesis import strategies as st

from ampleroom import read_job
from ampleroom.job.model import Job
from ampleroom.remedy import read_stock
from tests.strategies import Dice

STOCK = read_stock(Path(__file__).parents[2] / "examples" / "stock.toml")

BASES = (
    *(("square 4 x 1-1/4", 18), ("square 4 x 1-1/2", 21), ("square 4 x 2-1/8", 30), ("octagon 4 x 1-1/2", 15)),
    *(("octagon 4 x 2-1/8", 21), ("device 3 x 2 x 2-3/4", 14), ("device 3 x 2 x 2-1/2 2 ganged", 25)),
    *(("marked 16 in3 plastic 1-gang 2-1/2 in deep", 16), ("marked 30 in3 plastic 2-gang 3 in deep", 30)),
    *(("marked 45 in3 plastic 3-gang 3 in deep", 45), ("marked 18 in3 plastic", 18),
        ("marked ? in3 plastic 1-gang", 18)),
)  # fmt: skip
DIVIDED = "marked 45 in3 plastic 3-gang 3 in deep\n  barrier plastic\n  space power 2 gangs\n  space signal 1 gang"
CLAMPS = ("clamps inside", "clamps inside", "clamps outside", "clamps tabs", "clamps ?", "")
MOUNTED = (
    *("", "", "mounted new-work", "mounted new-work finished", "mounted surface", "mounted existing"),
    *("mounted old-work cavity 3-1/4 in finished", "mounted old-work hole 2 x 3 in finished"),
)
DEVICES = (
    "receptacle #12",
    "switch #14",
    "receptacle",
    "2 x switch #14",
    "switch #12",
    "gfci receptacle #12 projects 1-3/8 in",
)
PARTS = ("plaster ring 1 in3", "raised cover 1.5 in3", "extension ring unmarked")
CABLES = (
    "12/2 nm-b",
    "12/2 nm-b",
    "14/2 nm-b",
    "14/3 nm-b",
    "14/2 old, ground #16",
    "?/2 nm-b",
    "10/2 nm-b",
    "12/2 mc",
)
CIRCUITS = ("", " circuit 1", " circuit 1", " circuit 2", " circuit 3")


def sheet_of(dice: Dice) -> str:
    names = ("A", "B", "C", "D")[: dice.whole(1, 4)]
    kinds: list[str] = []
    boxes: list[str] = []
    runs: list[str] = []
    stops: dict[str, str] = {}
    for name in names:
        line = dice.line()
        room = a_box(line, name, kinds, boxes, stops)
        for _ in range(max(1, int(room / Decimal("4.5")) + line.pick((-1, 0, 1, 1, -3)))):
            runs.append(
                f"run {stops[name]} > ? {line.pick(CABLES)}{line.pick(CIRCUITS)}{line.pick(('', ' 12 ft', ''))}"
            )
    for here, there in pairwise(names):
        runs.append(f"run {stops[here]} > {stops[there]} {dice.pick(CABLES)}{dice.pick(CIRCUITS)} 9 ft")
    if len(names) > 2 and dice.chance(2):
        runs.append(
            f"run {stops['A']} > {stops['C']} 12/2 nm-b through {stops['B']}{dice.pick(('', ' loop 14 in'))} circuit 1"
        )
    year = dice.pick((2017, 2020, 2023, 2011))
    return "\n".join([f"edition {year}", "panel P", *kinds, *boxes, *runs, ""])


def a_box(dice: Dice, name: str, kinds: list[str], boxes: list[str], stops: dict[str, str]) -> int:
    """The lines of one box; about how much room it has."""
    base, room = dice.pick(BASES)
    stops[name] = name
    is_square, is_round = base.startswith("square"), base.startswith("octagon")
    devices = [dice.pick(DEVICES) for _ in range(dice.whole(0, 2) if not is_round else 0)]
    if dice.chance(12):
        boxes.append("\n  ".join([f"box {name} ? at the bay", *devices]))
        return 18
    if dice.chance(12):
        base, stops[name] = DIVIDED, f"{name}/power"
    parts = [dice.pick(PARTS)] if is_square and dice.chance(3) else []
    carried = (
        [dice.pick(("carries luminaire 9 lb", "carries fan 31 lb", "rated fan 35 lb"))]
        if is_round and dice.chance(3)
        else []
    )
    lines = [base, dice.pick(CLAMPS), dice.pick(MOUNTED)]
    if dice.chance(4) and base is not DIVIDED:
        kinds.append("\n  ".join([f"kind usual-{name}", *(line for line in lines if line)]))
        boxes.append("\n  ".join([f"box {name} usual-{name}", *parts, *carried, *devices]))
    else:
        boxes.append("\n  ".join(line for line in [f"box {name}", *lines, *parts, *carried, *devices] if line))
    return room


@st.composite
def crowded_jobs(draw) -> Job:
    return read_job(sheet_of(Dice(draw)))
