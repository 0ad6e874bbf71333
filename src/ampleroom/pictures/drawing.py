"""A drawing before it is SVG or DXF: shapes by role, not by color, so that light, dark and print differ only in a
palette.

Lengths in pixels, y downward.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from ampleroom.record import Record, replace

ROLES = (
    *("room", "spare", "over", "ink", "faint", "passes", "advice", "open", "fails"),
    *("conductors", "fixture", "signal", "clamps", "fittings", "devices", "grounds", "blocks"),
    *("circuit-1", "circuit-2", "circuit-3"),
)
"""What a shape stands for; a palette gives each a color, a pattern sets those apart that stand side by side."""


class Rect(Record):
    """A rectangle: left, top, width and height in points."""

    x: float
    y: float
    wide: float
    high: float
    role: str
    hatched: bool = False
    dashed: bool = False
    rounded: float = 0
    note: str = ""
    """A tooltip."""


class Line(Record):
    """A line through points, thickness in points."""

    points: tuple[tuple[float, float], ...]
    role: str = "ink"
    thick: float = 1
    dashed: bool = False
    color: str = ""
    """The color of an insulation, by name, instead of a role."""
    curved: bool = False
    """Two ends joined by a curve that leaves and arrives level."""


class Dot(Record):
    """A mark around a point, its radius in points."""

    x: float
    y: float
    radius: float
    role: str = "ink"
    shape: str = "circle"
    """circle, triangle, diamond, square: a verdict is told by its shape too."""
    filled: bool = True
    color: str = ""
    """The color of an insulation, by name, instead of a role."""
    dashed: bool = False
    note: str = ""
    """A tooltip."""


class Text(Record):
    """A line of text at a point, its size in points."""

    x: float
    y: float
    text: str
    size: float = 12
    anchor: str = "start"
    bold: bool = False
    role: str = "ink"


Shape = Rect | Line | Dot | Text


class Drawing:
    """Shapes on a page of a size, with a title and a description for those who do not see it. Grows as it is drawn."""

    __slots__ = ("description", "high", "shapes", "title", "wide")

    def __init__(self, wide: float, high: float, title: str, description: str, shapes: Iterable[Shape] = ()) -> None:
        self.wide = wide
        self.high = high
        self.title = title
        self.description = description
        self.shapes = list(shapes)

    def add(self, *shapes: Shape) -> None:
        """Adds shapes on top."""
        self.shapes.extend(shapes)

    def put(self, other: Drawing, x: float, y: float) -> None:
        """Another drawing's shapes, moved."""
        for shape in other.shapes:
            self.shapes.append(moved(shape, x, y))


def moved(shape: Shape, x: float, y: float) -> Shape:
    """The shape moved so many points right and down."""
    if isinstance(shape, Line):
        return replace(shape, points=tuple((px + x, py + y) for px, py in shape.points))
    return replace(shape, x=shape.x + x, y=shape.y + y)


WIDTHS = {
    letter: width
    for width, letters in (
        (0.191, "'"),
        (0.222, "ijl"),
        (0.26, "|"),
        (0.278, " !,./:;I[\\]ft"),
        (0.333, "()-`r·"),
        (0.334, "{}"),
        (0.355, '"'),
        (0.389, "*"),
        (0.469, "^"),
        (0.5, "Jcksvxyz"),
        (0.584, "+<=>~"),
        (0.611, "FTZ"),
        (0.667, "&ABEKPSVXY"),
        (0.722, "CDHNRUw"),
        (0.778, "GOQ"),
        (0.833, "Mm"),
        (0.889, "%"),
        (0.944, "W"),
        (1.0, "…"),
        (1.015, "@"),
    )
    for letter in letters
}
"""How wide a letter is, in its size, where it is not as wide as a digit."""
DIGIT = 0.556
UNKNOWN_LETTER = 1.0
SAME_WHEN_BOLD = frozenset("0123456789 #$ae,.-/\\=+<>~…()*%@_|CDEFGHIMNOPQRSTUVWXYZ")
BOLD = 0.056
"""How much wider nearly every other letter is when bold."""


@lru_cache(maxsize=8192)
def text_width(text: str, size: float, bold: bool = False) -> float:
    """How wide a text is in a plain sans-serif face, in pixels."""
    em = sum(WIDTHS.get(letter, DIGIT if letter < "\u0250" else UNKNOWN_LETTER) for letter in text)
    if bold:
        em += BOLD * sum(letter not in SAME_WHEN_BOLD for letter in text)
    return em * size


def printable(text: str) -> str:
    """A text with a dot for every letter that would move or hide others: control and direction marks, line ends."""
    return text if text.isprintable() else "".join(letter if letter.isprintable() else "·" for letter in text)


def shortened(text: str, room: float, size: float, bold: bool = False) -> str:
    """A text that fits into a width, cut with an ellipsis where it must be."""
    text = printable(text)
    if text_width(text, size, bold) <= room:
        return text
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        if text_width(text[:middle].rstrip() + "…", size, bold) <= room:
            low = middle
        else:
            high = middle - 1
    return text[:low].rstrip() + "…" if low else ""


def wrapped(text: str, room: float, size: float, bold: bool = False, most: int = 3) -> list[str]:
    """A text in lines that fit into a width; the last is cut where there would be more than ``most``."""
    lines: list[str] = []
    words = text.split()
    while words and len(lines) < most:
        line = words.pop(0)
        while words and text_width(f"{line} {words[0]}", size, bold) <= room:
            line += " " + words.pop(0)
        lines.append(line)
    if words:
        lines[-1] += " " + " ".join(words)
    return [shortened(line, room, size, bold) for line in lines]
