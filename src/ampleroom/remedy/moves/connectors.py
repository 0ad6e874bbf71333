"""Move: connectors that clamp outside, in place of clamps inside."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.job.model import Clamps
from ampleroom.job.unknown import UNKNOWN
from ampleroom.remedy.box_in_place import BoxInPlace
from ampleroom.remedy.remedy import Move


def connectors_outside(placed: BoxInPlace) -> Iterator[Move]:
    """A connector in a knockout for every cable: only a metal box has knockouts for them. In a divided box it is not
    told which cable is clamped on which side.
    """
    clamps = placed.of(Clamps)
    if not placed.is_metal or not placed.cables or placed.divided:
        return
    old = clamps[0] if clamps else None
    if old is not None and old.way in ("outside", "none", "assembly"):
        return
    buys = placed.connectors
    if buys is None:
        return
    action = "replace the inside clamps with outside connectors"
    if old is None or old.way is UNKNOWN:
        action = "use outside connectors, whatever clamps are in it now"
    change = placed.replacing(old, Clamps("outside"))
    yield Move(
        placed.box.name,
        action,
        change,
        buys,
        len(placed.cables) * placed.minutes("connector"),
        placed.disturbance(),
        notes=("there is a free knockout for each cable",),
    )
