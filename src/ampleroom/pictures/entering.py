"""What enters a box: cables at its sides, conductors in the colors of their insulation and named, what becomes of each.

The sheet does not say which conductor is joined to which, nor on which side a cable comes in. Cables that come to the
box are drawn on the left, those that leave it on the right; a conductor that ends here is drawn to a dot and no
farther, so that no picture shows a splice nobody wrote. Grounds are led to one bar: they are joined. Isolated grounds
are not.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.job import UNKNOWN
from ampleroom.job.cables import makeup
from ampleroom.job.lines.runs import raceways_text
from ampleroom.job.model import (
    Box,
    Item,
    Job,
    Pigtails,
    Run,
    SpaceShare,
    Stop,
    Through,
    Wires,
)
from ampleroom.job.trade import size_text
from ampleroom.job.writer import written
from ampleroom.pictures.drawing import Dot, Drawing, Line, Rect, Text, shortened, wrapped
from ampleroom.quantities import inches
from ampleroom.record import Record
from ampleroom.rules.all_rules import RULES

STEP = 19.0
"""From one conductor to the next."""
SIDE = 142.0
"""Room for words on a side of the box where something enters."""
BARE = 14.0
"""Room on a side where nothing does."""
INSIDE = 300.0
REACH = 118.0
"""How far a conductor that ends here comes in."""
TOP = 52.0
LOWEST_BUNDLE = 44.0
"""Room for the name of a cable, and for two lines on where it goes."""
ALIKE = 3
"""So many cables, or twice as many single wires, are drawn one by one; more that are alike are drawn once, with their
number."""
ROLES = {line: rule.drawn_as for rule in RULES.values() for line in rule.counts}
"""What is listed inside the box, and as what: as the rule that counts it is drawn."""


class Wire(Record):
    """One conductor to draw, or several alike: its color, its name in words, and what becomes of it."""

    color: str
    name: str
    becomes: str
    """ends, ground."""
    is_many: bool = False
    is_seen: bool = True


class Bundle(Record):
    """A cable or a group of wires at one side of one space."""

    name: str
    where: str
    space: str
    side: str
    """left, right, through."""
    wires: tuple[Wire, ...]

    @property
    def high(self) -> float:
        """Its height, points."""
        return max(len(self.wires) * STEP, LOWEST_BUNDLE)


class Frame(Record):
    """Where the box's two sides are drawn."""

    left: float
    right: float
    wide: float

    @property
    def middle(self) -> float:
        """Halfway between left and right, points."""
        return (self.left + self.right) / 2


class Section(Record):
    """One side of a barrier, or the whole box: what enters there and what is in it."""

    name: str
    bundles: tuple[Bundle, ...]
    inside: tuple[tuple[str, str], ...]
    """A role and words for each thing."""


def box_picture(job: Job, box: Box, book: CodeBook | None = None, title: bool = True) -> Drawing:
    """The box with everything that comes into it, and what never leaves it; ``title``: its name above."""
    sections = sections_of(job, box)
    frame = frame_for(sections)
    wide = frame.wide
    drawing = Drawing(wide, 0, f"What enters {box.name}", describe(box, sections))
    y = 8.0
    if title:
        name = shortened(box.name, wide - 28, 16, True)
        drawing.add(Text(14, 22, name, 16, bold=True))
        for line in wrapped(box.description, wide - 28, 11, most=1):
            drawing.add(Text(14, 38, line, 11, role="faint"))
        y = TOP if box.description else TOP - 14
    top = y
    inner = Drawing(wide, 0, "", "")
    for place, section in enumerate(sections):
        if place:
            inner.add(Line(((frame.left, y), (frame.right, y)), "ink", 3))
        y = draw_section(inner, section, frame, y)
    drawing.add(Rect(frame.left, top, INSIDE, y - top, "room", rounded=6))
    drawing.put(inner, 0, 0)
    for line in wrapped(legend(sections), wide - 28, 10):
        y += 14
        drawing.add(Text(wide / 2, y + 2, line, 10, "middle", role="faint"))
    drawing.high = y + 12
    return drawing


def frame_for(sections: list[Section]) -> Frame:
    """Sides where nothing enters are left out."""
    sides = {bundle.side for section in sections for bundle in section.bundles}
    left = SIDE if sides & {"left", "through"} else BARE
    right = SIDE if "right" in sides else 44.0 if "through" in sides else BARE
    return Frame(left, left + INSIDE, left + INSIDE + right)


def legend(sections: list[Section]) -> str:
    """What the marks in this picture mean; nothing where there are none."""
    becomes = [wire.becomes for section in sections for bundle in section.bundles for wire in bundle.wires]
    sentences = []
    if any(bundle.side != "through" for section in sections for bundle in section.bundles) and "ends" in becomes:
        sentences.append("A dot: it ends here or is spliced; the sheet does not say to what.")
    if any(len(grounds_of(section)) > 1 for section in sections):
        sentences.append("The thick bar: grounds, joined.")
    return " ".join(sentences)


# ---- what is to be drawn -------------------------------------------------------------------------------------------


def sections_of(job: Job, box: Box) -> list[Section]:
    """The box's spaces, or the whole box as one; what stands above the first space belongs to all and comes first."""
    inside: dict[str, list[tuple[str, str]]] = {}
    now = ""
    for item in job.items(box):
        if isinstance(item, SpaceShare):
            now = item.name
            inside.setdefault(now, [])
        elif type(item) in ROLES:
            inside.setdefault(now, []).append((ROLES[type(item)], item_words(item)))
    bundles = list(bundles_at(job, box))
    names = [name for name in inside if name] or [""]
    if "" in inside and names != [""]:
        names.insert(0, "")
    return [
        Section(name, tuple(bundle for bundle in bundles if bundle.space == name), tuple(inside.get(name, ())))
        for name in names
    ]


DECIMAL_INCHES = re.compile(r"\b(\d+\.\d+) in\b")


def item_words(item: Item) -> str:
    """A line under the box as the sheet has it, lengths as a tape shows them; its label stays as it is."""
    sizes, label, rest = written(item).partition(" for ")
    words = DECIMAL_INCHES.sub(lambda match: inches(Decimal(match[1])).removesuffix("."), sizes) + label + rest
    return f"{words}: never leaves the box" if isinstance(item, Pigtails) else words


def bundles_at(job: Job, box: Box) -> Iterator[Bundle]:
    """What is drawn at the sides, in the order of the sheet."""
    arrived: set[int] = set()
    for run, met in job.graph_at(box.name).runs_at.get(box.name, ()):
        if isinstance(met, Through):
            how = {"straight": "", "loop": ", looped", "landed": ", landed on a terminal"}[met.slack]
            stops = " > ".join("?" if stop.name is UNKNOWN else stop.name for stop in run.stops)
            yield from alike(run, "through", f"{stops}, unbroken{how}", met.space)
        else:
            side, where = far_end(run, met, id(met) in arrived)
            arrived.add(id(met))
            yield from alike(run, side, where + (f", circuit {run.circuit}" if run.circuit else ""), met.space)


def far_end(run: Run, met: Stop, has_arrived: bool) -> tuple[str, str]:
    """The side a run is drawn at, and where it comes from or goes to. One that ends here and goes on is met twice."""
    at = next(index for index, stop in enumerate(run.stops) if stop is met)
    leaves = at == 0 or (has_arrived and at + 1 < len(run.stops))
    far = run.stops[at + 1 if leaves else at - 1].name
    side = "right" if leaves else "left"
    return side, "far end not known" if far is UNKNOWN else f"{'to' if leaves else 'from'} {far}"


def alike(run: Run, side: str, where: str, space: str) -> Iterator[Bundle]:
    """The bundles of a run at one side of a box: one each, or one for all where there are many."""
    name = run.cable.name if run.cable else "wires"
    if run.material == "aluminum":
        name += ", aluminum"
    if run.raceways:
        name += f" in {raceways_text(run)}"
    wires = tuple(wires_of(run))
    if run.count is not UNKNOWN and run.count <= ALIKE:
        for _ in range(run.count):
            yield Bundle(name, where, space, side, wires)
    else:
        yield Bundle(f"{'?' if run.count is UNKNOWN else run.count} x {name}", where, space, side, wires)


def wires_of(run: Run) -> Iterator[Wire]:
    """The wires of a run, colored as its cable is made."""
    if run.cable is not None and (inside := makeup(run.cable)) is not None:
        size = size_text(run.cable.size)
        yield from (Wire(color, f"{color} {size}", "ends") for color in inside.colors)
        for wires in inside.wires:
            if wires.role == "ground":
                yield from group(wires)
    for wires in run.wires:
        yield from group(wires)


def group(wires: Wires) -> Iterator[Wire]:
    """So many like conductors, one by one or, where they are many, as one."""
    becomes = "ground" if wires.role == "ground" else "ends"
    size = size_text(wires.size)
    if wires.role == "insulated":
        color, name = wires.color or "black", f"{wires.color} {size}".strip()
    else:
        color = wires.color or ("green" if wires.role == "isolated ground" or wires.insulation else "bare")
        name = f"{wires.role} {size}"
    if wires.count is UNKNOWN:
        maybe = f"{name} (not seen)" if wires.role == "ground" else f"? x {name}"
        yield Wire(color, maybe, becomes, is_seen=False)
    elif wires.count > 2 * ALIKE:
        yield Wire(color, f"{wires.count} x {name}", becomes, True)
    else:
        yield from [Wire(color, name, becomes)] * wires.count


# ---- drawing it ----------------------------------------------------------------------------------------------------


def draw_section(drawing: Drawing, section: Section, frame: Frame, y: float) -> float:
    """One space from ``y`` down; returns where it ends."""
    y += 10
    if section.name:
        name = shortened(f"space {section.name}", INSIDE - 20, 11, True)
        drawing.add(Text(frame.middle, y + 6, name, 11, "middle", True))
        y += 12
    y += 10
    sides = [[bundle for bundle in section.bundles if bundle.side == side] for side in ("left", "right")]
    ends = [y]
    joined: list[float] = []
    for side, bundles in zip(("left", "right"), sides, strict=True):
        at = y
        for bundle in bundles:
            joined += draw_bundle(drawing, bundle, frame, at, side)
            at += bundle.high + 8
        ends.append(at)
    if len(joined) > 1:
        x = frame.middle
        drawing.add(Line(((x, min(joined) - 4), (x, max(joined) + 4)), thick=4, color="green"))
    y = max(ends)
    for bundle in section.bundles:
        if bundle.side == "through":
            y = draw_through(drawing, bundle, frame, y)
    return draw_inside(drawing, section.inside, frame.left, y)


def grounds_of(section: Section) -> list[Wire]:
    """The grounds that are led to the bar."""
    return [wire for b in section.bundles if b.side != "through" for wire in b.wires if wire.becomes == "ground"]


def draw_bundle(drawing: Drawing, bundle: Bundle, frame: Frame, y: float, side: str) -> list[float]:
    """A cable that comes in on one side; returns the heights at which its grounds reach the middle."""
    edge, inward, anchor = (frame.left, 1, "end") if side == "left" else (frame.right, -1, "start")
    outer = edge - inward * 34
    wires = len(bundle.wires) * STEP
    drawing.add(Rect(min(outer, edge - inward * 4), y - 10, 30, wires, "signal", rounded=3))
    x = edge - inward * 40
    drawing.add(Text(x, y + 1, shortened(bundle.name, SIDE - 46, 12, True), 12, anchor, True))
    for line, words in enumerate(wrapped(bundle.where, SIDE - 46, 10.5, most=2)):
        drawing.add(Text(x, y + 15 + 12.5 * line, words, 10.5, anchor, role="faint"))
    grounds = []
    for wire in bundle.wires:
        is_ground = wire.becomes == "ground"
        inner = frame.middle if is_ground else edge + inward * REACH
        drawing.add(
            conductor(edge - inward * 4, inner, y, wire),
            Dot(inner, y, 3, "ink"),
            Text(
                edge + inward * 8, y - 4, shortened(wire.name, REACH - 10, 10.5), 10.5, "start" if inward > 0 else "end"
            ),
        )
        if is_ground:
            grounds.append(y)
        y += STEP
    return grounds


def conductor(start: float, end: float, y: float, wire: Wire) -> Line:
    """In the color of its insulation; dashed where nobody has seen it."""
    return Line(((start, y), (end, y)), thick=4 if wire.is_many else 2.4, color=wire.color, dashed=not wire.is_seen)


def draw_through(drawing: Drawing, bundle: Bundle, frame: Frame, y: float) -> float:
    """What passes unbroken, from side to side."""
    words = wrapped(f"{bundle.name}: {bundle.where}", INSIDE - 20, 10.5, most=2)
    for line in words:
        drawing.add(Text(frame.middle, y + 2, line, 10.5, "middle", role="faint"))
        y += 13
    y += 2
    for wire in bundle.wires:
        drawing.add(
            conductor(frame.left - 30, frame.right + 30, y, wire),
            Text(frame.left - 36, y + 3.5, shortened(wire.name, SIDE - 44, 10.5), 10.5, "end"),
        )
        y += STEP - 4
    return y + 10


def draw_inside(drawing: Drawing, inside: tuple[tuple[str, str], ...], left: float, y: float) -> float:
    """Draws the lines on what is inside a box from ``y`` down; the ``y`` below them."""
    for role, words in inside:
        drawing.add(Rect(left + 16, y - 6, 13, 13, role, rounded=2))
        for line in wrapped(words, INSIDE - 50, 11, most=2):
            drawing.add(Text(left + 36, y + 4, line, 11))
            y += 13
        y += 6
    return y + 2


def describe(box: Box, sections: list[Section]) -> str:
    """The picture in words."""
    sentences = []
    for section in sections:
        enters = [
            f"{b.name} {b.where}{': ' if b.wires else ''}{', '.join(wire.name for wire in b.wires)}"
            for b in section.bundles
        ]
        words = "; ".join(enters or ["no cable is written"]) + ". "
        words += "In it: " + ("; ".join(words for _, words in section.inside) or "nothing else") + "."
        sentences.append(f"{section.name}: {words}" if section.name else words)
    return f"{box.name}. " + " ".join(sentences)
