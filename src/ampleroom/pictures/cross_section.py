"""A raceway cut across: its bore, every conductor in it to the same scale, and the most that may be filled as a dashed
circle.

The conductors lie where they find room, the lowest place first; no sheet says where each one lies. A cable is drawn by
the circle it counts as, a flat one with its own shape inside. What finds no room stands below the bore.
"""

from __future__ import annotations

from decimal import Decimal
from math import pi, sqrt

from ampleroom.arithmetic import Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import Bore
from ampleroom.facts import Assumption
from ampleroom.job.model import Job
from ampleroom.job.unknown import UNKNOWN
from ampleroom.pictures.drawing import Dot, Drawing
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
from ampleroom.pictures.packing import Packed, RoundWall, packed
from ampleroom.quantities import inches
from ampleroom.record import TupleRecord
from ampleroom.rules.raceway.fill import fill_worksheet
from ampleroom.rules.raceway.filled import ENDS, FilledRaceway, Lying, filled, raceways_of
from ampleroom.rules.raceway.flexible import is_whip
from ampleroom.rules.raceway.limit import area_in, conductors_in
from ampleroom.words import capital

BORE = 220.0
"""How wide the bore is drawn, pixels, whatever its trade size."""


class Cut(TupleRecord):
    """What is drawn of a raceway: what lies in it, its bore, and the most that may be filled, in2."""

    holds: FilledRaceway
    row: Bore
    limit: Decimal | None
    """None where no area decides: a sleeve, or the narrowest flexible conduit, which goes by a count."""
    case: str
    """Worst or best case, where facts are unknown."""

    @property
    def lying(self) -> list[Lying]:
        """What lies in it; what there is none of left out."""
        return [each for each in self.holds.lying if each.count]

    @property
    def scale(self) -> float:
        """Pixels for an inch."""
        return BORE / float(self.row.diameter)

    @property
    def needed(self) -> Decimal:
        """What the conductors take, in2."""
        return area_in(self.holds.pieces)


def cross_section(job: Job, name: str, book: CodeBook, title: bool = True) -> Drawing | None:
    """The raceway of that name cut across; ``title``: its name above. None where there is no bore to draw, or nothing
    known lies in it.
    """
    cut = cut_of(job, name, book)
    return None if cut is None else drawn(cut, title)


def cut_of(job: Job, name: str, book: CodeBook) -> Cut | None:
    """What to draw of a raceway: the worst case where it can be drawn, else the best."""
    subject = next((each for each in raceways_of(job) if each.name == name), None)
    if subject is None or subject.raceway.size is UNKNOWN:
        return None
    for at_worst in (True, False):
        assumption = Assumption(ENDS, at_worst)
        holds = filled(subject, book, assumption)
        if holds.row is None or not can_be_drawn([each for each in holds.lying if each.count]):
            continue
        limit = None
        if not holds.is_sleeve and not is_whip(holds):
            limit = fill_worksheet(holds, holds.row, book)[0].there
        return Cut(holds, holds.row, limit, case_text(assumption))
    return None


def drawn(cut: Cut, title: bool) -> Drawing:
    """The cut as a drawing."""
    top = 34.0 if title else 6.0
    radius = BORE / 2
    middle = x, y = MARGIN + radius, top + radius
    words = headings(cut)
    name = cut.holds.name
    drawing = Drawing(BORE + WORDS + 3 * MARGIN, 0, f"{name} cut across", describe(name, words, cut.lying))
    if title:
        draw_title(drawing, name)
    drawing.add(Dot(x, y, radius, "room", note=bore_text(cut.row)))
    bottom = top + BORE
    if conductors_in(cut.holds.pieces) <= MOST_DRAWN:
        conductors, laid = one_by_one(cut.lying), placed(cut)
        draw_laid(drawing, conductors, laid, middle, cut.scale)
        bottom = draw_outside(drawing, conductors, laid, BORE, bottom, cut.scale)
    if cut.limit is not None:
        dashed = min(sqrt(float(cut.limit) / pi) * cut.scale, radius)
        drawing.add(Dot(x, y, dashed, "ink", filled=False, dashed=True, note=limit_text(cut)))
    drawing.high = max(bottom, draw_words(drawing, words, cut.lying, BORE + 2 * MARGIN, top + 8)) + 8
    return drawing


def placed(cut: Cut) -> Packed:
    """Where each conductor lies, in inches from the middle of the bore."""
    return packed(RoundWall(float(cut.row.diameter) / 2), radii(one_by_one(cut.lying)))


# ---- words ---------------------------------------------------------------------------------------------------------


def headings(cut: Cut) -> list[str]:
    """The bore, the limit and the fill, in words."""
    lines = [capital(cut.case) + ":"] if cut.case else []
    lines.append(bore_text(cut.row))
    if cut.limit is not None:
        lines.append(limit_text(cut))
    lines.append(part_text(cut.needed, cut.row.area, "the bore"))
    if conductors_in(cut.holds.pieces) > MOST_DRAWN:
        lines.append(TOO_MANY)
    return lines


def bore_text(row: Bore) -> str:
    """``Bore 1.049 in. across, 0.8640 in2``."""
    return f"Bore {inches(row.diameter)} across, {Unit.IN2.amount(row.area)}"


def limit_text(cut: Cut) -> str:
    """``Dashed circle: 0.3460 in2 may be filled``."""
    assert cut.limit is not None
    return f"Dashed circle: {Unit.IN2.amount(cut.limit)} may be filled"


__all__ = ["Cut", "cross_section", "cut_of", "placed"]
