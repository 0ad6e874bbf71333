"""PVC conduit that grows and shrinks with temperature."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table
from ampleroom.quantities import HUNDREDTH, INCHES_PER_FOOT, count
from ampleroom.record import Record
from ampleroom.rules.raceway.filled import FilledRaceway
from ampleroom.rules.registry import rule
from ampleroom.worksheet import Reminder

NAME = "raceway-expansion"


class Expansion(Record):
    """Inches per inch and degree F, and the change of length that calls for a fitting, inches."""

    cite: str
    confidence: str
    growth: Decimal
    least: Decimal


EXPANSION = Table("raceways.expansion", Expansion, __file__)


@rule(
    NAME,
    title="Expansion of PVC conduit",
    topic="reminder",
    about="raceway",
    tables=(EXPANSION,),
)
def raceway_expansion(filled: FilledRaceway, book: CodeBook) -> Iterator[Reminder]:
    """PVC conduit grows with heat and shrinks with cold. A straight piece between fixed points that would change its
    length by 1/4 in. or more needs an expansion fitting. Measure the span between its coldest and its hottest.

    Why: Without room to move it bows, and it pulls out of its boxes.
    """
    raceway, length = filled.raceway, filled.length
    if not raceway.kind.startswith("pvc") or filled.is_sleeve or not length:
        return
    terms = book[EXPANSION]
    by_degree = length * INCHES_PER_FOOT * terms.growth
    if not by_degree:
        return
    degrees = (terms.least / by_degree).quantize(Decimal(1), ROUND_FLOOR)
    hundred = (by_degree * 100).quantize(HUNDREDTH, ROUND_HALF_UP)
    text = (
        f"{count(length)} ft of PVC change their length by {hundred} in. in 100 °F: a straight piece that long "
        f"needs an expansion fitting where its temperature changes by more than {degrees} °F."
    )
    yield Reminder(NAME, text, terms.cite, confidence=terms.confidence)
