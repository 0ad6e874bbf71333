"""A drawing as SVG, by the standard library. All text is escaped; nothing in a name can become markup or run."""

from __future__ import annotations

from functools import lru_cache
from xml.sax.saxutils import escape

from ampleroom.pictures.drawing import Dot, Drawing, Line, Rect, Shape, Text, printable
from ampleroom.pictures.palette import INSULATION, PATTERNS, THEMES, Palette
from ampleroom.words import printed

FONT = "'Liberation Sans', 'Helvetica', 'Arial', sans-serif"
UNKNOWN_INSULATION = "#888888"


def svg(drawing: Drawing, theme: str = "light", prefix: str = "", page: bool = True) -> str:
    """The drawing as an SVG document. ``auto`` follows the reader's light or dark setting.

    ``prefix`` keeps ids apart where several pictures stand on one page; ``page``: a background of its own.
    """
    prefix = prefix or "p"
    pen = Pen(prefix, None if theme == "auto" else THEMES[theme])
    out = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{n(drawing.wide)}" height="{n(drawing.high)}" '
        f'viewBox="0 0 {n(drawing.wide)} {n(drawing.high)}" role="img" aria-labelledby="{prefix}t {prefix}d" '
        f'font-family="{FONT}">',
        f'<title id="{prefix}t">{clean(drawing.title)}</title><desc id="{prefix}d">{clean(drawing.description)}</desc>',
        auto_style(prefix) if theme == "auto" else "",
        patterns(drawing, pen),
    ]
    if page:
        out.append(f'<rect {pen.fill("page")} width="100%" height="100%"/>')
    out += [shape_svg(shape, pen) for shape in drawing.shapes]
    out.append("</svg>")
    return "".join(out)


@lru_cache(maxsize=8192)
def n(value: float) -> str:
    """A number, short."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("", "-0") else text


def clean(text: str) -> str:
    """Text for XML as paper shows it: escaped, and without the control characters XML cannot hold."""
    return escape(printable(printed(text)))


# ---- color ---------------------------------------------------------------------------------------------------------


class Pen:
    """How a role is written on a shape: as a color of one theme, or as a class where a style sheet chooses the
    theme.
    """

    def __init__(self, prefix: str, palette: Palette | None) -> None:
        self.prefix = prefix
        self.palette = palette
        self.edge = self.stroke("ink")

    def fill(self, role: str) -> str:
        """The attribute that fills with a role's color."""
        return f'fill="{self.palette[role]}"' if self.palette else f'class="{self.prefix}f-{role}"'

    def stroke(self, role: str) -> str:
        """The attribute that draws an edge in a role's color."""
        return f'stroke="{self.palette[role]}"' if self.palette else f'class="{self.prefix}s-{role}"'

    def filled(self, role: str) -> str:
        """Filled, with an edge in ink."""
        if self.palette:
            return f'fill="{self.palette[role]}" {self.edge}'
        return f'class="{self.prefix}f-{role} {self.prefix}s-ink"'


@lru_cache(maxsize=64)
def auto_style(prefix: str) -> str:
    """Every role's color, by the reader's own setting, and on paper as for print."""
    light, dark, paper = (rules(THEMES[theme], prefix) for theme in ("light", "dark", "print"))
    return f"<style>{light}@media (prefers-color-scheme:dark){{{dark}}}@media print{{{paper}}}</style>"


def rules(palette: Palette, prefix: str) -> str:
    """Two classes a role: filled or written, and drawn as a line."""
    return "".join(
        f".{prefix}f-{role}{{fill:{color}}}.{prefix}s-{role}{{stroke:{color}}}" for role, color in palette.items()
    )


# ---- patterns ------------------------------------------------------------------------------------------------------


def patterns(drawing: Drawing, pen: Pen) -> str:
    """The patterns this drawing uses: one a kind of tile, and the hatching of what does not fit."""
    rects = [shape for shape in drawing.shapes if isinstance(shape, Rect)]
    used = sorted({PATTERNS[shape.role] for shape in rects if PATTERNS.get(shape.role)})
    if any(shape.hatched for shape in rects):
        used.append("over")
    return f"<defs>{''.join(pattern(name, pen) for name in used)}</defs>" if used else ""


MARKS = {
    "dots": (6, '<circle cx="3" cy="3" r="0.9" {fill} opacity="0.45"/>'),
    "rings": (10, '<circle cx="5" cy="5" r="2" {line} opacity="0.45"/>'),
    "upright": (5, '<path d="M2.5 0V5" {line} opacity="0.4"/>'),
    "crosses": (9, '<path d="M2 4.5H7M4.5 2V7" {line} opacity="0.45"/>'),
    "grid": (7, '<path d="M0 3.5H7M3.5 0V7" {line} opacity="0.3"/>'),
    "zigzag": (8, '<path d="M0 6L4 2L8 6" {line} opacity="0.4"/>'),
    "level": (5, '<path d="M0 2.5H5" {line} opacity="0.4"/>'),
    "over": (7, '<path d="M0 7L7 0M-1 1L1 -1M6 8L8 6" {line} stroke-width="2" opacity="0.85"/>'),
}


def pattern(name: str, pen: Pen) -> str:
    """An SVG pattern by its name."""
    size, mark = MARKS[name]
    drawn = mark.format(fill=pen.fill("ink"), line=f'fill="none" {pen.edge}')
    return (
        f'<pattern id="{pen.prefix}-{name}" width="{size}" height="{size}" '
        f'patternUnits="userSpaceOnUse">{drawn}</pattern>'
    )


# ---- shapes --------------------------------------------------------------------------------------------------------


def shape_svg(shape: Shape, pen: Pen) -> str:
    """One shape as SVG."""
    match shape:
        case Rect():
            return rect_svg(shape, pen)
        case Line():
            return line_svg(shape, pen)
        case Dot():
            return dot_svg(shape, pen)
        case Text():
            return text_svg(shape, pen)


def rect_svg(shape: Rect, pen: Pen) -> str:
    """A rectangle as SVG."""
    box = f'x="{n(shape.x)}" y="{n(shape.y)}" width="{n(max(shape.wide, 0))}" height="{n(max(shape.high, 0))}"'
    if shape.rounded:
        box += f' rx="{n(shape.rounded)}"'
    dash = ' stroke-dasharray="5 4"' if shape.dashed else ""
    inner = f"<title>{clean(shape.note)}</title>" if shape.note else ""
    out = f"<rect {box} {pen.filled(shape.role)}{dash}>{inner}</rect>"
    if mark := PATTERNS.get(shape.role):
        out += f'<rect {box} fill="url(#{pen.prefix}-{mark})"/>'
    if shape.hatched:
        out += f'<rect {box} fill="url(#{pen.prefix}-over)" {pen.edge} stroke-width="1.5"/>'
    return out


def line_svg(shape: Line, pen: Pen) -> str:
    """A line as SVG."""
    if shape.curved and len(shape.points) == 2:
        (x1, y1), (x2, y2) = shape.points
        bend = max(18.0, abs(x2 - x1) / 2)
        path = f"M{n(x1)} {n(y1)}C{n(x1 + bend)} {n(y1)} {n(x2 - bend)} {n(y2)} {n(x2)} {n(y2)}"
    else:
        path = "M" + "L".join(f"{n(x)} {n(y)}" for x, y in shape.points)
    dash = ' stroke-dasharray="6 4"' if shape.dashed else ""
    if not shape.color:
        return f'<path d="{path}" fill="none" {pen.stroke(shape.role)} stroke-width="{n(shape.thick)}"{dash}/>'
    color = INSULATION.get(shape.color, UNKNOWN_INSULATION)
    halo = f'<path d="{path}" fill="none" {pen.stroke("faint")} stroke-width="{n(shape.thick + 2)}"{dash}/>'
    return halo + f'<path d="{path}" fill="none" stroke="{color}" stroke-width="{n(shape.thick)}"{dash}/>'


def dot_svg(shape: Dot, pen: Pen) -> str:
    """A mark as SVG."""
    x, y, r = shape.x, shape.y, shape.radius
    look = pen.filled(shape.role) if shape.filled else f'fill="none" {pen.stroke(shape.role)} stroke-width="2"'
    if shape.color and shape.filled:
        look = f'fill="{INSULATION.get(shape.color, UNKNOWN_INSULATION)}" {pen.edge}'
    if shape.dashed:
        look += ' stroke-dasharray="5 4"'
    if shape.shape == "diamond":
        return f'<polygon points="{n(x)},{n(y - r)} {n(x + r)},{n(y)} {n(x)},{n(y + r)} {n(x - r)},{n(y)}" {look}/>'
    if shape.shape == "triangle":
        return f'<polygon points="{n(x)},{n(y - r)} {n(x + r)},{n(y + r)} {n(x - r)},{n(y + r)}" {look}/>'
    if shape.shape == "square":
        return f'<rect x="{n(x - r)}" y="{n(y - r)}" width="{n(2 * r)}" height="{n(2 * r)}" {look}/>'
    if shape.note:
        return f'<circle cx="{n(x)}" cy="{n(y)}" r="{n(r)}" {look}><title>{clean(shape.note)}</title></circle>'
    return f'<circle cx="{n(x)}" cy="{n(y)}" r="{n(r)}" {look}/>'


def text_svg(shape: Text, pen: Pen) -> str:
    """A text as SVG."""
    extra = f' text-anchor="{shape.anchor}"' if shape.anchor != "start" else ""
    extra += ' font-weight="bold"' if shape.bold else ""
    return (
        f'<text x="{n(shape.x)}" y="{n(shape.y)}" font-size="{n(shape.size)}" '
        f"{pen.fill(shape.role)}{extra}>{clean(shape.text)}</text>"
    )


__all__ = ["clean", "svg"]
