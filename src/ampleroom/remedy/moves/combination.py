"""Move: two devices on one yoke in place of two yokes."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.job.edit import AddItem, Change, DropItem, PutItem
from ampleroom.job.model import Device
from ampleroom.job.trade import RANK
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import replace
from ampleroom.remedy.box_in_place import BoxInPlace
from ampleroom.remedy.remedy import Buy, Disturbance, Move
from ampleroom.where import NOWHERE

MOST_DEVICES = 24
"""How many device lines are tried, each with each other one. No box that can be fixed has more."""


def combination_device(placed: BoxInPlace) -> Iterator[Move]:
    """Two devices of one gang each become one that the stock has as a combination; the gang left over gets a blank. In
    a divided box they may be on two sides of the barrier, so none is offered there.
    """
    if placed.divided:
        return
    simple = simple_devices(placed)[:MOST_DEVICES]
    for stocked in placed.stock.devices:
        names = stocked.device.names
        if len(names) != 2:
            continue
        for first, second in pairs(simple):
            if sorted((first.names[0], second.names[0])) == sorted(names) and as_good(stocked.device, first, second):
                change = joined(placed.box.name, first, second, stocked.device)
                buys = (Buy(stocked.name, Decimal(1), stocked.price),)
                disturbance = Disturbance.COVER_OFF if placed.is_existing else Disturbance.NOTHING
                action = f"replace the {first.names[0]} and the {second.names[0]} with {stocked.name}"
                yield Move(placed.box.name, action, change, buys, placed.stock.minutes.combination_device, disturbance)


def simple_devices(placed: BoxInPlace) -> list[Device]:
    """The device lines written under the box itself that a combination may take the place of."""
    own = [device for device in placed.devices if any(item is device for item in placed.box.items)]
    return [device for device in own if is_simple(device)]


def devices_not_tried(placed: BoxInPlace) -> str:
    """What to tell of a box with more device lines than are tried; empty where all are."""
    lines = 0 if placed.divided else len(simple_devices(placed))
    if lines <= MOST_DEVICES or not any(len(stocked.device.names) == 2 for stocked in placed.stock.devices):
        return ""
    return f"Only the first {MOST_DEVICES} of {lines} device lines were tried two on one yoke."


def is_simple(device: Device) -> bool:
    """One device in one gang, of which nothing is said that two on one yoke could not keep."""
    plain = device.width is None and not device.pigtail and device.leads is None
    return len(device.names) == 1 and device.gangs == 1 and plain


def as_good(new: Device, *olds: Device) -> bool:
    """Whether it is rated for what those it replaces are said to be rated for."""
    amperes = all(old.amperes is None or old.amperes <= (new.amperes or 0) for old in olds)
    return amperes and all(old.volts in (None, new.volts) for old in olds)


def pairs(devices: list[Device]) -> Iterator[tuple[Device, Device]]:
    """Two devices at a time, each two once; a line of two or more also with itself."""
    for index, first in enumerate(devices):
        if first.count >= 2:
            yield first, first
        for second in devices[index + 1 :]:
            yield first, second


def joined(box: str, first: Device, second: Device, stocked: Device) -> Change:
    """One yoke for two, by the larger wire; where a line stands for several devices alike, two of them go."""
    label = " and ".join(dict.fromkeys(label for label in (first.label, second.label) if label))
    size = first.size
    if second.size is UNKNOWN or (size is not UNKNOWN and RANK[second.size] > RANK[size]):
        size = second.size
    new = replace(stocked, size=size, label=label, at=NOWHERE)
    if first is second:
        if first.count == 2:
            return (PutItem(box, new, first),)
        return (PutItem(box, replace(first, count=first.count - 2), first), AddItem(box, new))
    if first.count > 1:
        return (PutItem(box, replace(first, count=first.count - 1), first), *fewer(box, second), AddItem(box, new))
    return (PutItem(box, new, first), *fewer(box, second))


def fewer(box: str, device: Device) -> Change:
    """One less of a device line."""
    if device.count == 1:
        return (DropItem(box, device),)
    return (PutItem(box, replace(device, count=device.count - 1), device),)
