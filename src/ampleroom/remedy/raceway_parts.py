"""What one raceway takes to buy and to put in, by the stock file: sticks, connectors, couplings, straps, bushings."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_CEILING, Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import SUPPORTS
from ampleroom.job.trade import RANK
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import TupleRecord
from ampleroom.remedy.remedy import Buy, Rate
from ampleroom.remedy.stock import Stock
from ampleroom.remedy.takeoff.count import supports
from ampleroom.remedy.takeoff.raceways import BUSHED_FROM, STICK


class RacewayParts(TupleRecord):
    """What one raceway takes: what is bought, minutes of work, what a foot of it takes where its length is not known,
    and the fittings without a price.
    """

    buys: tuple[Buy, ...]
    minutes: Decimal
    rates: tuple[Rate, ...]
    notes: tuple[str, ...]


def raceway_parts(
    name: str, kind: str, size: str, length: Decimal | None, is_large: bool, stock: Stock, book: CodeBook
) -> RacewayParts | None:
    """What a raceway takes, its length in feet; None where the stock file has none of its kind and size.

    ``is_large``: conductors of 4 AWG or larger leave it, which takes bushings.
    """
    stocked = stock.length(f"{kind} {size}")
    if stocked is None:
        return None
    minutes_per_foot = stock.minutes.raceway_per_foot + stock.minutes.pull_per_foot
    buys: list[Buy] = []
    rates: tuple[Rate, ...] = ()
    if length is None:
        rates = (Rate(stocked.name, stocked.per_foot, minutes_per_foot, name),)
    else:
        stick = stocked.length or STICK
        sticks = (length / stick).to_integral_value(ROUND_CEILING)
        buys.append(Buy(f"{stocked.name}, length of {plain_feet(stick)} ft", sticks, stocked.per_foot * stick))
    unpriced: list[str] = []
    for part, number in fittings(kind, length, stocked.length or STICK, is_large, book):
        fitting = stock.fitting(kind, size, part)
        if fitting is not None:
            buys.append(Buy(fitting.name, Decimal(number), fitting.price))
        else:
            unpriced.append(f"{number} {kind.upper()} {size} {part}{'s' * (number != 1)}")
    notes: tuple[str, ...] = ()
    if unpriced:
        notes += (f"{', '.join(unpriced)} on hand: the stock file has no price for them",)
    if length is None:
        notes += (f"couplings and straps are on hand: how many goes by the length of {name}, which is not known",)
    return RacewayParts(tuple(buys), minutes_per_foot * (length or 0), rates, notes)


def fittings(
    kind: str, length: Decimal | None, stick: Decimal, is_large: bool, book: CodeBook
) -> Iterator[tuple[str, int]]:
    """Each fitting of one raceway with its number; of one whose length (feet) is not known those at its ends alone."""
    yield "connector", 2
    if length is not None:
        joints = int((length / stick).to_integral_value(ROUND_CEILING)) - 1
        if joints > 0:
            yield "coupling", joints
        row = next((row for row in book[SUPPORTS].rows if row.kind == kind), None)
        if row is not None:
            yield "strap", supports(length, row)
    if is_large:
        yield "bushing", 2


def takes_bushings(sizes: Iterator[object]) -> bool:
    """Whether some insulated conductor is so large that it needs a bushing where it leaves a raceway."""
    return any(size is not UNKNOWN and RANK[str(size)] >= RANK[BUSHED_FROM] for size in sizes)


def plain_feet(feet: Decimal) -> str:
    """``10``, ``7.5``: feet without zeros at the end."""
    return format(feet.normalize(), "f")
