"""Draw the page's icons as PNG from ``icon.svg``: some systems put no SVG on a home screen.

    python3 scripts/icons.py

Writes ``src/ampleroom/web/static/icon-192.png`` and ``icon-512.png``, and ``icon-full-512.png``, which a system may cut
round: all that says something lies within the middle four fifths. Needs pillow, which the page's extra brings. Only
rectangles are read, which is all the icon has; anything else is refused.
"""

from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path

from PIL import Image, ImageDraw

STATIC = Path(__file__).resolve().parents[1] / "src" / "ampleroom" / "web" / "static"
SVG = "{http://www.w3.org/2000/svg}"
FINE = 8
"""Drawn so many times as large and then made smaller, so that edges are smooth."""
FULL = 0.72
"""How large the icon stands in the one that may be cut round."""


def drawn(size: int, share: float = 1.0) -> Image.Image:
    """The icon, ``size`` pixels wide. ``share``: how large it stands on a ground of its own color that fills all."""
    root = ET.parse(STATIC / "icon.svg").getroot()
    side = float(root.attrib["viewBox"].split()[2])
    scale = size * FINE / side * share
    edge = size * FINE * (1 - share) / 2
    ground = root[0].attrib["fill"] if share < 1 else (0, 0, 0, 0)
    image = Image.new("RGBA", (size * FINE, size * FINE), ground)
    draw = ImageDraw.Draw(image)
    for shape in root:
        if shape.tag != f"{SVG}rect":
            raise SystemExit(f"icon.svg has {shape.tag.removeprefix(SVG)!r}; this draws rectangles only")
        given = {name: float(shape.attrib.get(name, 0)) for name in ("x", "y", "width", "height", "rx")}
        left, top = edge + given["x"] * scale, edge + given["y"] * scale
        corners = (left, top, left + given["width"] * scale - 1, top + given["height"] * scale - 1)
        draw.rounded_rectangle(corners, given["rx"] * scale, fill=shape.attrib["fill"])
    return image.resize((size, size), Image.Resampling.LANCZOS)


def main() -> None:
    """Write all icons."""
    for name, size, share in (("icon-192", 192, 1.0), ("icon-512", 512, 1.0), ("icon-full-512", 512, FULL)):
        path = STATIC / f"{name}.png"
        drawn(size, share).quantize(64).save(path, optimize=True)
        print(f"{path.name}: {path.stat().st_size} bytes")


if __name__ == "__main__":
    main()
