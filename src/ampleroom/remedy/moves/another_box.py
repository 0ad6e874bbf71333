"""Moves: another box in the same place; a box for a place that has none yet."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from itertools import chain, count

from ampleroom.editions import CodeBook
from ampleroom.job.edit import AddFirst, AddKind, Change, DropItem, PutItem, SetKind, written_out
from ampleroom.job.lines.standard_boxes import standard_sizes
from ampleroom.job.model import Base, Clamps, Item, Kind, Mounting, Rated, SpaceShare
from ampleroom.job.sheet import without_remark
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import inches
from ampleroom.record import replace
from ampleroom.remedy.box_in_place import BoxInPlace, is_cast, may_be_nonmetallic, same_face
from ampleroom.remedy.remedy import Buy, Disturbance, Move
from ampleroom.remedy.stock import StockBox
from ampleroom.rules.box.support_ratings import FAN, LUMINAIRE
from ampleroom.rules.box.volume.standard import how_many
from ampleroom.where import NOWHERE

TOO_DEEP = "deeper than the wall"


def another_box(placed: BoxInPlace) -> Iterator[Move]:
    """A box of the same use, gang count and mounting. A box that is listed for a fan or a weight keeps that, a ring
    that stays has to fit the new face, an old-work box has to go into the hole and the wall, and a barrier stays.
    """
    if (
        placed.box.kind is UNKNOWN
        or placed.base is None
        or placed.base.form == "conduit body"
        or placed.shared_by_volume
    ):
        return
    for stocked in placed.stock.boxes:
        if fits_place(stocked, placed) is None and stocked.base != placed.base:
            action = f"replace the box with {stocked.name}"
            buys, minutes, disturbance = mounted(stocked, placed)
            change = swap_change(stocked, placed)
            notes = assumed(stocked, placed)
            family, room = family_of(stocked, placed), room_of(stocked, placed.book)
            yield Move(
                placed.box.name, action, change, buys, minutes, disturbance, (stocked,), notes, family=family, room=room
            )


def choose_box(placed: BoxInPlace) -> Iterator[Move]:
    """Rough-in: a box for a place written ``box NAME ?``, clamped as the sheet says if it says so."""
    if placed.box.kind is not UNKNOWN:
        return
    for stocked in placed.stock.boxes:
        if fits_place(stocked, placed) is None:
            buys, minutes, disturbance = mounted(stocked, placed)
            kind = kind_of(stocked, placed)
            drops = tuple(DropItem(placed.box.name, clamps) for clamps in placed.of(Clamps))
            change: Change = (AddKind(kind), SetKind(placed.box.name, kind.name), *drops)
            action = f"use {stocked.name} here"
            notes = assumed(stocked, placed)
            family, room = family_of(stocked, placed), room_of(stocked, placed.book)
            yield Move(
                placed.box.name, action, change, buys, minutes, disturbance, (stocked,), notes, family=family, room=room
            )


# ---- what may go where ---------------------------------------------------------------------------------------------


def fits_place(stocked: StockBox, placed: BoxInPlace) -> str | None:
    """Why a box one can buy may not go here; None where it may."""
    if placed.use not in stocked.uses:
        return f"not made for a {placed.use} box"
    if placed.use == "device" and placed.gangs is not None and stocked.gangs != placed.gangs:
        return f"not a {placed.gangs}-gang box"
    if placed.metal_enters and may_be_nonmetallic(stocked):
        return "may be nonmetallic, and metal raceway or armored cable comes in here"
    way = placed.mounting.way if is_cast(stocked.base) else placed.way
    if way and way not in stocked.mounting:
        return f"not for {way}"
    if not way and stocked.mounting == ("old-work",):
        return "for old work only"
    if placed.parts and not same_face(stocked, placed.face):
        return f"the {placed.parts[0].kind} there does not fit it"
    if placed.divided and (stocked.gangs != placed.gangs or not same_form(stocked, placed)):
        return "the barrier there does not fit it"
    return rating_reason(stocked, placed) or wall_reason(stocked, placed.mounting) or clamps_reason(stocked, placed)


def same_form(stocked: StockBox, placed: BoxInPlace) -> bool:
    """Whether a barrier made for the one may go into the other."""
    return same_face(stocked, placed.face) if placed.face else stocked.base.form != "standard"


def rating_reason(stocked: StockBox, placed: BoxInPlace) -> str | None:
    """Whether it is listed for what the box there is listed for, and for a fan that hangs here. A listing that says no
    weight is good for as much as needs no marking.
    """
    unmarked = {
        "fan": placed.book[FAN].marked_over_lb,
        "luminaire": placed.book[LUMINAIRE].ceiling_lb,
    }
    for kind, pounds in placed.ratings.items():
        rated = stocked.rated
        if rated is None or rated.kind != kind or (rated.pounds or unmarked[kind]) < pounds:
            return f"not rated for the {kind}"
    return None


def wall_reason(stocked: StockBox, mounting: Mounting) -> str | None:
    """Whether it goes into the wall and the hole that are there."""
    depth = stocked_depth(stocked)
    if mounting.cavity is not None and depth is not None and depth > mounting.cavity:
        return TOO_DEEP
    hole, needs = mounting.hole, stocked.hole
    if mounting.way == "old-work" and hole and needs and (needs[0] < hole[0] or needs[1] < hole[1]):
        return "too small for the hole in the wall"
    return None


def clamps_reason(stocked: StockBox, placed: BoxInPlace) -> str | None:
    """Whether its cables can be clamped in it; in a rough-in, as the sheet says."""
    if stocked.clamps == "outside" and placed.connectors is None:
        return "no connector in the stock file fits its cables"
    if placed.box.kind is UNKNOWN:
        ways = [clamps.way for clamps in placed.of(Clamps) if clamps.way is not UNKNOWN]
        if any(way != stocked.clamps for way in ways):
            return f"clamps {stocked.clamps}, and the sheet says {ways[0]}"
    return None


def stocked_depth(stocked: StockBox) -> Decimal | None:
    """How deep a box in stock is, inches; None where its marking does not say."""
    depth = stocked.base.depth
    if depth is not None and depth is not UNKNOWN:
        return depth
    if stocked.base.form == "standard" and stocked.base.size is not UNKNOWN:
        return standard_sizes(stocked.base.shape).get(stocked.base.size, (None,))[-1]
    return None


def same_hole(stocked: StockBox, mounting: Mounting) -> bool:
    """Whether it goes into the hole that is there without cutting, as far as one knows."""
    return mounting.hole is None or stocked.hole is None or stocked.hole == mounting.hole


def assumed(stocked: StockBox, placed: BoxInPlace) -> tuple[str, ...]:
    """What the sheet and the stock file do not say and the new box depends on; each reads on after "assumes"."""
    notes = []
    mounting = placed.mounting
    if placed.box.kind is not UNKNOWN and not mounting.way:
        notes.append("the wall is open: the sheet does not say how the box is mounted")
    if (
        placed.box.kind is not UNKNOWN
        and mounting.way == "old-work"
        and (stocked.hole is None or mounting.hole is None)
    ):
        notes.append("the new box fits the hole in the wall")
    if placed.is_metal is False and stocked.base.material != "plastic":
        notes.append("the new metal box is bonded to the equipment grounds")
    if mounting.cavity is not None and stocked_depth(stocked) is None:
        notes.append(
            f"the new box is no deeper than the wall, {inches(mounting.cavity)}: the stock file gives no depth"
        )
    return tuple(notes)


def family_of(stocked: StockBox, placed: BoxInPlace) -> str:
    """Boxes into which the same goes: only their own room differs. Of a divided box every side counts, so it has
    none.
    """
    return "" if placed.divided or placed.of(SpaceShare) else f"{stocked.clamps}, {stocked.base.form}"


def room_of(stocked: StockBox, book: CodeBook) -> Decimal:
    """What a box one can buy holds, in3."""
    base = stocked.base
    if base.volume is not None and base.volume is not UNKNOWN:
        return base.volume * base.ganged
    row = book.standard_box(base.shape, str(base.size))
    if row is None:  # a size of a later edition
        return Decimal(0)
    return row.volume * how_many(base, row)[0]


# ---- what it takes -------------------------------------------------------------------------------------------------


def mounted(stocked: StockBox, placed: BoxInPlace) -> tuple[tuple[Buy, ...], Decimal, Disturbance]:
    """What putting it in buys, takes and disturbs."""
    minutes = placed.stock.minutes
    buys = [Buy(stocked.name, Decimal(1), stocked.price)]
    if not placed.devices and not placed.parts and stocked.cover_price and placed.use == "junction":
        buys.append(Buy(f"blank cover for {stocked.name}", Decimal(1), stocked.cover_price))
    if placed.box.kind is UNKNOWN:
        work, disturbance = minutes.new_box, Disturbance.NOTHING
    else:
        work, disturbance = placed.minutes("another_box"), placed.disturbance()
        if placed.mounting.way == "old-work" and placed.finished and same_hole(stocked, placed.mounting):
            work, disturbance = minutes.another_box, Disturbance.COVER_OFF
    if stocked.clamps == "outside" and placed.connectors is not None:
        buys += placed.connectors
        work += len(placed.cables) * minutes.connector
    return tuple(buys), work, disturbance


def swap_change(stocked: StockBox, placed: BoxInPlace) -> Change:
    """The lines that make the box another one: its base, its clamps, its rating. A box that has all of them from its
    kind gets another kind, and what else its kind said is written under it.
    """
    name = placed.box.name
    own = placed.box.items
    of_kind = [item for item in placed.items if not any(item is mine for mine in own)]
    if of_kind and not any(isinstance(item, Base | Clamps) for item in own):
        kind = kind_of(stocked, placed)
        kept = tuple(replace(i, at=NOWHERE) for i in of_kind if not isinstance(i, Base | Clamps | Rated))
        return (AddKind(kind), SetKind(name, kind.name), *((AddFirst(name, kept),) if kept else ()))
    swaps = [(item, new) for item in placed.items if (new := instead(item, stocked)) is not None and new != item]
    steps: Change = written_out(placed.job, placed.box, *swaps) if of_kind else ()
    steps += tuple(PutItem(name, new, item) for item, new in swaps if any(item is mine for mine in own))
    missing: list[Item] = [] if placed.of(Clamps) else [Clamps(stocked.clamps)]
    if stocked.rated is not None and not placed.of(Rated):
        missing.append(stocked.rated)
    return (*steps, AddFirst(name, tuple(missing))) if missing else steps


def instead(item: Item, stocked: StockBox) -> Base | Clamps | Rated | None:
    """What stands in place of a line once the box is another; None: the line stays."""
    match item:
        case Base():
            return stocked.base
        case Clamps():
            return Clamps(stocked.clamps)
        case Rated():
            return stocked.rated
    return None


def kind_of(stocked: StockBox, placed: BoxInPlace) -> Kind:
    """A box one can buy as a kind of a sheet, under a name the sheet does not use for another."""
    items: tuple[Item, ...] = (stocked.base, Clamps(stocked.clamps))
    if stocked.rated is not None:
        items += (stocked.rated,)
    taken = {kind.name.casefold(): kind.items for kind in placed.job.kinds}
    others = (name for suffix in count(2) if (name := f"{stocked.key}-{suffix}") not in placed.stock.keys)
    name = next(name for name in chain([stocked.key], others) if taken.get(name, items) == items)
    return Kind(name, items, without_remark(stocked.name).strip())
