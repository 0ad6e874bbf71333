"""Conductors as a cross-section draws them: circles to scale in the colors of their insulation, in a raceway or in a
wireway, and the lines that tell what each is.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from ampleroom.arithmetic import Unit
from ampleroom.facts import Assumption
from ampleroom.job.cables import makeup
from ampleroom.pictures.drawing import Dot, Drawing, Rect, Text, shortened, wrapped
from ampleroom.pictures.packing import Packed
from ampleroom.quantities import HUNDREDTH, count, inches, number
from ampleroom.rules.raceway.filled import Lying
from ampleroom.words import BEST_CASE, WORST_CASE

MARGIN = 14.0
WORDS = 300.0
"""Room for the words beside a cross-section."""
STEP = 15.0
SWATCH = 5.0
MOST_DRAWN = 300
"""More conductors than this are not drawn one by one."""
TOO_MANY = f"More than {MOST_DRAWN} conductors are not drawn one by one."
GAP = 6.0


def can_be_drawn(lying: Sequence[Lying]) -> bool:
    """Whether there are any, and nobody has to guess how many or how thick."""
    return bool(lying) and all(each.count.is_finite() and each.diameter.is_finite() for each in lying)


def case_text(assumption: Assumption) -> str:
    """Worst or best case, where something unknown was assumed; empty where all is known."""
    return "" if not assumption.needed else WORST_CASE if assumption.at_worst else BEST_CASE


def one_by_one(lying: Sequence[Lying]) -> list[Lying]:
    """Each conductor by itself; one whose thickness nobody knows is not drawn."""
    return [each for each in lying if each.diameter for _ in range(int(each.count))]


def radii(conductors: Sequence[Lying]) -> list[float]:
    """Of each conductor, inches."""
    return [float(each.diameter) / 2 for each in conductors]


def draw_title(drawing: Drawing, name: str) -> None:
    """The name of what is cut across, above it."""
    title = shortened(f"{name}, cut across", drawing.wide - 2 * MARGIN, 16, True)
    drawing.add(Text(MARGIN, 22, title, 16, bold=True))


def draw_laid(
    drawing: Drawing, conductors: Sequence[Lying], laid: Packed, middle: tuple[float, float], scale: float
) -> None:
    """Draws every conductor that found room, around the middle; ``scale``: pixels for an inch."""
    x, y = middle
    for circle in laid.inside:
        draw_one(drawing, conductors[circle.place], x + circle.x * scale, y + circle.y * scale, circle.radius * scale)


def draw_outside(
    drawing: Drawing, conductors: Sequence[Lying], laid: Packed, wide: float, bottom: float, scale: float
) -> float:
    """Draws below what found no room, in rows of a width; the lowest edge."""
    if not laid.outside:
        return bottom
    text = f"No room found for {count(Decimal(len(laid.outside)))} of them:"
    drawing.add(Text(MARGIN, bottom + 18, text, 11, bold=True, role="fails"))
    bottom += 26
    left, high = MARGIN, 0.0
    for place in laid.outside:
        radius = float(conductors[place].diameter) / 2 * scale
        if left > MARGIN and left + 2 * radius > MARGIN + wide:
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


def draw_words(drawing: Drawing, headings: Sequence[str], lying: Sequence[Lying], x: float, y: float) -> float:
    """The words beside a cross-section: its headings, and every line of what lies in it; the lowest edge."""
    for text in headings:
        for line in wrapped(text, WORDS, 11.5):
            drawing.add(Text(x, y, line, 11.5))
            y += STEP
    for each in lying:
        color = each.colors[0] if each.colors else ""
        drawing.add(Dot(x + SWATCH, y - 4, SWATCH, role_of(each), color=color))
        for place, line in enumerate(wrapped(lying_text(each), WORDS - 3 * SWATCH, 11.5, True)):
            drawing.add(Text(x + 3 * SWATCH, y, line, 11.5, bold=place == 0))
            y += STEP
    return y


def lying_text(lying: Lying) -> str:
    """``3 x #6 thhn: 0.0507 in2 each``."""
    each = f"{Unit.IN2.amount(lying.area)} each" if lying.diameter else "thickness not known, not drawn"
    colors = " ".join(color for color in lying.colors if color not in lying.label)
    return f"{count(lying.count)} x {lying.label}{' ' + colors if colors else ''}: {each}"


def describe(name: str, headings: Sequence[str], lying: Sequence[Lying]) -> str:
    """A cross-section in words."""
    lines = "; ".join(map(lying_text, lying))
    return f"{name} cut across. {'. '.join(text.rstrip(':.') for text in headings)}. In it: {lines}."


def part_text(needed: Decimal, whole: Decimal, of_what: str) -> str:
    """``Conductors 0.1958 in2, 22.66 % of the bore``; areas in in2."""
    part = (needed * 100 / whole).quantize(HUNDREDTH)
    return f"Conductors {Unit.IN2.amount(needed)}, {number(part)} % of {of_what}"
