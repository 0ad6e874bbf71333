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
from ampleroom.job.cables import makeup
from ampleroom.job.model import Job
from ampleroom.job.unknown import UNKNOWN
from ampleroom.pictures.drawing import Dot, Drawing, Rect, Text, shortened, wrapped
from ampleroom.pictures.packing import Packed, packed
from ampleroom.quantities import HUNDREDTH, count, inches, number
from ampleroom.record import TupleRecord
from ampleroom.rules.raceway.fill import fill_worksheet
from ampleroom.rules.raceway.filled import ENDS, FilledRaceway, Lying, filled, raceways_of
from ampleroom.rules.raceway.flexible import is_whip
from ampleroom.rules.raceway.limit import area_in, conductors_in
from ampleroom.words import BEST_CASE, WORST_CASE, capital

BORE = 220.0
"""How wide the bore is drawn, pixels, whatever its trade size."""
MARGIN = 14.0
WORDS = 300.0
"""Room for the words beside it."""
STEP = 15.0
SWATCH = 5.0
MOST_DRAWN = 300
"""More conductors than this are not drawn one by one."""
GAP = 6.0


class Cut(TupleRecord):
    """What is drawn of a raceway: what lies in it, its bore, and the most that may be filled, in2."""

    holds: FilledRaceway
    row: Bore
    limit: Decimal | None
    """None where no area decides: a sleeve, or the narrowest flexible conduit, which goes by a count."""
    case: str
    """Worst or best case, where facts are unknown."""

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
        lying = [each for each in holds.lying if each.count]
        if (
            holds.row is None
            or not lying
            or not all(each.count.is_finite() and each.diameter.is_finite() for each in lying)
        ):
            continue
        case = "" if not assumption.needed else WORST_CASE if at_worst else BEST_CASE
        limit = None
        if not holds.is_sleeve and not is_whip(holds):
            limit = fill_worksheet(holds, holds.row, book)[0].there
        return Cut(holds, holds.row, limit, case)
    return None


def drawn(cut: Cut, title: bool) -> Drawing:
    """The cut as a drawing."""
    top = 34.0 if title else 6.0
    radius = BORE / 2
    x, y = MARGIN + radius, top + radius
    drawing = Drawing(BORE + WORDS + 3 * MARGIN, 0, f"{cut.holds.name} cut across", describe(cut))
    if title:
        drawing.add(
            Text(
                MARGIN,
                22,
                shortened(f"{cut.holds.name}, cut across", drawing.wide - 2 * MARGIN, 16, True),
                16,
                bold=True,
            )
        )
    drawing.add(Dot(x, y, radius, "room", note=bore_text(cut.row)))
    bottom = top + BORE
    if conductors_in(cut.holds.pieces) <= MOST_DRAWN:
        bottom = draw_conductors(drawing, cut, x, y)
    if cut.limit is not None:
        dashed = min(sqrt(float(cut.limit) / pi) * cut.scale, radius)
        drawing.add(Dot(x, y, dashed, "ink", filled=False, dashed=True, note=limit_text(cut)))
    drawing.high = max(bottom, draw_words(drawing, cut, top)) + 8
    return drawing


def one_by_one(cut: Cut) -> list[Lying]:
    """Each conductor by itself; one whose thickness nobody knows is not drawn."""
    return [each for each in cut.holds.lying if each.diameter for _ in range(int(each.count))]


def placed(cut: Cut) -> Packed:
    """Where each conductor lies, in inches from the middle of the bore."""
    return packed(float(cut.row.diameter) / 2, [float(each.diameter) / 2 for each in one_by_one(cut)])


def draw_conductors(drawing: Drawing, cut: Cut, x: float, y: float) -> float:
    """Draws every conductor around the middle of the bore, and below the bore those that found no room; the lowest
    edge.
    """
    conductors, scale = one_by_one(cut), cut.scale
    laid = placed(cut)
    for circle in laid.inside:
        draw_one(drawing, conductors[circle.place], x + circle.x * scale, y + circle.y * scale, circle.radius * scale)
    bottom = y + BORE / 2
    if not laid.outside:
        return bottom
    drawing.add(
        Text(
            MARGIN,
            bottom + 18,
            f"No room found for {count(Decimal(len(laid.outside)))} of them:",
            11,
            bold=True,
            role="fails",
        )
    )
    bottom += 26
    left, high = MARGIN, 0.0
    for place in laid.outside:
        radius = float(conductors[place].diameter) / 2 * scale
        if left > MARGIN and left + 2 * radius > MARGIN + BORE:
            left, bottom, high = MARGIN, bottom + high + GAP, 0.0
        draw_one(drawing, conductors[place], left + radius, bottom + radius, radius)
        left += 2 * radius + GAP
        high = max(high, 2 * radius)
    return bottom + high


def draw_one(drawing: Drawing, lying: Lying, x: float, y: float, radius: float) -> None:
    """Draws one conductor in the color of its insulation; a flat cable with its own shape in the circle it counts
    as.
    """
    color = lying.colors[0] if lying.colors else ""
    thin = thickness(lying)
    drawing.add(
        Dot(
            x, y, radius, role_of(lying), color=color, dashed=thin is not None, filled=thin is None, note=note_of(lying)
        )
    )
    if thin is not None:
        high = 2 * radius * thin
        drawing.add(
            Rect(x - radius, y - high / 2, 2 * radius, high, role_of(lying), rounded=high / 2, note=note_of(lying))
        )


def thickness(lying: Lying) -> float | None:
    """Of a flat cable whose data sheet was seen, its thin side over its wide one; None of anything else."""
    if not lying.is_cable or lying.run.cable is None or lying.run.width is not None:
        return None
    found = makeup(lying.run.cable._replace(size=lying.size))
    if found is None or found.width is None or found.height is None or found.width == found.height:
        return None
    return float(min(found.width, found.height) / max(found.width, found.height))


def role_of(lying: Lying) -> str:
    """What it is drawn as where the sheet names no color."""
    return "grounds" if lying.is_ground else "conductors"


def note_of(lying: Lying) -> str:
    """``#6 thhn black, 0.254 in. across``."""
    colors = " ".join(color for color in lying.colors if color not in lying.label)
    return f"{lying.label}{' ' + colors if colors else ''}, {inches(lying.diameter)} across"


# ---- words ---------------------------------------------------------------------------------------------------------


def draw_words(drawing: Drawing, cut: Cut, top: float) -> float:
    """The words beside the cut: bore, limit, fill, and every line of what lies in it; the lowest edge."""
    x, y = BORE + 2 * MARGIN, top + 8
    for text in headings(cut):
        for line in wrapped(text, WORDS, 11.5):
            drawing.add(Text(x, y, line, 11.5))
            y += STEP
    for lying in cut.holds.lying:
        if not lying.count:
            continue
        color = lying.colors[0] if lying.colors else ""
        drawing.add(Dot(x + SWATCH, y - 4, SWATCH, role_of(lying), color=color))
        for place, line in enumerate(wrapped(lying_text(lying), WORDS - 3 * SWATCH, 11.5, True)):
            drawing.add(Text(x + 3 * SWATCH, y, line, 11.5, bold=place == 0))
            y += STEP
    return y


def headings(cut: Cut) -> list[str]:
    """The bore, the limit and the fill, in words."""
    said = [capital(cut.case) + ":"] if cut.case else []
    said.append(bore_text(cut.row))
    if cut.limit is not None:
        said.append(limit_text(cut))
    said.append(fill_text(cut))
    if conductors_in(cut.holds.pieces) > MOST_DRAWN:
        said.append(f"More than {MOST_DRAWN} conductors are not drawn one by one.")
    return said


def bore_text(row: Bore) -> str:
    """``Bore 1.049 in. across, 0.8640 in2``."""
    return f"Bore {inches(row.diameter)} across, {Unit.IN2.amount(row.area)}"


def limit_text(cut: Cut) -> str:
    """``Dashed circle: 0.3460 in2 may be filled``."""
    assert cut.limit is not None
    return f"Dashed circle: {Unit.IN2.amount(cut.limit)} may be filled"


def fill_text(cut: Cut) -> str:
    """``Conductors 0.1958 in2, 22.66 % of the bore``."""
    part = (cut.needed * 100 / cut.row.area).quantize(HUNDREDTH)
    return f"Conductors {Unit.IN2.amount(cut.needed)}, {number(part)} % of the bore"


def lying_text(lying: Lying) -> str:
    """``3 x #6 thhn: 0.0507 in2 each``."""
    each = f"{Unit.IN2.amount(lying.area)} each" if lying.diameter else "thickness not known, not drawn"
    colors = " ".join(color for color in lying.colors if color not in lying.label)
    return f"{count(lying.count)} x {lying.label}{' ' + colors if colors else ''}: {each}"


def describe(cut: Cut) -> str:
    """The picture in words."""
    lying = "; ".join(lying_text(each) for each in cut.holds.lying if each.count)
    return f"{cut.holds.name} cut across. {'. '.join(text.rstrip(':.') for text in headings(cut))}. In it: {lying}."


__all__ = ["Cut", "cross_section", "cut_of", "placed"]
