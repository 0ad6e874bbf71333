"""Takeoff: what the sheet says has to be bought, counted from the same runs and boxes that were judged.

To count another kind of thing, write a generator of ``TakeoffLine`` from a ``Count`` and list it in ``COUNTED``, its
group in ``GROUPS``; or register it by ``register_count``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from decimal import Decimal

from ampleroom.job.model import Job
from ampleroom.remedy.stock import Stock
from ampleroom.remedy.takeoff.boxes import box_lines
from ampleroom.remedy.takeoff.breakers import breaker_lines
from ampleroom.remedy.takeoff.cable import cable_lines, connector_lines
from ampleroom.remedy.takeoff.count import Count, Takeoff, TakeoffLine, plain, support_row, supports
from ampleroom.remedy.takeoff.devices import device_lines
from ampleroom.remedy.takeoff.raceways import raceway_lines, wire_lines
from ampleroom.remedy.takeoff.wireways import wireway_lines

GROUPS = ["boxes", "rings and covers", "connectors", "devices", "breakers", "cable", "wire", "raceway", "fittings"]
"""The order of the list; labor comes last."""
COUNTED: dict[str, Callable[[Count], Iterator[TakeoffLine]]] = {
    "box": box_lines,
    "connector": connector_lines,
    "device": device_lines,
    "breaker": breaker_lines,
    "cable": cable_lines,
    "wires": wire_lines,
    "raceway": raceway_lines,
    "wireway": wireway_lines,
}
"""The lines of each kind of thing, by its name. Each adds its minutes and what is missing to the count."""


def register_count(kind: str, group: str, lines: Callable[[Count], Iterator[TakeoffLine]]) -> None:
    """Have a kind of thing counted, in a group of its own at the end. Raises ``ValueError`` where it is counted
    already.
    """
    if kind in COUNTED:
        raise ValueError(f"{kind} is counted already")
    COUNTED[kind] = lines
    GROUPS.append(group)


def takeoff(job: Job, stock: Stock) -> Takeoff:
    """All that is new in a job: what was there before, and old cable, is not bought."""
    count = Count(job, stock)
    lines = [line for counted in COUNTED.values() for line in counted(count)]
    lines.sort(key=lambda line: GROUPS.index(line.group))
    return Takeoff(
        (*lines, labor_line(count)), count.minutes, tuple(count.missing), stock.waste_percent, stock.currency
    )


def labor_line(count: Count) -> TakeoffLine:
    """The hours of work, at the stock's price an hour."""
    hours = (count.minutes / 60).quantize(Decimal("0.01"))
    each = count.stock.per_hour or None
    price = count.stock.labor(count.minutes) if each else None
    return TakeoffLine("labor", "labor", hours, "h", each, price, f"{count.minutes:.0f} minutes")


__all__ = [
    "COUNTED",
    "GROUPS",
    "Count",
    "Takeoff",
    "TakeoffLine",
    "plain",
    "register_count",
    "support_row",
    "supports",
    "takeoff",
]
