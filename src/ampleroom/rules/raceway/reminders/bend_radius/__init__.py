"""How tight a raceway may be bent."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table
from ampleroom.quantities import inches
from ampleroom.record import Record
from ampleroom.rules.raceway.bends import BENDS
from ampleroom.rules.raceway.filled import FilledRaceway
from ampleroom.rules.registry import rule
from ampleroom.worksheet import Reminder

NAME = "raceway-bend-radius"
FLEXIBLE = ("fmc", "lfmc", "lfnc-a", "lfnc-b", "ent")


class BendRadius(Record):
    """Least radius of one trade size, to the middle of the raceway, inches: by a one-shot bender, any other way."""

    size: str
    one_shot: Decimal
    other: Decimal
    confidence: str = ""


class BendRadii(Record):
    """Every trade size."""

    cite: str
    confidence: str
    rows: tuple[BendRadius, ...]


BEND_RADII = Table("raceways.bend_radius", BendRadii, __file__, BendRadius)


@rule(
    NAME,
    title="Bend radius",
    topic="reminder",
    about="raceway",
    tables=(BEND_RADII, BENDS),
)
def bend_radius(filled: FilledRaceway, book: CodeBook) -> Iterator[Reminder]:
    """A bend of a raceway has a least radius by its trade size, measured to the middle of the raceway. A one-shot or
    full-shoe bender may make it tighter than any other way of bending. Bends that are not in the sheet are not added
    up.

    Why: A tighter bend flattens the raceway, and conductors scrape along its inside.
    """
    raceway = filled.raceway
    if filled.is_sleeve:
        return
    row = next((row for row in book[BEND_RADII].rows if row.size == filled.size), None)
    if row is not None:
        by_bender = (
            f"; {inches(row.one_shot)} by a one-shot or full-shoe bender"
            if row.one_shot != row.other and raceway.kind not in FLEXIBLE
            else ""
        )
        text = f"Bend it to a radius of {inches(row.other)} or more{by_bender}."
        cite, sure = book[BEND_RADII].cite, book[BEND_RADII].confidence
        yield Reminder(NAME, text, cite, confidence=sure)
    if not raceway.bends:
        most = book[BENDS].most
        text = f"Its bends are not written: no more than {most} degrees of them between two pull points."
        yield Reminder(NAME, text, book[BENDS].cite, confidence=book[BENDS].confidence)
