"""How deep a raceway lies underground."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table
from ampleroom.quantities import inches
from ampleroom.record import Record
from ampleroom.rules.raceway.filled import FilledRaceway
from ampleroom.rules.registry import rule
from ampleroom.worksheet import Reminder

NAME = "raceway-cover-depth"
RIGID = ("rmc", "imc")


class CoverDepth(Record):
    """Least cover in one place, inches: of rigid and intermediate metal conduit, of any other raceway."""

    place: str
    rigid: Decimal
    other: Decimal
    confidence: str = ""


class CoverDepths(Record):
    """Every place; the first is open ground."""

    cite: str
    confidence: str
    rows: tuple[CoverDepth, ...]


COVER_DEPTHS = Table("raceways.cover_depth", CoverDepths, __file__, CoverDepth)


@rule(
    NAME,
    title="Cover depth underground",
    topic="reminder",
    about="raceway",
    tables=(COVER_DEPTHS,),
)
def cover_depth(filled: FilledRaceway, book: CodeBook) -> Iterator[Reminder]:
    """A raceway underground has a least cover, from its top to the finished grade, by its kind and by what lies above
    it. Rigid and intermediate metal conduit may lie shallower than other kinds. Write ``underground`` behind the
    raceway.

    Why: A spade or a wheel must not reach the conductors.
    """
    raceway = filled.raceway
    if not raceway.underground:
        return
    terms = book[COVER_DEPTHS]
    depths = [(row.rigid if raceway.kind in RIGID else row.other, row.place) for row in terms.rows]
    first, *others = [(depth, place) for depth, place in depths if depth]
    text = f"Cover it by {inches(first[0])} or more; " + "; ".join(
        f"{inches(depth)} under {place}" if "trench" not in place else f"{inches(depth)} in {place}"
        for depth, place in others
    )
    yield Reminder(NAME, text + ".", terms.cite, confidence=terms.confidence)
