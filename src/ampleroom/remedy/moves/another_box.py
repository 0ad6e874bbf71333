"""Moves: another box in the same place; a box for a place that has none yet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from ampleroom.job.edit import AddItem, AddKind, Change, PutItem, SetKind
from ampleroom.job.lines.box_base import standard_sizes
from ampleroom.job.model import Base, Clamps, Item, Kind, Mounting, Part, Rated
from ampleroom.job.unknown import UNKNOWN
from ampleroom.remedy.remedy import Buy, Disturbance, Move
from ampleroom.remedy.spot import Spot, same_face
from ampleroom.remedy.stock import StockBox
from ampleroom.where import NOWHERE


def another_box(spot: Spot) -> Iterator[Move]:
    """A box of the same use, gang count and mounting. A box that carries a fan keeps its rating, a ring that stays has to
    fit the new face, an old-work box has to go into the hole and the wall, and a barrier stays.
    """
    if spot.box.kind is UNKNOWN or spot.base is None or spot.base.form == "conduit body" or spot.shared_by_volume:
        return
    for stocked in spot.stock.boxes:
        if fits_place(stocked, spot) is None and stocked.base != replace(spot.base, at=NOWHERE):
            yield swap(stocked, spot)


def choose_box(spot: Spot) -> Iterator[Move]:
    """Rough-in: a box for a place written ``box NAME ?``."""
    if spot.box.kind is not UNKNOWN:
        return
    for stocked in spot.stock.boxes:
        if fits_place(stocked, spot) is None:
            found = mounted(stocked, spot)
            if found is None:
                continue
            buys, minutes, _ = found
            own = {type(item) for item in spot.items}
            change: Change = (AddKind(kind_of(stocked, own)), SetKind(spot.box.name, stocked.key))
            what = f"a {stocked.name} here"
            yield Move(spot.box.name, what, change, tuple(buys), minutes, Disturbance.NOTHING, (stocked,))


def fits_place(stocked: StockBox, spot: Spot) -> str | None:
    """Why a box one can buy may not go here; None where it may."""
    if spot.use not in stocked.uses:
        return f"it is not made for a {spot.use} box"
    if spot.use == "device" and spot.gangs is not None and stocked.gangs != spot.gangs:
        return f"it has {stocked.gangs or 'no'} gangs, not {spot.gangs}"
    way = spot.mounting.way
    if way and way not in stocked.mounting:
        return f"it is not for {way}"
    if not way and stocked.mounting == ("old-work",):
        return "it is for old work only"
    if spot.parts and not same_face(stocked, spot.face):
        return f"the {spot.parts[0].kind} on it would not fit"
    if spot.divided and stocked.gangs != spot.gangs:
        return "its barrier would not fit"
    if spot.fan_pounds is not None:
        rated = stocked.rated
        if rated is None or rated.what != "fan" or (rated.pounds is not None and rated.pounds < spot.fan_pounds):
            return "it is not rated for the fan"
    return wall_reason(stocked, spot.mounting)


def wall_reason(stocked: StockBox, mounting: Mounting) -> str | None:
    """Whether it goes into the wall and the hole that are there."""
    depth = stocked_depth(stocked)
    if mounting.cavity is not None and depth is not None and depth > mounting.cavity:
        return "it is deeper than the wall"
    hole, needs = mounting.hole, stocked.hole
    if mounting.way == "old-work" and hole and needs and (needs[0] < hole[0] or needs[1] < hole[1]):
        return "the hole is too large for it"
    return None


def stocked_depth(stocked: StockBox) -> Decimal | None:
    depth = stocked.base.depth
    if depth is not None and depth is not UNKNOWN:
        return depth
    if stocked.base.form == "standard" and stocked.base.size is not UNKNOWN:
        return standard_sizes(stocked.base.shape).get(stocked.base.size, (None,))[-1]
    return None


def mounted(stocked: StockBox, spot: Spot) -> tuple[list[Buy], Decimal, Disturbance] | None:
    """What putting it in buys, takes and disturbs; None where the stock has no connector for a cable."""
    minutes = spot.stock.minutes
    buys = [Buy(stocked.name, Decimal(1), stocked.price)]
    if not spot.devices and not spot.parts and stocked.cover_price and spot.use == "junction":
        buys.append(Buy(f"blank cover for {stocked.name}", Decimal(1), stocked.cover_price))
    if spot.box.kind is UNKNOWN:
        work, disturbance = minutes.new_box, Disturbance.NOTHING
    else:
        work, disturbance = spot.minutes("another_box"), spot.disturbance()
        if spot.mounting.way == "old-work" and spot.finished and same_hole(stocked, spot.mounting):
            work, disturbance = minutes.another_box, Disturbance.COVER_OFF
    if stocked.clamps == "outside":
        found = spot.connectors()
        if found is None:
            return None
        buys += found[0]
        work += len(spot.cables) * minutes.connector
    return buys, work, disturbance


def same_hole(stocked: StockBox, mounting: Mounting) -> bool:
    """Whether it goes into the hole that is there without cutting."""
    return mounting.hole is None or stocked.hole is None or stocked.hole == mounting.hole


def swap(stocked: StockBox, spot: Spot) -> Move:
    found = mounted(stocked, spot)
    buys, minutes, disturbance = found if found is not None else ([], Decimal(0), Disturbance.NOTHING)
    notes = () if found is not None else ("connectors for it are not in the stock file",)
    if not spot.mounting.way:
        notes = (*notes, "how the box is mounted is not written: the wall is taken as open")
    if spot.mounting.way == "old-work" and stocked.hole is not None and spot.mounting.hole is None:
        notes = (*notes, "it goes into the hole that is there")
    what = f"{stocked.name} in place of what is there"
    return Move(spot.box.name, what, swap_change(stocked, spot), tuple(buys), minutes, disturbance, (stocked,), notes)


def swap_change(stocked: StockBox, spot: Spot) -> Change:
    """The lines that make the box another one: its base, its clamps, its rating."""
    if spot.box.kind and spot.box.kind is not UNKNOWN:
        return kind_change(stocked, spot)
    steps: list[AddItem | PutItem] = []
    name = spot.box.name
    assert spot.base is not None
    steps.append(PutItem(name, replace(stocked.base, at=spot.base.at), spot.base))
    written = spot.of(Clamps)
    if not written:
        steps.append(AddItem(name, Clamps(stocked.clamps)))
    for clamps in written:
        if clamps.way != stocked.clamps:
            steps.append(PutItem(name, Clamps(stocked.clamps, at=clamps.at), clamps))
    if stocked.rated is not None and not spot.of(Rated):
        steps.append(AddItem(name, stocked.rated))
    return tuple(steps)


def kind_change(stocked: StockBox, spot: Spot) -> Change:
    """A box that has its lines from a kind gets another kind; what else its kind said is written under the box."""
    own = {type(item) for item in spot.box.items}
    kept = [item for item in spot.items if item not in spot.box.items and not isinstance(item, Base | Clamps)]
    if Clamps in own or Base in own or any(isinstance(item, Part) for item in kept):
        return spot.replacing(spot.base, stocked.base)
    steps: list[AddKind | SetKind | AddItem] = [AddKind(kind_of(stocked, own)), SetKind(spot.box.name, stocked.key)]
    for item in kept:
        if not (isinstance(item, Rated) and stocked.rated is not None):
            steps.append(AddItem(spot.box.name, replace(item, at=NOWHERE)))
    return tuple(steps)


def kind_of(stocked: StockBox, own: set[type]) -> Kind:
    """A box one can buy as a kind of a sheet, without what the box says itself."""
    items: list[Item] = [stocked.base, Clamps(stocked.clamps)]
    if stocked.rated is not None:
        items.append(stocked.rated)
    return Kind(stocked.key, tuple(item for item in items if type(item) not in own), stocked.name)
