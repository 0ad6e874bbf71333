"""A circuit from its panel outward: one row for each place, its runs drawn to scale by their length, and beside them
the wire, what it may carry, and the volts lost up to there. The way to the place that loses most is thick.
"""

from __future__ import annotations

from decimal import Decimal

from ampleroom.pictures.along import Along, Step, path_of
from ampleroom.pictures.drawing import Dot, Drawing, Line, Rect, Text, shortened, text_width, wrapped
from ampleroom.report import Report
from ampleroom.worksheet import SubjectReport

MARGIN = 14.0
ROW = 20.0
TREE = 230.0
"""How wide the longest way is drawn, pixels."""
STUB = 16.0
"""How long a run is drawn whose length is not written; and the least the way to a place is."""
SIZE = 11.0
GAP = 16.0
"""Between two columns."""
PANEL = 10.0
MOST_WORDS = 190.0
"""No column is wider, pixels."""
ROOMY = 1.12
"""Fonts of other machines run wider than the one measured by."""
COLUMNS = ("to", "by", "load", "carries", "ampacity", "lost so far")


def circuit_tree(report: Report, subject: SubjectReport, title: bool = True) -> Drawing | None:
    """The tree of a circuit, with its name above where ``title``; None where no run leads from a panel."""
    found = path_of(report.job, subject.name, report.book)
    return None if found is None else drawn(found, title)


def drawn(found: Along, title: bool) -> Drawing:
    """The picture of a circuit place by place."""
    ends = [0.0] * len(found.steps)
    scale = scale_of(found)
    for number_of, step in enumerate(found.steps):
        ends[number_of] = start_of(step, ends) + long(step, scale)
    rows = [cells_of(step) for step in found.steps]
    shown = [place for place in range(len(COLUMNS)) if any(row[place] for row in rows)]
    if not found.load:
        shown.pop()
    heads = [COLUMNS[place] for place in shown]
    cells = [[row[place] for place in shown] for row in rows]
    widths = [
        min(MOST_WORDS, ROOMY * max(text_width(each, SIZE, True) for each in (head, *(row[place] for row in cells))))
        for place, head in enumerate(heads)
    ]
    left = MARGIN + PANEL + max(ends) + GAP
    lefts = [left + sum(widths[:place]) + GAP * place for place in range(len(widths))]
    wide = lefts[-1] + widths[-1] + MARGIN
    drawing = Drawing(wide, 0, f"{found.name} from {found.source} outward", described(found, cells))
    top = 14.0
    if title:
        heading = shortened(f"{found.name}, from {found.source} outward", wide - 2 * MARGIN, 16, True)
        drawing.add(Text(MARGIN, 22, heading, 16, bold=True))
        top = 38.0
    drawing.add(Text(MARGIN, top + 4, shortened(found.source, left - MARGIN - GAP, SIZE, True), SIZE, bold=True))
    for head, x in zip(heads, lefts, strict=True):
        drawing.add(Text(x, top + 4, head, SIZE, role="faint"))
    first = top + ROW
    drawing.add(Rect(MARGIN, top + 8, PANEL, PANEL, "ink"))
    for is_thick in (False, True):  # the way to the farthest on top of the rest
        for number_of, step in enumerate(found.steps):
            if step.is_on_the_way is is_thick:
                draw_step(drawing, found, number_of, ends, first)
    for number_of, step in enumerate(found.steps):
        y = first + ROW * number_of + 4
        guide = (MARGIN + PANEL / 2 + ends[number_of] + 9, y - 4), (left - 6, y - 4)
        drawing.add(Line(guide, "circuit-3", 0.5, True))
        for text, x, room in zip(cells[number_of], lefts, widths, strict=True):
            drawing.add(Text(x, y, shortened(text, room, SIZE, True), SIZE, bold=step.is_farthest))
    y = first + ROW * len(found.steps) + 8
    for text in notes(found, scale):
        for line in wrapped(text, (wide - 2 * MARGIN) / ROOMY, SIZE, most=4):
            drawing.add(Text(MARGIN, y, line, SIZE, role="faint"))
            y += 15
    drawing.high = y
    return drawing


def scale_of(found: Along) -> float:
    """Pixels for a foot, so that the longest way is as wide as the tree."""
    feet = [Decimal(0)] * len(found.steps)
    stubs = [0] * len(found.steps)
    for number_of, step in enumerate(found.steps):
        before = (Decimal(0), 0) if step.before is None else (feet[step.before], stubs[step.before])
        feet[number_of] = before[0] + (step.feet or 0)
        stubs[number_of] = before[1] + (not step.feet)
    room = max(TREE - STUB * max(stubs), TREE / 3)
    return room / float(max(feet)) if max(feet) else 0.0


def long(step: Step, scale: float) -> float:
    """How long a step is drawn, pixels."""
    return float(step.feet) * scale if step.feet else STUB


def start_of(step: Step, ends: list[float]) -> float:
    """How far from the panel a step begins, pixels."""
    return 0.0 if step.before is None else ends[step.before]


def draw_step(drawing: Drawing, found: Along, number_of: int, ends: list[float], first: float) -> None:
    """A run: down from where it begins, then along to its place."""
    step = found.steps[number_of]
    zero = MARGIN + PANEL / 2
    start, end = zero + start_of(step, ends), zero + ends[number_of]
    y = first + ROW * number_of
    above = first - ROW + 8 + PANEL if step.before is None else first + ROW * step.before
    thick = 3.0 if step.is_on_the_way else 1.3
    role = "ink" if step.is_on_the_way else "faint"
    is_dashed = not step.feet or step.skipped > 0 or step.is_again
    drawing.add(Line(((start, above), (start, y)), role, thick), Line(((start, y), (end, y)), role, thick, is_dashed))
    if step.is_farthest:
        drawing.add(Dot(end, y, 6, "advice" if found.is_over else "passes", "diamond"))
    else:
        drawing.add(Dot(end, y, 3, role, filled=not step.is_again))


def cells_of(step: Step) -> tuple[str, ...]:
    """What stands in the columns of a row."""
    name = f"{step.place} again" if step.is_again else step.place
    return (name, step.by, step.load, step.carries, step.ampacity, step.lost_text)


def notes(found: Along, scale: float) -> list[str]:
    """The lines below the tree."""
    to_scale = "Lengths are to scale" if scale else "No length is written"
    dashed = any(not step.feet or step.skipped or step.is_again for step in found.steps)
    again = " or what comes to a place again" if any(step.is_again for step in found.steps) else ""
    return [*found.sums, f"{to_scale}; dashed: not to scale{again}." if dashed and scale else f"{to_scale}."]


def described(found: Along, cells: list[list[str]]) -> str:
    """The picture in words, the farthest place first."""
    rows = [f"{place}: {', '.join(filter(None, rest))}" for place, *rest in cells]
    return " ".join([f"{found.name} from {found.source} outward.", *found.sums, f"{'; '.join(rows)}."])
