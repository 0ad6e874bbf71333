"""Box volume: as the maker marked it, as measured inside, or not known."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Counted, Line
from ampleroom.editions import CodeBook
from ampleroom.editions.standard_boxes import StandardBox
from ampleroom.editions.tables import Table
from ampleroom.job.model import Base
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import NO_LIMIT, inches, volume
from ampleroom.record import Record
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Space, exactly

NAME = "box-room-marked"


class MarkedVolume(Record):
    """Where a marked volume counts; what a ring with no marking adds, in3."""

    cite: str
    confidence: str
    unmarked_part: Decimal


class Measured(Record):
    """Above how many in3 a box with no marking is measured inside."""

    cite: str
    confidence: str
    larger_than: Decimal


MARKED = Table("box_room.marked", MarkedVolume, __file__)
MEASURED = Table("box_room.measured", Measured, __file__)


@rule(
    NAME,
    title="Marked and measured boxes",
    topic="room",
    of_contents=True,
    tables=(MARKED, MEASURED),
    readings=("measured-box",),
)
def marked_lines(space: Space, book: CodeBook) -> Iterator[Line]:
    """Every nonmetallic box has the volume its maker marked in it, and so does any box of 100 in3 or less that is not a
    standard size. With no marking its volume is not known, and outside dimensions do not replace it.

    Measure a box over 100 in3 inside if it is not marked. The code prints no method; measuring inside is the usual way.

    Why: Only the maker knows how thick the walls are and what the brackets take.
    """
    base = space.base
    terms = book[MARKED]
    confidence = terms.confidence
    if base is None or base.form in ("unmarked", "marked", "conduit body"):
        label = {None: "Box", "unmarked": "Box with no marking", "conduit body": "Conduit body"}.get(
            base.form if base else None, "Marked box"
        )
        ganged = base.ganged if base else 1
        why = "the volume marked in it" + (f", for each of {ganged} joined" if ganged > 1 else "")
        if space.base_room in (NO_LIMIT, Decimal(0)):
            why = "its marking has not been read" if base is not None and base.form == "marked" else "not known"
        yield Counted(NAME, label, exactly(ganged), space.base_room, why, terms.cite, confidence)
    elif base.form == "measured" and base.volume is not None:
        why = (
            "the volume marked in it overrides its size"
            if base.volume is not UNKNOWN
            else "its marking has not been read"
        )
        yield Counted(NAME, "Marked box", exactly(base.ganged), space.base_room, why, terms.cite, confidence)
    elif base.form == "measured":
        yield measured_line(space, base, book)


def measured_line(space: Space, base: Base, book: CodeBook) -> Line:
    """The worksheet line of a box measured inside, in in3: 0 or no limit where only a marking may be credited."""
    measured = book[MEASURED]
    why = "inside " + " x ".join(inches(side).removesuffix(" in.") for side in base.inside) + " in."
    why += f", for each of {base.ganged} joined" if base.ganged > 1 else ""
    if space.base_room in (NO_LIMIT, Decimal(0)):
        must = "nonmetallic box" if base.material == "plastic" else f"box of {measured.larger_than} in3 or less"
        why += f": a {must} must carry its maker's marking, so this credits nothing"
        return Counted(
            NAME,
            "Box measured inside",
            exactly(1),
            space.base_room,
            why,
            book[MARKED].cite,
            book.confidence(MARKED),
        )
    return Counted(
        NAME,
        "Box measured inside",
        exactly(base.ganged),
        space.base_room,
        why,
        measured.cite,
        measured.confidence,
    )


def marking_line(label: str, base: Base, unread: Decimal, row: StandardBox | None, book: CodeBook) -> Line:
    """A box of a standard size that counts by its marking: one box's, whatever gangs it has."""
    marked = book[MARKED]
    if base.volume is None or base.volume is UNKNOWN:
        why = "its marking has not been read" + (
            "; a nonmetallic box counts by nothing else" if base.volume is None else ""
        )
        return Counted(NAME, label, exactly(base.ganged), unread, why, marked.cite, marked.confidence)
    joined = f", for each of {base.ganged} boxes ganged together" if base.ganged > 1 else ""
    why = "its marking"
    if row is not None:
        why += f", in place of the table's {volume(row.volume)}{' a gang' if row.per_gang else ''}"
    why += joined
    return Counted(NAME, label, exactly(base.ganged), base.volume, why, marked.cite, marked.confidence)
