"""What enters a box: cables at its sides, conductors in the colors of their insulation and named, what becomes of each.

The sheet does not say which conductor is joined to which, nor on which side a cable comes in. Cables that come to the box
are drawn on the left, those that leave it on the right; conductors that end are led to one bar, grounds to another.
"""

from __future__ import annotations

from dataclasses import dataclass

from ampleroom.editions import CodeBook
from ampleroom.job import UNKNOWN
from ampleroom.job.cables import makeup
from ampleroom.job.model import (
    Box,
    Device,
    FixtureWires,
    Job,
    Module,
    Pigtails,
    Run,
    SpaceShare,
    Stop,
    TerminalBlock,
    Through,
    Wires,
)
from ampleroom.job.trade import size_text
from ampleroom.pictures.drawing import Dot, Drawing, Line, Rect, Text, shortened
from ampleroom.rules.space import direction, meetings_by_place

STEP = 17.0
SIDE = 158.0
INSIDE = 300.0
TOP = 58.0
MOST_DRAWN = 40
"""More conductors than this on one side are told in words only."""


@dataclass(frozen=True, slots=True)
class Wire:
    """One conductor to draw: its color, its name in words, and what becomes of it."""

    color: str
    name: str
    ends: str
    """ends, passes, ground."""


@dataclass(frozen=True, slots=True)
class Bundle:
    """A cable or a group of wires at one side."""

    name: str
    where: str
    wires: tuple[Wire, ...]
    passes: bool


def box_picture(job: Job, box: Box, book: CodeBook | None = None) -> Drawing:
    """The box with everything that comes into it, and what never leaves it."""
    bundles = [bundle for run, met in meetings_by_place(job).get(box.name, ()) for bundle in bundles_of(run, met, box)]
    left = [bundle for bundle in bundles if not bundle.passes and not bundle.where.startswith("to ")]
    right = [bundle for bundle in bundles if not bundle.passes and bundle.where.startswith("to ")]
    through = [bundle for bundle in bundles if bundle.passes]
    inside = contents_of(job, box)
    heights = [side_height(left), side_height(right), side_height(through) + 18.0 * len(inside) + 40]
    body = max(max(heights[0], heights[1]) + side_height(through) + 10, 90.0) + 18.0 * len(inside) + 30
    wide, high = 2 * SIDE + INSIDE, TOP + body + 34
    drawing = Drawing(wide, high, f"What enters {box.name}", describe(box, bundles, inside))
    drawing.add(
        Text(
            14,
            24,
            shortened(box.name + (f", {box.description}" if box.description else ""), wide - 28, 16, True),
            16,
            bold=True,
        )
    )
    drawing.add(
        Text(14, 42, "Drawn by what ends and what passes; the sheet does not say which are joined.", 10.5, role="faint")
    )
    drawing.add(Rect(SIDE, TOP, INSIDE, body, "room", rounded=6))
    y = TOP + 16
    ends = draw_side(drawing, left, y, "left") + draw_side(drawing, right, y, "right")
    y_through = TOP + 24 + max(heights[0], heights[1])
    grounds = [end for end in ends if end[2] == "ground"]
    others = [end for end in ends if end[2] == "ends"]
    below = max((y for _, y, _, _ in ends), default=y) + 20
    draw_bar(drawing, others, SIDE + INSIDE * 0.46, "end or are spliced", below)
    draw_bar(drawing, grounds, SIDE + INSIDE * 0.58, "grounds together", below + 12, color="green")
    y_through = draw_through(drawing, through, y_through)
    draw_inside(drawing, inside, y_through + 8)
    return drawing


def bundles_of(run: Run, met: Stop | Through, box: Box) -> list[Bundle]:
    passes = isinstance(met, Through)
    where = direction(run.stops, box.name) + (f" (side {met.space})" if met.space else "")
    number = 1 if run.count is UNKNOWN else min(run.count, 12)
    name = run.cable.name if run.cable else "wires"
    loop = ""
    if isinstance(met, Through) and met.slack != "straight":
        loop = ", landed on a terminal" if met.slack == "landed" else ", looped"
    return [Bundle(name + loop, where, tuple(wires_of(run, "passes" if passes else "ends")), passes)] * number


def wires_of(run: Run, becomes: str) -> list[Wire]:
    found: list[Wire] = []
    groups: tuple[Wires, ...] = run.wires
    if run.cable is not None and (inside := makeup(run.cable)) is not None:
        size = size_text(run.cable.size)
        found += [Wire(color, f"{color} {size}", becomes) for color in inside.colors]
        found += [ground for wires in inside.wires if wires.role == "ground" for ground in ground_wires(wires, becomes)]
    for wires in groups:
        number = 1 if wires.count is UNKNOWN else min(wires.count, MOST_DRAWN)
        if wires.role != "insulated":
            found += ground_wires(wires, becomes)
        else:
            color = wires.color or "black"
            name = f"{wires.color + ' ' if wires.color else ''}{size_text(wires.size)}"
            found += [Wire(color, name, becomes)] * number
    return found


def ground_wires(wires: Wires, becomes: str) -> list[Wire]:
    maybe = wires.count is UNKNOWN
    number = 1 if maybe else wires.count
    color = "green" if wires.role == "isolated ground" or wires.insulation else (wires.color or "bare")
    name = f"{wires.role}{' (not seen)' if maybe else ''} {size_text(wires.size)}"
    assert number is not UNKNOWN
    return [Wire(color, name, "ground" if becomes == "ends" else becomes)] * number


def side_height(bundles: list[Bundle]) -> float:
    return sum(min(len(bundle.wires), MOST_DRAWN) * STEP + 26 for bundle in bundles)


def draw_side(drawing: Drawing, bundles: list[Bundle], y: float, side: str) -> list[tuple[float, float, str, str]]:
    """The cables of one side; returns where each conductor's inner end is, what becomes of it, its color."""
    ends: list[tuple[float, float, str, str]] = []
    is_left = side == "left"
    edge = SIDE if is_left else SIDE + INSIDE
    outward = -1 if is_left else 1
    for bundle in bundles:
        wires = bundle.wires[:MOST_DRAWN]
        high = len(wires) * STEP
        sheath_x = edge + outward * 34
        drawing.add(Rect(min(sheath_x, edge + outward * 4), y - 7, 30, high, "signal", rounded=3))
        anchor, x = ("end", edge - 40) if is_left else ("start", edge + 40)
        drawing.add(Text(x, y + high / 2 - 10, shortened(bundle.name, SIDE - 48, 12, True), 12, anchor, True))
        drawing.add(Text(x, y + high / 2 + 4, shortened(bundle.where, SIDE - 48, 10.5), 10.5, anchor, role="faint"))
        for wire in wires:
            inner = edge - outward * 100
            drawing.add(Line(((edge + outward * 4, y), (inner, y)), thick=2.6, color=wire.color))
            label_x = edge - outward * 10
            drawing.add(
                Text(label_x, y - 3.2, shortened(wire.name, 96, 10), 10, "start" if is_left else "end", role="ink")
            )
            ends.append((inner, y, wire.ends, wire.color))
            y += STEP
        y += 26
    return ends


def draw_bar(
    drawing: Drawing, ends: list[tuple[float, float, str, str]], x: float, title: str, below: float, color: str = ""
) -> None:
    """The upright bar that ends are led to."""
    if not ends:
        return
    top, bottom = min(y for _, y, _, _ in ends), max(y for _, y, _, _ in ends)
    for ex, ey, _, insulation in ends:
        drawing.add(Line(((ex, ey), (x, ey)), thick=1.4, color=insulation))
        drawing.add(Dot(x, ey, 3.2, "ink" if not color else "grounds"))
    drawing.add(Line(((x, top - 6), (x, bottom + 6)), thick=3, color=color or ""))
    drawing.add(Line(((x, bottom + 6), (x, below - 9)), "faint", dashed=True))
    drawing.add(Text(x, below, title, 9.5, "middle", role="faint"))


def draw_through(drawing: Drawing, bundles: list[Bundle], y: float) -> float:
    """What passes unbroken, from side to side."""
    for bundle in bundles:
        y += 14
        drawing.add(
            Text(
                SIDE + INSIDE / 2,
                y,
                shortened(f"{bundle.name} passes unbroken, {bundle.where}", INSIDE - 20, 10),
                10,
                "middle",
                role="faint",
            )
        )
        y += 12
        for wire in bundle.wires[:MOST_DRAWN]:
            drawing.add(Line(((SIDE - 30, y), (SIDE + INSIDE + 30, y)), thick=2.2, color=wire.color))
            drawing.add(Text(SIDE - 36, y + 3, shortened(wire.name, SIDE - 44, 10), 10, "end"))
            y += STEP - 3
    return y


def contents_of(job: Job, box: Box) -> list[tuple[str, str]]:
    """What is in the box besides cables: a role and words for each."""
    found: list[tuple[str, str]] = []
    for item in job.items(box):
        match item:
            case Device():
                label = f", {item.label}" if item.label else ""
                times = f"{item.count} x " if item.count > 1 else ""
                found.append(("devices", f"{times}{' + '.join(item.names)} {size_text(item.size)}{label}"))
            case Module():
                found.append(("devices", f"module {size_text(item.size)}" + (f", {item.label}" if item.label else "")))
            case TerminalBlock():
                found.append(("blocks", f"terminal block {size_text(item.size)}"))
            case FixtureWires():
                from ampleroom.job.lines.wires import write_wires

                found.append(("fixture", f"fixture wires {write_wires(item.wires)}"))
            case Pigtails():
                kind = "ground pigtail" if item.ground else "pigtail"
                found.append(("spare", f"{item.count} x {kind} {size_text(item.size)}: never leaves the box"))
            case SpaceShare():
                found.append(("room", f"behind the barrier: {item.name}"))
            case _:
                pass
    return found


def draw_inside(drawing: Drawing, inside: list[tuple[str, str]], y: float) -> None:
    for role, words in inside:
        drawing.add(Rect(SIDE + 16, y, 12, 12, role, rounded=2))
        drawing.add(Text(SIDE + 34, y + 10, shortened(words, INSIDE - 48, 11), 11))
        y += 18


def describe(box: Box, bundles: list[Bundle], inside: list[tuple[str, str]]) -> str:
    said = [
        f"{bundle.name} {bundle.where}: "
        + ", ".join(wire.name for wire in bundle.wires)
        + (", passing unbroken" if bundle.passes else "")
        for bundle in bundles
    ]
    return (
        f"{box.name}. "
        + "; ".join(said or ["no cable is written"])
        + ". In it: "
        + ("; ".join(words for _, words in inside) or "nothing else")
        + "."
    )
