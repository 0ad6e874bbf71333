"""Move: a run that ends here ends in a neighboring box instead, where there is room."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.job.edit import PutRun
from ampleroom.job.model import Cable, Run, Stop
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import replace
from ampleroom.remedy.box_in_place import BoxInPlace
from ampleroom.remedy.remedy import Buy, Move

EXTRA_FEET = Decimal(6)
"""What a longer way around takes where nobody measured the run between the boxes; common practice, no source."""

MOST_RUNS = 24
"""How many runs to other boxes are tried, each with each other one. No box that can be fixed has more."""

GOVERNS = ("switch", "dimmer", "timer", "sensor", "thermostat", "control", "gfci", "afci")
"""Devices that switch or guard what a cable leads to: it cannot simply end elsewhere."""


def another_run(placed: BoxInPlace) -> Iterator[Move]:
    """A cable of a circuit that also runs on to a neighboring box is taken there instead. The cable between the two has
    to be of the same kind and size, so that it carries the same conductors, and the box keeps it. Where a device here
    switches or guards something, nobody wrote down which cable that is, so none is moved.
    """
    if any(word in name for device in placed.devices for name in device.names for word in GOVERNS):
        return
    here = placed.box.name
    between = [run for run in placed.runs if joins(run, here)][:MOST_RUNS]
    for moved in between:
        if moved.count != 1 or moved.existing or (moved.cable is not None and moved.cable.kind in ("old", "?")):
            continue
        for link in between:
            if link is moved or not same_make(moved, link) or moved.circuit != link.circuit:
                continue
            neighbor = far_stop(link, here)
            if neighbor.name is UNKNOWN or neighbor.name not in placed.job.box_names:
                continue
            if neighbor.name in {far_stop(moved, here).name, *(passed.name for passed in moved.through)}:
                continue
            yield move_to(placed, moved, link, neighbor)


def runs_not_tried(placed: BoxInPlace) -> str:
    """What to tell of a box with more runs than are tried; empty where all are."""
    joined = sum(joins(run, placed.box.name) for run in placed.runs)
    if joined <= MOST_RUNS:
        return ""
    return f"Only the first {MOST_RUNS} of {joined} cables were tried for another route."


def joins(run: Run, here: str) -> bool:
    """Whether it is one cable between this box and one other place."""
    return run.cable is not None and len(run.stops) == 2 and any(stop.name == here for stop in run.stops)


def same_make(moved: Run, link: Run) -> bool:
    """Whether two runs are the same cable of the same metal."""
    return isinstance(moved.cable, Cable) and link.cable == moved.cable and link.material == moved.material


def far_stop(run: Run, here: str) -> Stop:
    """The end of a run that is not this place."""
    return run.stops[1] if run.stops[0].name == here else run.stops[0]


def move_to(placed: BoxInPlace, moved: Run, link: Run, neighbor: Stop) -> Move:
    """The move that ends a run at the neighbor; cable is added by the length of the link, ``EXTRA_FEET`` where that is
    not known.
    """
    here = placed.box.name
    stops = tuple(
        replace(stop, name=neighbor.name, space=neighbor.space) if stop.name == here else stop for stop in moved.stops
    )
    extra = link.length if link.length is not None and link.length is not UNKNOWN else EXTRA_FEET
    length = moved.length
    if length is not None and length is not UNKNOWN:
        length = length + extra
    change = (PutRun(replace(moved, stops=stops, length=length), moved),)
    assert moved.cable is not None
    stocked = placed.stock.cable(moved.cable)
    each = stocked.per_foot if stocked else Decimal(0)
    notes = () if stocked else (f"{moved.cable.name} is on hand: the stock file has no price for it",)
    buys = (Buy(moved.cable.name, extra, each),)
    far = far_stop(moved, here).name
    source = "with its other end not known" if far is UNKNOWN else f"from {far}"
    action = f"end the {moved.cable.name} {source} in {neighbor.name} instead"
    disturbance = placed.disturbance()
    minutes = placed.minutes("another_run") + extra * placed.stock.minutes.cable_per_foot
    return Move(
        here,
        action,
        change,
        buys,
        minutes,
        disturbance,
        notes=(*notes, f"the cable can be rerouted to {neighbor.name}"),
    )
