"""The volume of a box and of its rings, as marked, measured or in the table."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions.standard_boxes import STANDARD_BOXES
from ampleroom.job.model import Base, Part
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import measured_room, number
from ampleroom.rules.box.volume.marked import MEASURED
from ampleroom.rules.builder.ask import Asker

NOT_IN_TABLE = ": the {} table has no such box"
ONLY_MARKED = ": a nonmetallic box counts by its marking alone"


def base_room(base: Base | None, asker: Asker) -> tuple[Decimal, str]:
    """The volume of one box, in3, and its trade size where it is a standard one."""
    name = asker.box.name
    if base is None:
        return asker.ask_volume(asker.box, "volume", f"which box {name} is, or the volume marked in it"), ""
    if base.form == "unmarked":
        text = f"the volume of {name}: no marking was found, so ask the authority or put in a box that is marked"
        return asker.ask_volume(base, "volume", text), ""
    if base.form == "standard":
        return standard_room(base, asker)
    if base.volume is UNKNOWN:
        return marking(base, asker), ""
    if base.form == "measured" and base.volume is None:
        return inside_room(base, asker), ""
    return base.volume if base.volume is not None else Decimal(0), ""


def marking(base: Base, asker: Asker, why: str = "") -> Decimal:
    """The volume nobody has read."""
    return asker.ask_volume(base, "volume", f"the volume marked in {asker.box.name}{why}")


def inside_room(base: Base, asker: Asker) -> Decimal:
    """Length times width times depth, where that may be credited."""
    room = base.inside[0] * base.inside[1] * base.inside[2]
    if base.material == "plastic":
        return marking(base, asker, ONLY_MARKED)
    if room <= asker.book[MEASURED].larger_than:
        return marking(base, asker, ": measured inside, a box this small is not credited")
    return measured_room(base.inside)


def standard_room(base: Base, asker: Asker) -> tuple[Decimal, str]:
    """Volume in in3 and trade size by the table; asks for a marking nobody has read, and for that of a plastic box."""
    room, size = table_room(base, asker)
    if base.volume is UNKNOWN:
        return marking(base, asker), size
    if base.volume is None and base.material == "plastic":
        return marking(base, asker, ONLY_MARKED), size
    return room, size


def table_room(base: Base, asker: Asker) -> tuple[Decimal, str]:
    """What the table gives a trade size, and that size."""
    book = asker.book
    if base.size is not UNKNOWN:
        row = book.standard_box(base.shape, base.size)
        if row is not None:
            return row.volume, base.size
        known = base.volume is not None or base.material == "plastic"  # then the table has no say
        return Decimal(0) if known else marking(base, asker, NOT_IN_TABLE.format(book.year)), base.size
    rows = [row for row in book[STANDARD_BOXES].rows if row.shape == base.shape]
    rows = [row for row in rows if not base.face or row.size.rpartition(" x ")[0] == base.face]
    rows.sort(key=lambda row: row.volume)
    if not rows:
        return marking(base, asker, NOT_IN_TABLE.format(book.year)), ""
    name = asker.box.name
    text = f"how deep {name} is: {base.shape} {base.face}"
    if not base.face:
        text = f"which cover {name} has, single or multiple"
    volumes = {row.size: row.volume for row in rows}
    sizes = tuple(volumes)
    names = tuple(f"{size} ({number(room)} in3)" for size, room in volumes.items())
    size = asker.ask(base, "box size", text, sizes, names=names)
    return volumes[size], size


def ring_room(part: Part, asker: Asker) -> Decimal | None:
    """The marked volume of a ring or cover, in3; None where it is not marked."""
    if part.volume is UNKNOWN:
        text = f"the volume marked in the {part.kind} of {asker.box.name}"
        return asker.ask_volume(part, "ring volume", text)
    return part.volume
