"""Bends between two pull points."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table
from ampleroom.record import Record
from ampleroom.rules.raceway.filled import FilledRaceway
from ampleroom.rules.registry import rule
from ampleroom.worksheet import Finding, Verdict

NAME = "raceway-bends"


class Bends(Record):
    """The most a raceway turns between pull points, in degrees."""

    cite: str
    confidence: str
    most: Decimal


BENDS = Table("raceways.bends", Bends, __file__)


@rule(
    NAME,
    title="Bends between pull points",
    topic="finding",
    about="raceway",
    tables=(BENDS,),
)
def raceway_bends(filled: FilledRaceway, book: CodeBook) -> Iterator[Finding]:
    """Between pull points a raceway may turn through 360 degrees in all. Offsets and kicks count with all their bends.
    Where there are more, put a box or a conduit body in between.

    Why: Each bend multiplies the pull, and past so many bends insulation tears.
    """
    raceway = filled.raceway
    if not raceway.bends or filled.is_sleeve:
        return
    terms = book[BENDS]
    most, total = terms.most, sum(raceway.bends)
    cite, sure = terms.cite, terms.confidence
    if total <= most:
        message = f"{filled.name} turns through {total} degrees, {most} allowed"
        yield Finding(NAME, Verdict.PASSES, filled.name, message, cite, raceway.at, confidence=sure)
        return
    allowed = before = 0
    while before + raceway.bends[allowed] <= most:
        before += raceway.bends[allowed]
        allowed += 1
    place = f"put a pull point after bend {allowed}" if allowed else "use a wider bend"
    message = f"{filled.name} turns through {total} degrees, {most} allowed: {place}"
    yield Finding(NAME, Verdict.FAILS, filled.name, message, cite, raceway.at, confidence=sure)
