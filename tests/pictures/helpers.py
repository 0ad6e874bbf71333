"""What the tests of pictures share."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path

from ampleroom import Report, Worksheet, check, read_job
from ampleroom.pictures.drawing import Drawing, Rect, Text

ROOT = Path(__file__).resolve().parents[2]
SVG = "{http://www.w3.org/2000/svg}"

DIVIDED = """edition 2020
panel P
box D at switch bank
  marked 60 in3 plastic 3-gang
  barrier plastic
  space left 2 gangs
    clamps tabs
    switch #14 for porch
    dimmer #14
  space right 1 gang
    clamps none
    device #18 for chime button
run P > D/left 12/2 nm-b circuit 1
run D/left > ? 14/3 nm-b
wires D/right > ? 2 x #18 class 2
"""
OVERFULL = """edition 2020
box A at the vat
  device 3 x 2 x 1-1/2
  clamps inside
  receptacle #12
run A > ? 2 x 12/2 nm-b
"""
"""By hand, 2020 edition: room 7.5; four #12 conductors 9.0, clamps 2.25, receptacle 4.5, grounds 2.25: fill 18.0."""
UNREAD = """edition 2020
box W at bench
  marked ? in3
  receptacle #12
run W > ? 12/2 nm-b
"""


def report(sheet: str) -> Report:
    return check(read_job(sheet))


def worst(found: Report) -> Worksheet:
    """The first worksheet of a report."""
    sheet = found.findings[0].worst
    assert sheet is not None
    return sheet


def example(name: str) -> Report:
    return report((ROOT / "examples" / f"{name}.job").read_text("utf-8"))


def texts(drawing: Drawing) -> list[str]:
    return [shape.text for shape in drawing.shapes if isinstance(shape, Text)]


def rects(drawing: Drawing, *roles: str) -> list[Rect]:
    return [shape for shape in drawing.shapes if isinstance(shape, Rect) and (not roles or shape.role in roles)]


def parsed(svg: str) -> ET.Element:
    """The picture read by the standard library's own reader, which takes nothing but well-formed XML."""
    return ET.fromstring(svg)


def shown(svg: str) -> str:
    """All that is written in a picture."""
    return " ".join("".join(element.itertext()) for element in parsed(svg).iter(f"{SVG}text"))
