"""Box fill: devices and equipment on a yoke."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Counted, Line
from ampleroom.editions import CodeBook
from ampleroom.editions.conductor_room import CONDUCTOR_ROOM
from ampleroom.editions.tables import Table
from ampleroom.job.model import Device
from ampleroom.job.trade import size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import inches, plural
from ampleroom.record import Record
from ampleroom.rules.allowance import allowance, within_table
from ampleroom.rules.registry import rule
from ampleroom.rules.space import SettledDevice, Space, exactly

NAME = "box-fill-devices"


class Devices(Record):
    """Allowances of a yoke in each gang it counts for."""

    cite: str
    confidence: str
    per_yoke: Decimal
    single_gang_in: Decimal
    """A device wider than so many inches counts for more than one gang."""
    wide_gangs: Decimal
    """So many, where one that wide mounts in a single gang; the reading ``wide-device``."""


DEVICES = Table("box_fill.devices", Devices, __file__)


@rule(
    NAME,
    title="Devices",
    topic="fill",
    of_contents=True,
    drawn_as="devices",
    counts=(Device,),
    tables=(DEVICES, CONDUCTOR_ROOM),
    readings=(
        "wide-device",
        "pigtailed-device",
        "combination-device",
        "mixed-yokes",
        "device-on-cover",
        "deep-bodies",
        "large-on-device",
    ),
)
def devices_lines(space: Space, book: CodeBook) -> Iterator[Line]:
    """Each yoke or strap takes two allowances, whatever is on it: a switch and a receptacle on one yoke still take two.
    Size them by the largest conductor connected to that device, not by the largest in the box. A device that needs
    more than one gang takes two allowances for each gang. A blank plate takes none.

    A range, a dryer or a receptacle of 30 A or more may need one gang or two. If the sheet gives no width, both are
    tried.

    Why: The device fills the space where conductors fold, and the stiffest wire on it decides how they fold.
    """
    terms = book[DEVICES]
    confidence = terms.confidence
    for settled in space.devices:
        device = settled.device
        gangs, readings, wide = gangs_counted(settled, book)
        each = allowance(settled.size, book)
        name = " + ".join(device.names)
        label = f"{plural(device.count, 'yoke')}: {name}" + (f", {device.label}" if device.label else "")
        why = f"{terms.per_yoke} for each yoke" if gangs == 1 else f"{terms.per_yoke} for each of {gangs} gangs"
        why += (
            f", {settled.why_size}"
            + (f"; {wide}" if wide else "")
            + ("; both on one yoke" if len(device.names) > 1 else "")
        )
        if device.pigtail:
            readings += ("pigtailed-device",)
        if each is None:
            row = within_table(settled.size, book)
            each = book[CONDUCTOR_ROOM].rows[row]
            why += (
                f"; the table has no {size_text(settled.size)}, so its {size_text(row)} is taken; wires that large "
                "also need pull-box distances"
            )
            readings += ("large-on-device",)
        yield Counted(
            NAME,
            label,
            terms.per_yoke * gangs * device.count,
            each,
            why,
            terms.cite,
            confidence,
            readings,
        )
    for blank in space.blanks:
        why = "no yoke with a device on it, so no allowance"
        label = plural(blank.count, "blank plate") + (f", {blank.label}" if blank.label else "")
        yield Counted(NAME, label, Decimal(0), Decimal(0), why, terms.cite, confidence)


def gangs_counted(settled: SettledDevice, book: CodeBook) -> tuple[Decimal, tuple[str, ...], str]:
    """For how many gangs a device counts, the reading leaned on, and why."""
    terms = book[DEVICES]
    limit = terms.single_gang_in
    if settled.gangs > 1:
        return exactly(settled.gangs), (), f"it needs {settled.gangs} gangs"
    if settled.width is None or settled.width <= limit:
        return exactly(1), (), ""
    if book.reading("wide-device") == "by-gang":
        measured = "" if settled.device.width is UNKNOWN else f"{inches(settled.width)} wide, but "
        return exactly(1), ("wide-device",), f"{measured}it mounts in one gang"
    if settled.device.width is UNKNOWN:
        measured = f"not measured: assumed more than {inches(limit)} wide"
    else:
        measured = f"{inches(settled.width)} wide, more than {inches(limit)}"
    return terms.wide_gangs, ("wide-device",), f"{measured}, though it mounts in one gang"
