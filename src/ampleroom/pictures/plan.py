"""A pull box seen from its cover, to scale: the raceways in their walls, what is pulled from one to another, and the
distances.

A sheet says the wall of each raceway and not its place on it, so those of one wall are spread over it evenly.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Unit
from ampleroom.facts import Assumption
from ampleroom.pictures.drawing import Drawing, Line, Rect, Text, shortened, wrapped
from ampleroom.quantities import inches
from ampleroom.record import TupleRecord
from ampleroom.report import Report
from ampleroom.rules.box.fill.ends import ENDS
from ampleroom.rules.box.pull_box import NAME, SPACED, inside_of
from ampleroom.rules.box.pull_box.distances import OPPOSITE, Pull, PullEntry, Wall
from ampleroom.rules.box.pull_box.entering import Pulls, pulls_through
from ampleroom.rules.builder import builder_of
from ampleroom.worksheet import Finding, SubjectReport

LONGEST = 260.0
"""How long the longer side of the box is drawn, pixels."""
SIDE = 120.0
"""Room beside the box for the names of raceways, and for a measure."""
MEASURE = 50.0
"""Room right of that for the measure from top to bottom."""
TICK = 5.0
TOP = 16.0
STUB = 26.0
"""How much of a raceway is drawn outside of its wall."""
SMALLEST = 8.0
"""A raceway is drawn at least so wide, pixels."""


class Place(TupleRecord):
    """Where an entry is drawn: the middle of it on the inside of its wall, and the way out of the box."""

    entry: PullEntry
    x: float
    y: float
    out: tuple[float, float]
    wide: float
    """Its trade size to scale, pixels."""


def plan(report: Report, subject: SubjectReport, title: bool = True) -> Drawing | None:
    """A pull box from its cover; None for any other box, and where its measures or the walls of its raceways are not
    known.
    """
    found = [finding for finding in subject.findings if finding.rule == NAME]
    if not found:
        return None
    builder = builder_of(report.job.box(subject.name), report.job.graph_at(subject.name), report.book)
    spaces = builder.spaces(Assumption(ENDS))
    (across, _), (down, _) = (inside_of(way, spaces[0], report.book) for way in ("across", "down"))
    if len(spaces) > 1 or across is None or down is None:
        return None
    pulled = pulls_through(spaces[0], report.book)
    if pulled.questions or pulled.wall_questions or pulled.row_questions or pulled.row_wall_questions:
        return None
    scale = LONGEST / float(max(across, down))
    left, top = SIDE, TOP + (22 if title else 0) + STUB
    wide, high = float(across) * scale, float(down) * scale
    drawing = Drawing(
        wide + 2 * SIDE + MEASURE,
        0,
        f"{subject.name} from its cover",
        described(subject.name, across, down, pulled, found),
    )
    if title:
        drawing.add(
            Text(14, 22, shortened(f"{subject.name} from its cover", drawing.wide - 28, 16, True), 16, bold=True)
        )
    drawing.add(Rect(left, top, wide, high, "room", note=f"inside {inches(across)} x {inches(down)}"))
    places = list(placed(pulled.entries, left, top, wide, high, scale))
    for place in places:
        draw_entry(drawing, place)
    for pull in shown(pulled):
        one, other = places[pull.one], places[pull.other]
        drawing.add(Line(way_of(one, other), "ink", 3, dashed=pull.is_spliced))
    draw_length(drawing, ((left, top + high + STUB + 20), (left + wide, top + high + STUB + 20)), across)
    draw_length(drawing, ((left + wide + SIDE, top), (left + wide + SIDE, top + high)), down)
    y = top + high + STUB + 52
    for finding in found:
        y = draw_measure(drawing, finding, y)
    if any(pull.is_spliced for pull in shown(pulled)):
        y = words(drawing, "Dashed: spliced here.", y, "faint")
    y = words(drawing, "The sheet has the wall of each raceway, not its place on it.", y, "faint")
    drawing.high = y + 4
    return drawing


def shown(pulled: Pulls) -> list[Pull]:
    """The pulls that are drawn: what ends here, and what is not sure to be spliced to what, is not."""
    return [pull for pull in pulled.pulls if pull.is_sure and pull.one != pull.other]


def placed(
    entries: tuple[PullEntry, ...], left: float, top: float, wide: float, high: float, scale: float
) -> Iterator[Place]:
    """Every entry on its wall, those of one wall spread evenly over it; those in the back over the middle."""
    on_wall: dict[Wall, int] = {}
    for entry in entries:
        on_wall[entry.wall] = on_wall.get(entry.wall, 0) + 1
    taken: dict[Wall, int] = {}
    for entry in entries:
        taken[entry.wall] = taken.get(entry.wall, 0) + 1
        part = taken[entry.wall] / (on_wall[entry.wall] + 1)
        size = max(float(entry.size) * scale, SMALLEST)
        x, y, out = {
            "left": (left, top + high * part, (-1.0, 0.0)),
            "right": (left + wide, top + high * part, (1.0, 0.0)),
            "top": (left + wide * part, top, (0.0, -1.0)),
            "bottom": (left + wide * part, top + high, (0.0, 1.0)),
            "rear": (left + wide * part, top + high / 2, (0.0, 0.0)),
        }[entry.wall]
        yield Place(entry, x, y, out, size)


def way_of(one: Place, other: Place) -> tuple[tuple[float, float], ...]:
    """The way of conductors from one entry to another: straight, round a corner, or out into the box and back."""
    ends = ((one.x, one.y), (other.x, other.y))
    wall, far = one.entry.wall, other.entry.wall
    if wall == far and wall != "rear":
        reach = max(one.wide, other.wide) * 2
        turned = tuple([(place.x - place.out[0] * reach, place.y - place.out[1] * reach) for place in (one, other)])
        return (ends[0], *turned, ends[1])
    if OPPOSITE.get(wall) == far or "rear" in (wall, far):
        return ends
    corner = (other.x, one.y) if wall in ("left", "right") else (one.x, other.y)
    return (ends[0], corner, ends[1])


def draw_length(drawing: Drawing, ends: tuple[tuple[float, float], tuple[float, float]], inside: Decimal) -> None:
    """A measure beside the box, from tick to tick."""
    (x, y), (far_x, far_y) = ends
    is_level = y == far_y
    tick = (0.0, TICK) if is_level else (TICK, 0.0)
    drawing.add(Line(ends, "faint"))
    for end_x, end_y in ends:
        drawing.add(Line(((end_x - tick[0], end_y - tick[1]), (end_x + tick[0], end_y + tick[1])), "faint"))
    if is_level:
        drawing.add(Text((x + far_x) / 2, y + 14, inches(inside), 11, "middle"))
    else:
        drawing.add(Text(x + TICK + 2, (y + far_y) / 2 + 4, inches(inside), 11))


def draw_entry(drawing: Drawing, place: Place) -> None:
    """A raceway where it comes in, with its name and trade size."""
    x, y, (right, down), half = place.x, place.y, place.out, place.wide / 2
    name = f"{place.entry.name}, {inches(place.entry.size)}"
    if not right and not down:
        drawing.add(Rect(x - half, y - half, place.wide, place.wide, "spare", rounded=half))
        drawing.add(Text(x, y - half - 5, f"{name}, in the back", 11, "middle"))
    elif right:
        drawing.add(Rect(min(x, x + right * STUB), y - half, STUB, place.wide, "spare"))
        drawing.add(
            Text(
                x + right * (STUB + 6),
                y + 4,
                shortened(name, SIDE - STUB - 10, 11),
                11,
                "start" if right > 0 else "end",
            )
        )
    else:
        drawing.add(Rect(x - half, min(y, y + down * STUB), place.wide, STUB, "spare"))
        drawing.add(Text(x, y + down * (STUB + 4) + (10 if down > 0 else -2), name, 11, "middle"))


def draw_measure(drawing: Drawing, finding: Finding, y: float) -> float:
    """What there is and what is needed, in a line of words below the box; the ``y`` after it."""
    if finding.worst is None:
        return words(drawing, f"? {finding.message}", y, "ink")
    sheet = finding.worst
    what = sheet.have[0].label if sheet.purpose == SPACED else sheet.purpose.have
    return words(
        drawing, f"{finding.verdict.shape} {what}: {amount(sheet.there)}, {amount(sheet.needed)} needed", y, "ink"
    )


def amount(value: Decimal) -> str:
    """``17-1/2 in.``; ``not known`` without a limit."""
    return inches(value) if value.is_finite() else Unit.INCH.amount(value)


def words(drawing: Drawing, text: str, y: float, role: str) -> float:
    """Words below the box from ``y`` down; the ``y`` after them."""
    for line in wrapped(text, drawing.wide - 28, 11, most=3):
        drawing.add(Text(14, y, line, 11, role=role))
        y += 15
    return y + 2


def described(name: str, across: Decimal, down: Decimal, pulled: Pulls, found: list[Finding]) -> str:
    """The picture in words."""
    entries = "; ".join(f"{entry.name}, {inches(entry.size)}, {place_text(entry.wall)}" for entry in pulled.entries)
    pulls = "; ".join(
        f"{pulled.entries[pull.one].name} to {pulled.entries[pull.other].name}{', spliced' if pull.is_spliced else ''}"
        for pull in shown(pulled)
    )
    sentences = [f"{name}, {inches(across)} from left to right and {inches(down)} from top to bottom.", f"{entries}."]
    if pulls:
        sentences.append(f"Pulled: {pulls}.")
    sentences += [f"{finding.message.rstrip('.')}." for finding in found]
    return " ".join(sentences)


def place_text(wall: Wall) -> str:
    """``left wall``; ``in the back``."""
    return "in the back" if wall == "rear" else f"{wall} wall"
