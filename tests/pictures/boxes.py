"""Where words stand in a drawing, measured by the advance widths of the font the package ships."""

from __future__ import annotations

from functools import lru_cache
from itertools import combinations

import pytest

from ampleroom.pictures.drawing import Drawing, Text
from tests.pictures.helpers import ROOT

Box = tuple[float, float, float, float, str]
ASCENT, DESCENT = 0.73, 0.21
"""How high letters of this font stand over the line, and how deep under it, in their size."""


@lru_cache
def advances(bold: bool) -> tuple[dict[str, float], float]:
    """Each letter's width in its size."""
    fonts = pytest.importorskip("fontTools.ttLib")
    face = fonts.TTFont(ROOT / f"src/ampleroom/packet/fonts/LiberationSans-{'Bold' if bold else 'Regular'}.ttf")
    per_em = face["head"].unitsPerEm
    widths = {chr(code): face["hmtx"][name][0] / per_em for code, name in face.getBestCmap().items()}
    return widths, 1.0


def true_width(text: str, size: float, bold: bool = False) -> float:
    widths, unknown = advances(bold)
    return sum(widths.get(letter, unknown) for letter in text) * size


def box_of(shape: Text) -> Box:
    wide = true_width(shape.text, shape.size, shape.bold)
    left = {"start": shape.x, "middle": shape.x - wide / 2, "end": shape.x - wide}[shape.anchor]
    return left, shape.y - ASCENT * shape.size, left + wide, shape.y + DESCENT * shape.size, shape.text


def overlapping_texts(drawing: Drawing) -> list[tuple[str, str]]:
    """Every two texts that stand on one another."""
    boxes = sorted(box_of(shape) for shape in drawing.shapes if isinstance(shape, Text) and shape.text)
    found = []
    for one, other in combinations(boxes, 2):
        wide = min(one[2], other[2]) - max(one[0], other[0])
        high = min(one[3], other[3]) - max(one[1], other[1])
        if wide > 0.5 and high > 0.5:
            found.append((one[4], other[4]))
    return found


def outside(drawing: Drawing) -> list[str]:
    """Every text that leaves the page."""
    boxes = [box_of(shape) for shape in drawing.shapes if isinstance(shape, Text)]
    return [
        text
        for left, top, right, bottom, text in boxes
        if left < 0 or top < 0 or right > drawing.wide or bottom > drawing.high
    ]
