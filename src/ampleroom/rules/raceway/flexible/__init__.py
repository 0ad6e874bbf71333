"""Conductors in 3/8 in. flexible metal conduit."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Counted, Figure, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table
from ampleroom.record import Record
from ampleroom.rules.raceway.filled import ENDS, FilledRaceway, Lying
from ampleroom.rules.registry import rule
from ampleroom.rules.space import exactly
from ampleroom.worksheet import Finding, OpenFact, Purpose, Verdict, Worksheet

NAME = "raceway-flexible-whip"
PURPOSE = Purpose(NAME, Unit.COUNT, "Most conductors", "Conductors")
KIND = "fmc"


class Whip(Record):
    """The most insulated conductors of one size, by where the fittings sit."""

    types: str
    size: str
    inside: Decimal
    outside: Decimal
    confidence: str = ""


class Whips(Record):
    """Every size and insulation; ``grounds``: how many grounds of the same size may lie there besides."""

    cite: str
    confidence: str
    grounds: Decimal
    rows: tuple[Whip, ...]


WHIPS = Table("raceways.fmc_3_8", Whips, __file__, Whip)


def is_whip(filled: FilledRaceway) -> bool:
    """Whether it is the one raceway that has a table of its own: flexible metal conduit of the smallest size."""
    return filled.row is not None and filled.raceway.kind == KIND and filled.row.size == "/".join(("3", "8"))


@rule(
    NAME,
    title="3/8 in. flexible metal conduit",
    topic="finding",
    about="raceway",
    tables=(WHIPS,),
    ends=ENDS,
)
def flexible_whip(filled: FilledRaceway, book: CodeBook) -> Iterator[Finding]:
    """Flexible metal conduit of the smallest trade size goes by a table of its own: so many insulated conductors of one
    size and kind, and one ground of that size besides. Fewer go in where its fittings reach inside it; that is what is
    counted here. Conductors the table does not have are left open.

    Why: The conduit is so narrow that the fittings take a part of its bore.
    """
    if not is_whip(filled) or filled.is_sleeve or not filled.lying:
        return
    name, at = filled.name, filled.raceway.at
    cite, sure = book[WHIPS].cite, book[WHIPS].confidence
    insulated = [lying for lying in filled.lying if lying.count and not lying.is_ground]
    grounds = [lying for lying in filled.lying if lying.count and lying.is_ground]
    row = only_row(insulated, book)
    size = insulated[0].size if insulated else ""
    many_grounds = sum((lying.count for lying in grounds), Decimal(0)) > book[WHIPS].grounds
    if row is None or many_grounds or any(lying.size != size for lying in grounds):
        fact = OpenFact(f"what lies in {name}, by the table for so narrow a conduit", Decimal(0), "", at)
        message = f"{name}: its table has no row for these conductors together"
        yield Finding(NAME, Verdict.OPEN, name, message, cite, at, facts=(fact,), confidence=sure)
        return
    need = tuple(
        [
            Counted(NAME, lying.label, lying.count, exactly(1), lying.why, cite, sure, unit=Unit.COUNT)
            for lying in insulated
        ]
    )
    why = f"with fittings inside; {row.outside} with fittings outside; one ground of the same size besides"
    have = Figure(NAME, f"3/8 {KIND}, {insulated[0].label}", row.inside, Unit.COUNT, why, cite, sure)
    sheet = Worksheet((have,), need, PURPOSE)
    message = f"{name} holds {sheet.unit.number(sheet.needed)} conductors, {sheet.unit.number(sheet.there)} allowed"
    yield Finding(NAME, sheet.verdict, name, message, cite, at, worst=sheet, confidence=sure)


def is_unlisted(finding: Finding) -> bool:
    """Whether the table of so narrow a conduit has no row for what lies in it: no fact settles that."""
    return finding.rule == NAME and finding.worst is None and finding.verdict is Verdict.OPEN


def only_row(insulated: list[Lying], book: CodeBook) -> Whip | None:
    """The table's row for all insulated conductors together; None where they are not of one size and of one row."""
    rows = book[WHIPS].rows
    if any(lying.is_cable for lying in insulated):
        return None
    fitting_rows = [
        next((row for row in rows if row.size == lying.size and lying.insulation in row.types.split()), None)
        for lying in insulated
    ]
    return fitting_rows[0] if fitting_rows and all(row is fitting_rows[0] for row in fitting_rows) else None
