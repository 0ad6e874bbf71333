"""Three conductors that may jam."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_FLOOR, Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import Bore
from ampleroom.editions.tables import Table
from ampleroom.facts import Ends
from ampleroom.quantities import HUNDREDTH
from ampleroom.record import Record
from ampleroom.rules.raceway.filled import ENDS as FILL_ENDS
from ampleroom.rules.raceway.filled import FilledRaceway
from ampleroom.rules.registry import rule
from ampleroom.worksheet import Finding, Verdict

NAME = "raceway-jam"
ENDS: Ends = {field: end for field, end in FILL_ENDS.items() if isinstance(end, tuple)}
"""Neither end of a size or an insulation is worse: three may jam in the middle alone, so every value is tried."""


class Jam(Record):
    """How many alike may jam, and between which ratios of bore to conductor; ``at_bends``: how much wider a bent bore
    is.
    """

    cite: str
    confidence: str
    alike: Decimal
    least: Decimal
    most: Decimal
    at_bends: Decimal


JAM = Table("raceways.jam", Jam, __file__)


@rule(
    NAME,
    title="Three conductors that may jam",
    topic="finding",
    about="raceway",
    tables=(JAM,),
    readings=("jam-at-bends",),
    ends=ENDS,
)
def raceway_jam(filled: FilledRaceway, book: CodeBook) -> Iterator[Finding]:
    """Three conductors of one thickness and nothing else in a raceway may jam side by side where the bore is 2.8 to 3.2
    times as wide as one of them. It is advice, not a rule: take the next size, or pull with care.

    Why: In a bend three conductors can change from a triangle to a row, and a row as wide as the bore wedges.
    """
    raceway, terms = filled.raceway, book[JAM]
    lying = [each for each in filled.lying if each.count]
    count = sum((each.count for each in lying), Decimal(0))
    if filled.row is None or filled.is_sleeve or count != terms.alike or any(each.is_cable for each in lying):
        return
    diameters = {each.diameter for each in lying}
    diameter = diameters.pop()
    if diameters or not diameter.is_finite() or not diameter:
        return
    ratio, may_jam = jam_ratio(filled.row, diameter, book)
    if not may_jam:
        return
    message = (
        f"{filled.name} may jam: its bore is {ratio} times as wide as one of its {count} conductors; "
        f"from {terms.least} to {terms.most} they can wedge in a bend"
    )
    yield Finding(
        NAME,
        Verdict.ADVICE,
        filled.name,
        message,
        terms.cite,
        raceway.at,
        confidence=terms.confidence,
        readings=("jam-at-bends",),
    )


def jam_ratio(row: Bore, diameter: Decimal, book: CodeBook) -> tuple[Decimal, bool]:
    """Bore over conductor for three alike, rounded down to a hundredth, and whether such three may jam in it.

    Compared exactly, without the division.
    """
    terms = book[JAM]
    bore = row.diameter
    if book.reading("jam-at-bends") == "widened":
        bore *= terms.at_bends
    may_jam = terms.least * diameter <= bore <= terms.most * diameter
    return (bore / diameter).quantize(HUNDREDTH, ROUND_FLOOR), may_jam
