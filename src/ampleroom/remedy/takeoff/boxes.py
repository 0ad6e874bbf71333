"""Boxes, and the rings and covers on them."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.job.lines.box_base import write_base
from ampleroom.job.lines.box_parts import write_part
from ampleroom.job.model import Base, Box, Carries, Device, FixtureWires, Leads, Part
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import replace
from ampleroom.remedy.box_in_place import face_of
from ampleroom.remedy.stock import Money, Stock, StockBox, StockPart
from ampleroom.remedy.takeoff.count import Count, TakeoffLine, Tally


def box_lines(count: Count) -> Iterator[TakeoffLine]:
    """Every new box, its rings and covers, and a blank cover where nothing covers it."""
    boxes, parts = Tally("boxes"), Tally("rings and covers")
    for box in count.job.boxes:
        if box.kind is UNKNOWN:
            count.missing.append(f"{box.name}: which box goes there ('remedy' picks one)")
            continue
        if not count.is_new(box):
            continue
        count.minutes += count.stock.minutes.new_box
        base = next((item for item in count.items[box.name] if isinstance(item, Base)), None)
        if (unknown := unknown_of_box(base)) or base is None:
            count.missing.append(f"{box.name}: {unknown}")
        else:
            boxes.add(*box_entry(base, count.stock))
            if (cover := blank_cover(base, box, count)) is not None:
                parts.add(*cover)
        for part in count.items[box.name]:
            if isinstance(part, Part):
                count.minutes += count.stock.minutes.ring
                if part.volume is UNKNOWN:
                    count.missing.append(f"{box.name}: the volume marked in its {part.kind}")
                else:
                    parts.add(*part_entry(part, base, count.stock))
    yield from boxes.lines()
    yield from parts.lines()


def box_entry(base: Base, stock: Stock) -> tuple[str, Money | None, int]:
    """What to buy for a box, its price and how many; boxes ganged together are so many of one."""
    stocked = stocked_box(replace(base, ganged=1), stock)
    if stocked is not None:
        return stocked.name, stocked.price, base.ganged
    return write_base(base), None, 1


def blank_cover(base: Base, box: Box, count: Count) -> tuple[str, Money, int] | None:
    """Of a junction box: one with nothing on its face that covers it already. An extension ring is as open as the
    box.
    """
    covers = [
        item
        for item in count.items[box.name]
        if isinstance(item, Device | Carries | FixtureWires | Leads | Part)
        and not (isinstance(item, Part) and item.kind == "extension ring")
    ]
    if covers:
        return None
    stocked = stocked_box(base, count.stock)
    return (f"blank cover for {stocked.name}", stocked.cover_price, 1) if stocked and stocked.cover_price else None


def stocked_box(base: Base, stock: Stock) -> StockBox | None:
    """The cheapest box of the stock that is just this one, or is it but for what a stock file may leave out; None: none
    is.
    """

    def identity(base: Base) -> tuple[object, ...]:
        sides = (*sorted(base.inside[:2]), *base.inside[2:])  # a pull box hangs either way round
        return base.form, base.shape, base.size, base.volume, base.gangs, base.ganged, sides

    same = [stocked for stocked in stock.boxes if stocked.base == base]
    same = same or [stocked for stocked in stock.boxes if identity(stocked.base) == identity(base)]
    return min(same, key=lambda stocked: stocked.price, default=None)


def part_entry(part: Part, base: Base | None, stock: Stock) -> tuple[str, Money | None, int]:
    """What to buy for a ring or cover, its price and how many."""
    face = face_of(base) if base is not None and base.form == "standard" else ""
    same = [stocked for stocked in stock.parts if same_part(stocked, part, face)]
    cheapest = min(same, key=lambda stocked: stocked.price, default=None)
    if cheapest is not None:
        return cheapest.name, cheapest.price, 1
    name = write_part(replace(part, depth=None) if part.depth is UNKNOWN else part)
    return f"{name} on {face}" if face and not part.shape else name, None, 1


def unknown_of_box(base: Base | None) -> str:
    """What has to be known before a box can be bought; empty where all is."""
    if base is None:
        return "which box it is"
    if base.form == "unmarked":
        return "which box it is: no marking was found in it"
    if base.size is UNKNOWN:
        return f"the size of its {base.shape} box" if not base.face else f"how deep its {base.shape} {base.face} box is"
    return "the volume marked in it" if base.volume is UNKNOWN else ""


def same_part(stocked: StockPart, part: Part, face: str) -> bool:
    """Whether a ring or cover on sale is the one of a box with that face, ``square 4``; a ring of a standard size names
    its own face, any other of which nobody knows the face is not matched.
    """
    kept = stocked.part
    if (kept.kind, kept.volume, kept.shape, kept.size) != (part.kind, part.volume, part.shape, part.size):
        return False
    if stocked.on != face and (face or not part.size):
        return False
    unlike_depth = kept.depth != part.depth and UNKNOWN not in (kept.depth, part.depth)
    if unlike_depth and kept.depth is not None and part.depth is not None:
        return False
    return "" in (kept.material, part.material) or kept.material == part.material
