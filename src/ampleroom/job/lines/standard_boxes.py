"""Standard metal boxes: the trade sizes of each shape, as the book's table names them, and how one is read."""

from __future__ import annotations

import re
from decimal import Decimal
from functools import cache
from typing import Any

from ampleroom.editions.standard_boxes import STANDARD_BOXES
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.job.words import Words, number_word

SHAPES = {
    "square": "square",
    "octagon": "octagon",
    "octagonal": "octagon",
    "round": "octagon",
    "device": "device",
    "utility": "device",
    "masonry": "masonry",
    "fs": "fs",
    "fd": "fd",
}
GANG = re.compile(r"(\d{1,2})-?gangs?")


@cache
def standard_rows() -> tuple[dict[str, Any], ...]:
    """Every row any edition's table of standard boxes has: which of them an edition knows is for the check to say."""
    rows = [row for block in STANDARD_BOXES.blocks for row in block.get("rows", ())]
    return tuple({(row["shape"], row["size"]): row for row in rows}.values())


@cache
def standard_sizes(shape: str) -> dict[str, tuple[Decimal, ...]]:
    """The trade sizes of a shape in the standard-box table: the table's own words, and the numbers in them."""
    rows = standard_rows()
    return {
        row["size"]: tuple(number_word(part) or Decimal(0) for part in row["size"].split(" x "))
        for row in rows
        if row["shape"] == shape
    }


@cache
def standard_faces() -> tuple[str, ...]:
    """``square 4``, ``octagon 4``: every shape and face in the standard-box table that a ring or cover may go on."""
    rows = standard_rows()
    faces = (f"{row['shape']} {row['size'].rpartition(' x ')[0]}" for row in rows if " x " in row["size"])
    return tuple(dict.fromkeys(faces))


@cache
def metric_sizes(shape: str) -> dict[tuple[Decimal, ...], str]:
    """The trade sizes of a shape by their millimeters, as the table has both."""
    rows = standard_rows()
    return {
        tuple(map(Decimal, row["mm"].split(" x "))): row["size"]
        for row in rows
        if row["shape"] == shape and " x " in row["mm"]
    }


def is_box_size(words: Words) -> bool:
    """Whether a box's trade size stands at the cursor: ``device 3 x 2 x 2`` is a box, ``device #12`` a device."""
    return words.peek() == "box" or "x" in (words.peek(1), words.peek()[1:2], words.peek()[2:3])


def read_trade_size(words: Words, shape: str) -> tuple[Maybe[str], str]:
    """The size as the table names it; where the depth is ``?``, UNKNOWN and the face."""
    values, at = words.dimensions()
    is_metric = words.low[words.i - 1] == "mm"
    sizes = standard_sizes(shape)
    if words.take("deep"):
        pass
    if is_metric:
        return metric_size(words, shape, at)
    wide = 1 if shape in ("square", "octagon") else 2
    if wide == 1 and len(values) == 3 and values[0] == values[1]:
        values = values[1:]
    if wide == 2 and len(values) == 3 and UNKNOWN not in values[:2] and values[0] < values[1]:  # type: ignore[operator]
        values = (values[1], values[0], values[2])
    for name, dimensions in sizes.items():
        if values == dimensions:
            return name, ""
    if len(values) == wide + 1 and values[-1] is UNKNOWN and any(values[:wide] == d[:wide] for d in sizes.values()):
        return UNKNOWN, next(n.rpartition(" x ")[0] for n, d in sizes.items() if values[:wide] == d[:wide])
    near = nearest_sizes(values, sizes)
    hint = f"write {' or '.join(near)}; for any other box its marking, such as: marked 20.3 in3"
    raise words.wrong(f"{as_typed(words, at)} is not a standard {shape} box", hint, at)


def metric_size(words: Words, shape: str, at: int) -> tuple[Maybe[str], str]:
    """A size in millimeters, as the table names it in inches."""
    millimeters = tuple(Decimal(word) for word in re.findall(r"\d+", " ".join(words.low[at : words.i])))
    sizes = metric_sizes(shape)
    if millimeters in sizes:
        return sizes[millimeters], ""
    known = ", ".join(" x ".join(map(str, key)) for key in sizes)
    raise words.wrong(f"{as_typed(words, at)} is not a standard {shape} box", f"write one of: {known} mm", at)


def nearest_sizes(values: tuple[Maybe[Decimal], ...], sizes: dict[str, tuple[Decimal, ...]]) -> list[str]:
    """The two standard sizes whose numbers are nearest to those written."""
    known = [value for value in values if value is not UNKNOWN]

    def distance(name: str) -> Decimal:
        return sum(
            (abs(a - b) for a, b in zip(known, sizes[name], strict=False)),
            Decimal(9 * abs(len(known) - len(sizes[name]))),
        )

    return sorted(sizes, key=distance)[:2]


def as_typed(words: Words, at: int) -> str:
    """The words from ``at`` up to the cursor, as they were typed."""
    return " ".join(words.typed[at : words.i])


__all__ = [
    "GANG",
    "SHAPES",
    "is_box_size",
    "metric_sizes",
    "read_trade_size",
    "standard_faces",
    "standard_rows",
    "standard_sizes",
]
