"""Where a raceway is held."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_CEILING, Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import SUPPORTS
from ampleroom.editions.tables import Table
from ampleroom.quantities import count
from ampleroom.record import Record
from ampleroom.rules.raceway.filled import FilledRaceway
from ampleroom.rules.registry import rule
from ampleroom.worksheet import Reminder

NAME = "raceway-supports"
THREADED = ("rmc", "imc")


class SizeSupport(Record):
    """How far apart one trade size is supported, in feet."""

    size: str
    every: Decimal
    confidence: str = ""


class SizeSupports(Record):
    """Every trade size."""

    cite: str
    confidence: str
    rows: tuple[SizeSupport, ...]


THREADED_SUPPORTS = Table("raceways.threaded_support", SizeSupports, __file__, SizeSupport)
PVC_SUPPORTS = Table("raceways.pvc_support", SizeSupports, __file__, SizeSupport)


@rule(
    NAME,
    title="Raceway supports",
    topic="reminder",
    about="raceway",
    tables=(SUPPORTS, THREADED_SUPPORTS, PVC_SUPPORTS),
)
def raceway_supports(filled: FilledRaceway, book: CodeBook) -> Iterator[Reminder]:
    """A raceway is fastened at a distance that goes by its kind, and near every box, panel or fitting it ends in.
    Larger PVC conduit may go farther between supports, and so may straight rigid or intermediate conduit with threaded
    couplings.

    Why: A raceway that sags pulls its connectors apart and no longer grounds or protects what is in it.
    """
    raceway = filled.raceway
    row = next((row for row in book[SUPPORTS].rows if row.kind == raceway.kind), None)
    if row is None or filled.is_sleeve:
        return
    every, cite, sure = row.every, book[SUPPORTS].cite, book.confidence(SUPPORTS, row)
    if raceway.kind.startswith("pvc"):
        by_size = next((row for row in book[PVC_SUPPORTS].rows if row.size == filled.size), None)
        if by_size is not None:
            every, cite, sure = by_size.every, book[PVC_SUPPORTS].cite, book.confidence(PVC_SUPPORTS, by_size)
    text = f"Support it every {count(every)} ft, and within {count(row.within)} ft of each end"
    if filled.length is not None and every:
        supports = (filled.length / every).to_integral_value(ROUND_CEILING) + 1
        text += f": at least {supports} supports for {count(filled.length)} ft"
    yield Reminder(NAME, text + ".", cite, confidence=sure)
    if raceway.kind in THREADED:
        longer = next((row for row in book[THREADED_SUPPORTS].rows if row.size == filled.size), None)
        if longer is not None and longer.every > every:
            text = f"Straight with threaded couplings it may go {count(longer.every)} ft between supports."
            sure = book.confidence(THREADED_SUPPORTS, longer)
            yield Reminder(NAME, text, book[THREADED_SUPPORTS].cite, confidence=sure)
