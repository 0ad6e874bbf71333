"""A drawing as DXF, for those who paste it into theirs: one layer a role, y upward, one unit a pixel."""

from __future__ import annotations

import io
from typing import Any

from ampleroom.errors import AmpleroomError
from ampleroom.pictures.drawing import Dot, Drawing, Line, Rect, Text, printable

COLORS = {
    "fails": 1,
    "open": 2,
    "passes": 3,
    "advice": 4,
    "ink": 7,
    "faint": 8,
    "conductors": 5,
    "devices": 6,
    "grounds": 3,
    "clamps": 30,
    "circuit-1": 5,
    "circuit-2": 30,
    "circuit-3": 8,
}
"""Color numbers of the format's own index."""


def dxf_bytes(drawing: Drawing) -> bytes:
    """A drawing as the bytes of a DXF file, its lengths without a unit. Raises ``AmpleroomError`` where ezdxf is not
    installed.
    """
    try:
        import ezdxf
        from ezdxf import enums
    except ImportError:
        raise AmpleroomError("DXF needs ezdxf: ./run convert brings it, or pip install 'ampleroom[dxf]'") from None
    document = ezdxf.new("R2010", setup=True)
    document.header["$INSUNITS"] = 0
    space = document.modelspace()
    layers: set[str] = set()

    def layer(role: str) -> dict[str, Any]:
        if role not in layers:
            document.layers.add(role.upper(), color=COLORS.get(role, 7))
            layers.add(role)
        return {"layer": role.upper()}

    for shape in drawing.shapes:
        match shape:
            case Rect():
                x1, y1, x2, y2 = shape.x, -shape.y, shape.x + shape.wide, -(shape.y + shape.high)
                corners = [(x1, y1), (x2, y1), (x2, y2), (x1, y2)]
                space.add_lwpolyline(corners, close=True, dxfattribs=layer(shape.role))
                if shape.hatched:
                    hatch = space.add_hatch(dxfattribs=layer("over"))
                    hatch.set_pattern_fill("ANSI31", scale=2)
                    hatch.paths.add_polyline_path(corners, is_closed=True)
            case Line():
                attributes = {**layer(shape.color or shape.role)}
                if shape.dashed:
                    attributes["linetype"] = "DASHED"
                space.add_lwpolyline([(x, -y) for x, y in shape.points], dxfattribs=attributes)
            case Dot():
                attributes = {**layer(shape.color or shape.role)}
                if shape.dashed:
                    attributes["linetype"] = "DASHED"
                space.add_circle((shape.x, -shape.y), shape.radius, dxfattribs=attributes)
            case Text():
                place = {
                    "start": enums.TextEntityAlignment.LEFT,
                    "middle": enums.TextEntityAlignment.CENTER,
                    "end": enums.TextEntityAlignment.RIGHT,
                }
                text = space.add_text(plain_text(shape.text), height=shape.size * 0.72, dxfattribs=layer("text"))
                text.set_placement((shape.x, -shape.y), align=place[shape.anchor])
    out = io.StringIO()
    document.write(out)
    return out.getvalue().encode("utf-8")


def plain_text(text: str) -> str:
    """Text without what the format would read as commands: two percent signs, a backslash, a caret."""
    return printable(text).replace("%%", "% %").replace("\\", "/").replace("^", "^ ")
