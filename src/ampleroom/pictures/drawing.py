"""A drawing before it is SVG or DXF: shapes by role, not by color, so that light, dark and print differ only in a palette.

Lengths in pixels, y downward.
"""

from __future__ import annotations

from dataclasses import dataclass, field

ROLES = (
    *("room", "spare", "over", "ink", "faint", "passes", "open", "fails"),
    *("conductors", "fixture", "signal", "clamps", "fittings", "devices", "grounds", "blocks"),
)
"""What a shape stands for; a palette gives each a color, a pattern sets those apart that stand side by side."""


@dataclass(frozen=True, slots=True)
class Rect:
    x: float
    y: float
    wide: float
    high: float
    role: str
    hatched: bool = False
    dashed: bool = False
    outlined: bool = True
    filled: bool = True
    rounded: float = 0
    note: str = ""
    """A tooltip."""


@dataclass(frozen=True, slots=True)
class Line:
    points: tuple[tuple[float, float], ...]
    role: str = "ink"
    thick: float = 1
    dashed: bool = False
    color: str = ""
    """The color of an insulation, by name, instead of a role."""
    curved: bool = False
    """Two ends joined by a curve that leaves and arrives level."""


@dataclass(frozen=True, slots=True)
class Dot:
    x: float
    y: float
    radius: float
    role: str = "ink"
    color: str = ""
    shape: str = "circle"
    """circle, diamond, square: a verdict is told by its shape too."""
    filled: bool = True


@dataclass(frozen=True, slots=True)
class Text:
    x: float
    y: float
    text: str
    size: float = 12
    anchor: str = "start"
    bold: bool = False
    role: str = "ink"
    italic: bool = False


Shape = Rect | Line | Dot | Text


@dataclass(slots=True)
class Drawing:
    """Shapes on a page of a size, with a title and a description for those who do not see it."""

    wide: float
    high: float
    title: str
    description: str
    shapes: list[Shape] = field(default_factory=list)

    def add(self, *shapes: Shape) -> None:
        self.shapes.extend(shapes)

    def put(self, other: Drawing, x: float, y: float) -> None:
        """Another drawing's shapes, moved."""
        for shape in other.shapes:
            self.shapes.append(moved(shape, x, y))


def moved(shape: Shape, x: float, y: float) -> Shape:
    from dataclasses import replace

    if isinstance(shape, Line):
        return replace(shape, points=tuple((px + x, py + y) for px, py in shape.points))
    return replace(shape, x=shape.x + x, y=shape.y + y)


WIDTHS = {**dict.fromkeys("iljI.,:;'|!", 0.28), **dict.fromkeys("frt()[]-/ ", 0.36), **dict.fromkeys("mwMW@%", 0.88)}


def text_width(text: str, size: float, bold: bool = False) -> float:
    """About how wide a text is in a plain sans-serif face."""
    em = sum(WIDTHS.get(letter, 0.68 if letter.isupper() else 0.56 if ord(letter) < 0x2000 else 1.0) for letter in text)
    return em * size * (1.06 if bold else 1.0)


def shortened(text: str, room: float, size: float, bold: bool = False) -> str:
    """A text that fits into a width, cut with an ellipsis where it must be."""
    text = "".join(letter if letter.isprintable() else "·" for letter in text)
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
