"""Move: connectors that clamp outside, in place of clamps inside."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.job.model import Clamps
from ampleroom.job.unknown import UNKNOWN
from ampleroom.remedy.remedy import Move
from ampleroom.remedy.spot import Spot


def connectors_outside(spot: Spot) -> Iterator[Move]:
    """A connector in a knockout for every cable: only a metal box has knockouts for them. In a divided box it is not told
    which cable is clamped on which side.
    """
    clamps = spot.of(Clamps)
    if not spot.is_metal or not spot.cables or spot.divided:
        return
    old = clamps[0] if clamps else None
    if old is not None and old.way in ("outside", "none", "assembly"):
        return
    buys = spot.connectors
    if buys is None:
        return
    what = "connectors outside in place of clamps inside"
    if old is None or old.way is UNKNOWN:
        what = "connectors outside, whatever clamps are in it now"
    change = spot.replacing(old, Clamps("outside"))
    yield Move(
        spot.box.name,
        what,
        change,
        buys,
        len(spot.cables) * spot.minutes("connector"),
        spot.disturbance(),
        notes=("it has a free knockout for each cable",),
    )
