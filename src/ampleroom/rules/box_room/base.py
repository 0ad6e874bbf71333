"""Box room: the box itself, by the standard table, its marking, or measured inside."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from ampleroom.arithmetic import Counted, Line
from ampleroom.editions import CodeBook
from ampleroom.job.model import Base
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import NO_LIMIT, inches, volume
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Space, exactly

STANDARD = "box-room-standard"
MARKED = "box-room-marked"
STANDARD_EXAMPLE = """
box M1
  device 3 x 2 x 2-3/4 3 ganged
  clamps inside
run M1 > ? 14/2 nm-b
"""
MARKED_EXAMPLE = """
box M2
  marked 20.3 in3 plastic 1-gang
  clamps tabs
run M2 > ? 14/2 nm-b
"""


@rule(
    STANDARD,
    title="Standard boxes",
    topic="room",
    tables=("box_room.standard", "box_room.marked"),
    readings=("measured-box", "printed-counts"),
    example=STANDARD_EXAMPLE,
)
def standard_lines(space: Space, book: CodeBook) -> Iterator[Line]:
    """A metal box of a standard size has the volume in the code's table. If a volume is marked on it, the marking
    counts instead. A nonmetallic box always goes by its marking. Boxes ganged together add up. Masonry, FS and FD
    boxes go by the gang. Never use outside dimensions.

    Why: The walls take up room. A 4 x 4 x 2-1/8 in. box holds 30.3 in3, not the 34 in3 its outside measures.
    """
    base = space.base
    if base is None or base.form != "standard":
        return
    terms = book["box_room.standard"]
    row = book.standard_box(base.shape, space.base_size)
    shape = base.shape.upper() if base.shape in ("fs", "fd") else base.shape.capitalize()
    what = f"{shape} box {space.base_size}"
    if base.volume is not None or base.material == "plastic":
        yield marking_line(what, base, space.base_room, row, book)
        return
    if row is None:
        marked = book["box_room.marked"]
        why = f"the {book.year} table has no such box: its volume is what its maker marked"
        yield Counted(STANDARD, what, exactly(base.ganged), space.base_room, why, marked["cite"], marked["confidence"])
        return
    number, said = how_many(base, row)
    taken = "" if base.size is not UNKNOWN else "; its depth is not known: taken so"
    yield Counted(
        STANDARD,
        what,
        number,
        row["volume"],
        f"the table's volume{said}{taken}",
        terms["cite"],
        book.confidence("box_room.standard", row),
    )


def marking_line(what: str, base: Base, unread: Decimal, row: dict[str, Any] | None, book: CodeBook) -> Line:
    """A box of a standard size that counts by its marking: one box's, whatever gangs it has."""
    marked = book["box_room.marked"]
    if base.volume is None or base.volume is UNKNOWN:
        why = "nobody has read its marking" + (
            "; a nonmetallic box counts by nothing else" if base.volume is None else ""
        )
        return Counted(MARKED, what, exactly(base.ganged), unread, why, marked["cite"], marked["confidence"])
    joined = f", for each of {base.ganged} boxes ganged together" if base.ganged > 1 else ""
    why = "its marking"
    if row is not None:
        why += f", in place of the table's {volume(row['volume'])}{' a gang' if row.get('per_gang') else ''}"
    why += joined
    return Counted(MARKED, what, exactly(base.ganged), base.volume, why, marked["cite"], marked["confidence"])


def how_many(base: Base, row: dict[str, Any]) -> tuple[Decimal, str]:
    """How often the table's volume counts: once, by the gang, or for every box ganged together."""
    if row.get("per_gang"):
        gangs = base.gangs or 1
        return exactly(gangs * base.ganged), f" for each of {gangs} gangs" if gangs > 1 else " a gang"
    return exactly(base.ganged), f" for each of {base.ganged} boxes ganged together" if base.ganged > 1 else ""


@rule(
    MARKED,
    title="Marked and measured boxes",
    topic="room",
    tables=("box_room.marked", "box_room.measured"),
    readings=("measured-box",),
    example=MARKED_EXAMPLE,
)
def marked_lines(space: Space, book: CodeBook) -> Iterator[Line]:
    """Every nonmetallic box has the volume its maker marked in it, and so does any box of 100 in3 or less that is not a
    standard size. With no marking its volume is not known, and outside dimensions do not replace it.

    Measure a box over 100 in3 inside if it is not marked. The code prints no method; measuring inside is the usual way.

    Why: Only the maker knows how thick the walls are and what the brackets take.
    """
    base = space.base
    terms = book["box_room.marked"]
    confidence = terms["confidence"]
    if base is None or base.form in ("unmarked", "marked", "conduit body"):
        what = {None: "Box", "unmarked": "Box with no marking", "conduit body": "Conduit body"}.get(
            base.form if base else None, "Marked box"
        )
        ganged = base.ganged if base else 1
        why = "the volume marked in it" + (f", for each of {ganged} joined" if ganged > 1 else "")
        if space.base_room in (NO_LIMIT, Decimal(0)):
            why = "nobody has read it" if base is not None and base.form == "marked" else "not known"
        yield Counted(MARKED, what, exactly(ganged), space.base_room, why, terms["cite"], confidence)
    elif base.form == "measured" and base.volume is not None:
        why = (
            "the volume marked in it, whatever it measures"
            if base.volume is not UNKNOWN
            else "nobody has read its marking"
        )
        yield Counted(MARKED, "Marked box", exactly(base.ganged), space.base_room, why, terms["cite"], confidence)
    elif base.form == "measured":
        yield measured_line(space, base, book)


def measured_line(space: Space, base: Base, book: CodeBook) -> Line:
    measured = book["box_room.measured"]
    why = "inside " + " x ".join(inches(side).removesuffix(" in.") for side in base.inside) + " in."
    why += f", for each of {base.ganged} joined" if base.ganged > 1 else ""
    if space.base_room in (NO_LIMIT, Decimal(0)):
        must = "nonmetallic box" if base.material == "plastic" else f"box of {measured['larger_than']} in3 or less"
        why += f": a {must} must carry its maker's marking, so this credits nothing"
        return Counted(
            MARKED,
            "Box measured inside",
            exactly(1),
            space.base_room,
            why,
            book["box_room.marked"]["cite"],
            book.confidence("box_room.marked"),
        )
    return Counted(
        MARKED,
        "Box measured inside",
        exactly(base.ganged),
        space.base_room,
        why,
        measured["cite"],
        measured["confidence"],
    )
