"""Box volume: metal boxes of a standard trade size."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Counted, Line
from ampleroom.editions import CodeBook
from ampleroom.editions.standard_boxes import STANDARD_BOXES, StandardBox
from ampleroom.job.model import Base
from ampleroom.job.unknown import UNKNOWN
from ampleroom.rules.box.volume.marked import MARKED, marking_line
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Space, exactly

NAME = "box-room-standard"


@rule(
    NAME,
    title="Standard boxes",
    topic="room",
    of_contents=True,
    tables=(STANDARD_BOXES, MARKED),
    readings=("measured-box", "printed-counts"),
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
    terms = book[STANDARD_BOXES]
    row = book.standard_box(base.shape, space.base_size)
    shape = base.shape.upper() if base.shape in ("fs", "fd") else base.shape.capitalize()
    label = f"{shape} box {space.base_size}"
    if base.volume is not None or base.material == "plastic":
        yield marking_line(label, base, space.base_room, row, book)
        return
    if row is None:
        marked = book[MARKED]
        why = f"the {book.year} table has no such box: its volume is what its maker marked"
        yield Counted(NAME, label, exactly(base.ganged), space.base_room, why, marked.cite, marked.confidence)
        return
    boxes, basis = how_many(base, row)
    taken = "" if base.size is not UNKNOWN else ", assumed depth"
    yield Counted(
        NAME,
        label,
        boxes,
        row.volume,
        f"volume from the table{basis}{taken}",
        terms.cite,
        book.confidence(STANDARD_BOXES, row),
    )


def how_many(base: Base, row: StandardBox) -> tuple[Decimal, str]:
    """How often the table's volume counts: once, by the gang, or for every box ganged together."""
    if row.per_gang:
        gangs = base.gangs or 1
        return exactly(gangs * base.ganged), f", for each of {gangs} gangs" if gangs > 1 else ", per gang"
    return exactly(base.ganged), f", for each of {base.ganged} boxes ganged together" if base.ganged > 1 else ""
