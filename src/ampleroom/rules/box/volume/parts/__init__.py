"""Box room: extension rings, plaster rings, raised and domed covers."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Counted, Line
from ampleroom.editions import CodeBook
from ampleroom.editions.standard_boxes import STANDARD_BOXES
from ampleroom.job.unknown import UNKNOWN
from ampleroom.rules.box.volume.marked import MARKED
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Ring, Space, exactly

NAME = "box-room-parts"


@rule(
    NAME,
    title="Rings and covers",
    topic="room",
    of_contents=True,
    tables=(MARKED, STANDARD_BOXES),
    readings=("unmarked-ring", "table-size-ring", "device-on-cover"),
)
def parts_lines(space: Space, book: CodeBook) -> Iterator[Line]:
    """A ring or cover adds the volume its maker marked on it. An unmarked extension ring with the dimensions of a
    standard metal box adds that box's volume. Any other unmarked ring or cover adds nothing, however deep it is.

    Why: Nobody can check a volume that is not marked.
    """
    for ring in space.rings:
        yield part_line(ring, book)


def part_line(ring: Ring, book: CodeBook) -> Line:
    """The worksheet line of one ring or cover, in in3: as marked, by the table, or nothing."""
    part = ring.part
    terms = book[MARKED]
    confidence = terms.confidence
    label = part.kind.capitalize()
    if ring.room is not None:
        why = "its marking has not been read" if part.volume is UNKNOWN else "the volume marked on it"
        return Counted(NAME, label, exactly(1), ring.room, why, terms.cite, confidence)
    row = book.standard_box(part.shape, part.size) if part.size and part.material != "plastic" else None
    if row is not None:
        standard = book[STANDARD_BOXES]
        label += f" {part.shape} {part.size}"
        if book.reading("table-size-ring") == "adds-nothing":
            return Counted(
                NAME,
                label,
                Decimal(0),
                row.volume,
                "not marked: adds nothing, a disputed point",
                terms.cite,
                confidence,
                ("table-size-ring",),
            )
        why = "not marked, but a standard size: volume from the table"
        return Counted(
            NAME,
            label,
            exactly(1),
            row.volume,
            why,
            standard.cite,
            book.confidence(STANDARD_BOXES, row),
            ("table-size-ring",),
        )
    return Counted(
        NAME,
        label,
        exactly(1),
        terms.unmarked_part,
        "not marked, so it adds nothing",
        terms.cite,
        confidence,
        ("unmarked-ring",),
    )
