"""Devices, by what is on each yoke."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.job.model import Device
from ampleroom.job.unknown import UNKNOWN
from ampleroom.remedy.stock import Money, Stock
from ampleroom.remedy.takeoff.count import Count, TakeoffLine, Tally


def device_lines(count: Count) -> Iterator[TakeoffLine]:
    """Every device in a new box."""
    devices = Tally("devices")
    for box in count.job.boxes:
        if not count.is_new(box):
            continue
        for item in count.items[box.name]:
            if isinstance(item, Device):
                count.minutes += count.stock.minutes.device * item.count
                if unknown := unknown_of_device(item, count.stock):
                    count.missing.append(f"{box.name}: {unknown}")
                else:
                    devices.add(*device_entry(item, count.stock))
    yield from devices.lines()


def unknown_of_device(device: Device, stock: Stock) -> str:
    """What has to be known before a device can be bought; empty where all is."""
    name = " + ".join(device.names)
    if "device" in device.names and all(stocked.device.names != device.names for stocked in stock.devices):
        return f"which device it is (line {device.at.line})"
    if device.gangs is UNKNOWN:
        return f"how many gangs its {name} needs"
    return ""


def device_entry(device: Device, stock: Stock) -> tuple[str, Money | None, int]:
    """What to buy for a device line, its price and how many."""
    stocked = next((each for each in stock.devices if each.device.names == device.names), None)
    if stocked is not None:
        return stocked.name, stocked.price, device.count
    rating = f" {device.amperes} A" if device.amperes else ""
    wide = f", {device.gangs} gangs wide" if device.gangs not in (1, UNKNOWN) else ""
    return " + ".join(device.names) + rating + wide, None, device.count
