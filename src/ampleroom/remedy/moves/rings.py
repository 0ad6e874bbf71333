"""Move: an extension ring, a raised cover or a plaster ring with a marked volume."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.job.model import Mounting, Part
from ampleroom.remedy.box_in_place import BoxInPlace
from ampleroom.remedy.remedy import Buy, Disturbance, Move
from ampleroom.remedy.stock import StockPart
from ampleroom.rules.space import is_unmeasured


def rings_and_covers(placed: BoxInPlace) -> Iterator[Move]:
    """What goes on the face of a standard metal box: a nonmetallic box takes no metal ring, boxes ganged together no
    ring for one of them, a fan hangs from its box and not from a ring, and an unmarked ring of no standard size adds
    nothing, so none is offered. A cover or plaster ring takes the place of the one that is there.
    """
    if (
        placed.base is None
        or not placed.face
        or placed.is_metal is not True
        or placed.divided
        or placed.base.ganged > 1
    ):
        return
    if "fan" in placed.ratings:
        return
    for stocked in placed.stock.parts:
        if stocked.on != placed.face or not adds_room(stocked.part) or not fits_mounting(stocked, placed.mounting):
            continue
        old = None
        if stocked.part.kind != "extension ring":
            old = next((part for part in placed.parts if part.kind != "extension ring"), None)
        elif any(part.kind == "extension ring" for part in placed.parts):
            continue
        if old is not None and may_be_the_same(stocked.part, old):
            continue
        action = f"add {stocked.name}" if old is None else f"replace its {old.kind} with {stocked.name}"
        change = placed.replacing(old, stocked.part)
        buys = (Buy(stocked.name, Decimal(1), stocked.price),)
        disturbance = ring_disturbance(stocked.part, old, placed)
        notes = assumed(stocked.part, old, placed)
        yield Move(placed.box.name, action, change, buys, placed.minutes("ring"), disturbance, notes=notes)


def assumed(part: Part, old: Part | None, placed: BoxInPlace) -> tuple[str, ...]:
    """What the sheet does not say, and what somebody will see; each reads on after "assumes"."""
    notes: tuple[str, ...] = ()
    if placed.devices and old is not None:
        notes += ("its opening fits the devices here",)
    if placed.finished and part.kind != "plaster ring":
        notes += (f"the {part.kind.split()[-1]} may stand proud of the finish",)
    return notes


def may_be_the_same(part: Part, old: Part) -> bool:
    """Whether a ring or cover may be just what is there already, with the depth nobody wrote down."""
    return (part.kind, part.volume) == (old.kind, old.volume) and (is_unmeasured(old) or old.depth == part.depth)


def adds_room(part: Part) -> bool:
    """Whether a ring or cover adds volume to its box."""
    return bool(part.volume) or bool(part.size)


def fits_mounting(stocked: StockPart, mounting: Mounting) -> bool:
    """Whether the part is meant for how the box sits; where nobody said, any but old work."""
    if not mounting.way:
        return stocked.mounting != ("old-work",)
    return mounting.way in stocked.mounting


def ring_disturbance(part: Part, old: Part | None, placed: BoxInPlace) -> Disturbance:
    """A plaster ring put into a finished wall, or taken out of one, means plaster; a ring or cover in front of the wall
    only takes the cover off.
    """
    kinds = {part.kind, old.kind if old is not None else part.kind}
    if "plaster ring" in kinds and placed.finished:
        return Disturbance.PLASTER
    return Disturbance.COVER_OFF if placed.is_existing else Disturbance.NOTHING
