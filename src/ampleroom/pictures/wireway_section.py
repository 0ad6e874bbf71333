"""A wireway or an auxiliary gutter cut across: its section, every conductor in it to the same scale, and two areas in
its upper corner: what the conductors take, shaded, and the most they may fill, dashed.

A heap of round wires is higher than its area says, air between them. So the areas to compare are drawn as areas, each
with the proportions of the section.
"""

from __future__ import annotations

from decimal import Decimal
from math import sqrt

from ampleroom.arithmetic import Unit
from ampleroom.editions import CodeBook
from ampleroom.facts import Assumption
from ampleroom.job.model import Job
from ampleroom.job.unknown import UNKNOWN
from ampleroom.pictures.drawing import Drawing, Line, Rect
from ampleroom.pictures.lying import (
    MARGIN,
    MOST_DRAWN,
    TOO_MANY,
    WORDS,
    can_be_drawn,
    case_text,
    describe,
    draw_laid,
    draw_outside,
    draw_title,
    draw_words,
    one_by_one,
    part_text,
    radii,
)
from ampleroom.pictures.packing import Packed, SquareWall, packed
from ampleroom.quantities import inches
from ampleroom.record import TupleRecord
from ampleroom.rules.raceway.filled import Lying
from ampleroom.rules.raceway.limit import conductors_in
from ampleroom.rules.wireway import fill, splices
from ampleroom.rules.wireway.filled import ENDS, FilledWireway, filled, wireways_of
from ampleroom.words import capital

LONGER_SIDE = 220.0
"""How long the longer side is drawn, pixels, whatever its measure."""


class Cut(TupleRecord):
    """What is drawn of a wireway or gutter: what lies in it, its sides in inches, its area and the most that may be
    filled, in2.
    """

    holds: FilledWireway
    sides: tuple[Decimal, Decimal]
    """How wide and how high it is drawn: as its line writes them."""
    limit: Decimal | None
    """None where nothing is judged: a nonmetallic one."""
    spliced: Decimal | None
    """The most that conductors and splices may fill together; None where there are none or nobody knows."""
    case: str
    """Worst or best case, where facts are unknown."""

    @property
    def lying(self) -> list[Lying]:
        """What lies in it; what there is none of left out."""
        return [each for each in self.holds.lying if each.count]

    @property
    def area(self) -> Decimal:
        """Of its section, in2."""
        return self.sides[0] * self.sides[1]

    @property
    def scale(self) -> float:
        """Pixels for an inch."""
        return LONGER_SIDE / float(max(self.sides))

    def proportioned(self, area: Decimal) -> tuple[float, float]:
        """Width and height in pixels of a rectangle of that area and the proportions of the section, no larger than
        the section.
        """
        part = min(sqrt(float(area / self.area)), 1.0)
        return float(self.sides[0]) * part * self.scale, float(self.sides[1]) * part * self.scale


def wireway_section(job: Job, name: str, book: CodeBook, title: bool = True) -> Drawing | None:
    """The wireway or gutter of that name cut across; ``title``: its name above. None where its sides are not known, or
    nothing known lies in it.
    """
    cut = cut_of(job, name, book)
    return None if cut is None else drawn(cut, title)


def cut_of(job: Job, name: str, book: CodeBook) -> Cut | None:
    """What to draw of a wireway or gutter: the worst case where it can be drawn, else the best."""
    wireways = (each for form in ("wireway", "gutter") for each in wireways_of(job, form))
    subject = next((each for each in wireways if each.name == name), None)
    if subject is None:
        return None
    wide, high = subject.wireway.inside
    if wide is UNKNOWN or high is UNKNOWN:
        return None
    for at_worst in (True, False):
        assumption = Assumption(ENDS, at_worst)
        holds = filled(subject, book, assumption)
        if not can_be_drawn([each for each in holds.lying if each.count]):
            continue
        limit = spliced = None
        if holds.is_judged:
            limit = holds.area * book[fill.GUTTER if holds.is_gutter else fill.WIREWAY].percent / 100
            if holds.splices and holds.splices.is_finite():
                spliced = holds.area * book[splices.GUTTER if holds.is_gutter else splices.WIREWAY].percent / 100
        return Cut(holds, (wide, high), limit, spliced, case_text(assumption))
    return None


def drawn(cut: Cut, title: bool) -> Drawing:
    """The cut as a drawing."""
    top = 34.0 if title else 6.0
    wide, high = (float(side) * cut.scale for side in cut.sides)
    words = headings(cut)
    name = cut.holds.name
    drawing = Drawing(LONGER_SIDE + WORDS + 3 * MARGIN, 0, f"{name} cut across", describe(name, words, cut.lying))
    if title:
        draw_title(drawing, name)
    drawing.add(Rect(MARGIN, top, wide, high, "room", note=section_text(cut)))
    shaded = cut.proportioned(cut.holds.conductors_area)
    is_over = cut.limit is not None and cut.holds.conductors_area > cut.limit
    note = part_text(cut.holds.conductors_area, cut.area, "the section")
    drawing.add(Rect(MARGIN, top, *shaded, "conductors", hatched=is_over, note=note))
    bottom = top + high
    if conductors_in(each.piece for each in cut.lying) <= MOST_DRAWN:
        conductors, laid = one_by_one(cut.lying), placed(cut)
        draw_laid(drawing, conductors, laid, (MARGIN + wide / 2, top + high / 2), cut.scale)
        bottom = draw_outside(drawing, conductors, laid, LONGER_SIDE, bottom, cut.scale)
    if cut.limit is not None:
        drawing.add(frame(MARGIN, top, *cut.proportioned(cut.limit)))
    drawing.high = max(bottom, draw_words(drawing, words, cut.lying, LONGER_SIDE + 2 * MARGIN, top + 8)) + 8
    return drawing


def frame(x: float, y: float, wide: float, high: float) -> Line:
    """The dashed edge of a rectangle."""
    corners = ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high), (x, y))
    return Line(corners, "ink", 2, dashed=True)


def placed(cut: Cut) -> Packed:
    """Where each conductor lies, in inches from the middle of the section."""
    wide, high = cut.sides
    return packed(SquareWall(float(wide) / 2, float(high) / 2), radii(one_by_one(cut.lying)))


# ---- words ---------------------------------------------------------------------------------------------------------


def headings(cut: Cut) -> list[str]:
    """The section, the limit and the fill, in words."""
    lines = [capital(cut.case) + ":"] if cut.case else []
    lines.append(section_text(cut))
    if cut.limit is not None:
        lines.append(limit_text(cut))
    lines.append("Shaded: " + part_text(cut.holds.conductors_area, cut.area, "the section").lower())
    if cut.spliced is not None and cut.holds.splices is not None:
        taken = Unit.IN2.amount(cut.holds.conductors_area + cut.holds.splices)
        lines.append(f"With splices and taps, not drawn: {taken} of {Unit.IN2.amount(cut.spliced)}")
    if conductors_in(each.piece for each in cut.lying) > MOST_DRAWN:
        lines.append(TOO_MANY)
    return lines


def section_text(cut: Cut) -> str:
    """``Inside 4 in. x 4 in., 16.0000 in2``."""
    wide, high = cut.sides
    return f"Inside {inches(wide)} x {inches(high)}, {Unit.IN2.amount(cut.area)}"


def limit_text(cut: Cut) -> str:
    """``Dashed: 3.2000 in2 may be filled``."""
    assert cut.limit is not None
    return f"Dashed: {Unit.IN2.amount(cut.limit)} may be filled"


__all__ = ["Cut", "cut_of", "placed", "wireway_section"]
