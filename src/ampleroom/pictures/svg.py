"""A drawing as SVG, by the standard library. All text is escaped; nothing in a name can become markup or run."""

from __future__ import annotations

from xml.sax.saxutils import escape, quoteattr

from ampleroom.pictures.drawing import Dot, Drawing, Line, Rect, Shape, Text
from ampleroom.pictures.palette import INSULATION, PATTERNS, THEMES, Palette

FONT = "'Liberation Sans', 'Helvetica', 'Arial', sans-serif"


def svg(drawing: Drawing, theme: str = "light", prefix: str = "", page: bool = True) -> str:
    """The drawing as an SVG document. ``auto`` follows the reader's light or dark setting.

    ``prefix`` keeps ids apart where several pictures stand on one page; ``page``: a background of its own.
    """
    prefix = prefix or "p"
    out = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{n(drawing.wide)}" height="{n(drawing.high)}" '
        f'viewBox="0 0 {n(drawing.wide)} {n(drawing.high)}" role="img" aria-labelledby="{prefix}t {prefix}d" font-family="{FONT}">',
        f'<title id="{prefix}t">{clean(drawing.title)}</title><desc id="{prefix}d">{clean(drawing.description)}</desc>',
        style(theme, prefix),
        patterns(drawing, prefix),
    ]
    if page:
        out.append(f'<rect class="{prefix}page" width="100%" height="100%"/>')
    out += [shape_svg(shape, prefix) for shape in drawing.shapes]
    out.append("</svg>")
    return "".join(out)


def n(value: float) -> str:
    """A number, short."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("", "-0") else text


def clean(text: str) -> str:
    """Text for XML: escaped, and without the control characters XML cannot hold."""
    return escape("".join(letter if letter.isprintable() or letter == " " else "·" for letter in text))


def attribute(text: str) -> str:
    return quoteattr("".join(letter if letter.isprintable() or letter == " " else "·" for letter in text))


# ---- style ---------------------------------------------------------------------------------------------------------


def style(theme: str, prefix: str) -> str:
    if theme == "auto":
        dark = rules(THEMES["dark"], prefix)
        printed = rules(THEMES["print"], prefix)
        return f"<style>{rules(THEMES['light'], prefix)}@media (prefers-color-scheme:dark){{{dark}}}@media print{{{printed}}}</style>"
    return f"<style>{rules(THEMES[theme], prefix)}</style>"


def rules(palette: Palette, prefix: str) -> str:
    """Three classes a role: filled, drawn as a line, written."""
    out = []
    for role, color in palette.items():
        if role == "page":
            out.append(f".{prefix}page{{fill:{color}}}")
            continue
        out.append(f".{prefix}f-{role}{{fill:{color}}}.{prefix}s-{role}{{stroke:{color};fill:none}}")
    out.append(f".{prefix}e{{stroke:{palette['ink']}}}.{prefix}h{{stroke:{palette['ink']};stroke-width:1;fill:none}}")
    out.append(f".{prefix}halo{{stroke:{palette['faint']};fill:none}}")
    return "".join(out)


def patterns(drawing: Drawing, prefix: str) -> str:
    """The patterns this drawing uses: one a kind of tile, and the hatching of what does not fit."""
    used = {shape.role for shape in drawing.shapes if isinstance(shape, Rect) and PATTERNS.get(shape.role)}
    out = [pattern(PATTERNS[role], prefix) for role in sorted(used, key=str)]
    if any(isinstance(shape, Rect) and shape.hatched for shape in drawing.shapes):
        out.append(pattern("over", prefix))
    return f"<defs>{''.join(out)}</defs>" if out else ""


MARKS = {
    "dots": (6, '<circle cx="3" cy="3" r="0.9" class="{p}f-ink" opacity="0.45"/>'),
    "sparse": (9, '<circle cx="4.5" cy="4.5" r="0.9" class="{p}f-ink" opacity="0.45"/>'),
    "up": (6, '<path d="M0 6L6 0" class="{p}h" opacity="0.4"/>'),
    "up-wide": (10, '<path d="M0 10L10 0" class="{p}h" opacity="0.4"/>'),
    "down": (7, '<path d="M0 0L7 7" class="{p}h" opacity="0.4"/>'),
    "grid": (7, '<path d="M0 3.5H7M3.5 0V7" class="{p}h" opacity="0.3"/>'),
    "level": (5, '<path d="M0 2.5H5" class="{p}h" opacity="0.4"/>'),
    "over": (7, '<path d="M0 7L7 0M-1 1L1 -1M6 8L8 6" class="{p}h" stroke-width="2" opacity="0.85"/>'),
}


def pattern(name: str, prefix: str) -> str:
    size, mark = MARKS[name]
    return f'<pattern id="{prefix}-{name}" width="{size}" height="{size}" patternUnits="userSpaceOnUse">{mark.format(p=prefix)}</pattern>'


# ---- shapes --------------------------------------------------------------------------------------------------------


def shape_svg(shape: Shape, p: str) -> str:
    match shape:
        case Rect():
            return rect_svg(shape, p)
        case Line():
            return line_svg(shape, p)
        case Dot():
            return dot_svg(shape, p)
        case Text():
            return text_svg(shape, p)


def rect_svg(shape: Rect, p: str) -> str:
    box = f'x="{n(shape.x)}" y="{n(shape.y)}" width="{n(max(shape.wide, 0))}" height="{n(max(shape.high, 0))}"'
    if shape.rounded:
        box += f' rx="{n(shape.rounded)}"'
    edge = f' class="{p}f-{shape.role} {p}e" stroke-width="1"' if shape.outlined else f' class="{p}f-{shape.role}"'
    if not shape.filled:
        edge = f' class="{p}e" stroke-width="1" fill="none"'
    dash = ' stroke-dasharray="5 4"' if shape.dashed else ""
    inner = f"<title>{clean(shape.note)}</title>" if shape.note else ""
    out = f"<rect {box}{edge}{dash}>{inner}</rect>" if inner else f"<rect {box}{edge}{dash}/>"
    mark = PATTERNS.get(shape.role)
    if mark and shape.filled:
        out += f'<rect {box} fill="url(#{p}-{mark})"/>'
    if shape.hatched:
        out += f'<rect {box} fill="url(#{p}-over)" class="{p}e" stroke-width="1.5"/>'
    return out


def line_svg(shape: Line, p: str) -> str:
    if shape.curved and len(shape.points) == 2:
        (x1, y1), (x2, y2) = shape.points
        bend = max(18.0, abs(x2 - x1) / 2)
        path = f"M{n(x1)} {n(y1)}C{n(x1 + bend)} {n(y1)} {n(x2 - bend)} {n(y2)} {n(x2)} {n(y2)}"
    else:
        path = "M" + "L".join(f"{n(x)} {n(y)}" for x, y in shape.points)
    dash = ' stroke-dasharray="6 4"' if shape.dashed else ""
    if not shape.color:
        return f'<path d="{path}" class="{p}s-{shape.role}" stroke-width="{n(shape.thick)}"{dash}/>'
    color = INSULATION.get(shape.color, "#888888")
    halo = f'<path d="{path}" class="{p}halo" stroke-width="{n(shape.thick + 1.6)}"{dash}/>'
    return halo + f'<path d="{path}" stroke="{color}" fill="none" stroke-width="{n(shape.thick)}"{dash}/>'


def dot_svg(shape: Dot, p: str) -> str:
    r = shape.radius
    look = (
        f'fill="{INSULATION.get(shape.color, "#888888")}" class="{p}e"'
        if shape.color
        else f'class="{p}f-{shape.role} {p}e"'
    )
    if not shape.filled:
        look = f'class="{p}s-{shape.role}" stroke-width="2"'
    if shape.shape == "diamond":
        points = f"{n(shape.x)},{n(shape.y - r)} {n(shape.x + r)},{n(shape.y)} {n(shape.x)},{n(shape.y + r)} {n(shape.x - r)},{n(shape.y)}"
        return f'<polygon points="{points}" {look}/>'
    if shape.shape == "square":
        return f'<rect x="{n(shape.x - r)}" y="{n(shape.y - r)}" width="{n(2 * r)}" height="{n(2 * r)}" {look}/>'
    return f'<circle cx="{n(shape.x)}" cy="{n(shape.y)}" r="{n(r)}" {look}/>'


def text_svg(shape: Text, p: str) -> str:
    extra = f' text-anchor="{shape.anchor}"' if shape.anchor != "start" else ""
    extra += ' font-weight="bold"' if shape.bold else ""
    extra += ' font-style="italic"' if shape.italic else ""
    return f'<text x="{n(shape.x)}" y="{n(shape.y)}" font-size="{n(shape.size)}" class="{p}f-{shape.role}"{extra}>{clean(shape.text)}</text>'


__all__ = ["attribute", "clean", "svg"]
