"""What sits in a box: devices, modules, terminal blocks, clamps."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.job.model import Base, Clamps, Device, Module, TerminalBlock
from ampleroom.job.trade import size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import inches
from ampleroom.rules.box.fill.devices import DEVICES
from ampleroom.rules.builder.ask import Asker
from ampleroom.rules.builder.conductors import landing_sizes
from ampleroom.rules.space import Entering, SettledDevice, Sized

POSSIBLE_GANGS: tuple[int, int] = (1, 2)
"""A device of unknown width needs one gang at best and two at worst; wider ones are written as such."""
EFFORT = 1
"""A device has to be taken out to see what is on it."""


def clamps(written: Clamps | None, entering: tuple[Entering, ...], base: Base | None, asker: Asker) -> Clamps | None:
    """How the cables are held; None where no cable comes in."""
    if written is not None and written.way is not UNKNOWN:
        return written
    if written is None:
        has_cable = any(met.run.cable is not None for met in entering)
        if not has_cable or (base is not None and base.form == "conduit body"):
            return None
    record = written if written is not None else asker.box
    text = f"whether cables are clamped inside {asker.place}"
    way = asker.ask(record, "clamps", text, ("outside", "inside"))
    return Clamps(way, at=record.at)


def sized(item: Module | TerminalBlock, name: str, entering: tuple[Entering, ...], asker: Asker) -> Sized:
    """A module or a block with the largest conductor on it."""
    return Sized(item, connected(item, name, entering, asker)[0])


def device(item: Device, entering: tuple[Entering, ...], asker: Asker) -> SettledDevice:
    """A device with the size it counts by, and how wide it is."""
    name = " + ".join(item.names)
    size, why = connected(item, f"the {name}", entering, asker)
    thickest = size
    if item.pigtail:
        if asker.book.reading("pigtailed-device") == "pigtail-size":
            size, why = item.pigtail, f"by the {size_text(item.pigtail)} pigtail that lands on it"
        else:
            why = f"by the {size_text(size)} splice that feeds its {size_text(item.pigtail)} pigtail"
    return SettledDevice(item, size, why, gangs(item, name, asker), width(item, name, asker), thickest)


def gangs(item: Device, name: str, asker: Asker) -> int:
    """How many gangs a device needs."""
    if item.gangs is not UNKNOWN:
        return item.gangs
    return asker.ask(item, "gangs", f"how many gangs the {name} needs, one or two", POSSIBLE_GANGS)


def width(item: Device, name: str, asker: Asker) -> Decimal | None:
    """How wide a device is, inches; None where it is of the usual width."""
    if item.width is not UNKNOWN:
        return item.width
    limit = Decimal(asker.book[DEVICES].single_gang_in)
    names = (f"{inches(limit)} or less", f"more than {inches(limit)}")
    return asker.ask(item, "width", f"how wide the {name} is", (limit, limit + 1), names=names)


def connected(
    item: Device | Module | TerminalBlock, name: str, entering: tuple[Entering, ...], asker: Asker
) -> tuple[str, str]:
    """The largest conductor connected to a device, and how that is known: as written, or from what ends here."""
    if item.size is not UNKNOWN:
        return item.size, f"by {size_text(item.size)}, the largest conductor on it"
    landing = landing_sizes(entering)
    if len(landing) == 1:
        return landing[0], f"by {size_text(landing[0])}, as every conductor that ends here is {size_text(landing[0])}"
    text = f"the largest conductor on {name} in {asker.box.name}"
    size = asker.ask_size(item, "connected size", text, landing or asker.any_size, effort=EFFORT)
    return size, f"by {size_text(size)}, one of the sizes that end here" if landing else "by a size not known"
