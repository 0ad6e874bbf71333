"""Raceway fill."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Counted, Figure, Line, Share, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import (
    BARE_WIRES,
    BORES,
    CABLE_IN_RACEWAY,
    COMPACT_WIRES,
    INSULATED_WIRES,
    METRIC_SIZES,
    NIPPLE,
    RACEWAY_FILL,
    ROUNDING,
    Bore,
)
from ampleroom.editions.tables import Table
from ampleroom.quantities import NO_LIMIT
from ampleroom.record import Record
from ampleroom.rules.raceway.filled import ENDS, FilledRaceway, Lying
from ampleroom.rules.raceway.flexible import is_whip
from ampleroom.rules.raceway.limit import (
    conductors_in,
    count_text,
    fill_limit,
    may_round_up,
    whole_count,
)
from ampleroom.rules.raceway.sizes import bore_rows
from ampleroom.rules.registry import rule
from ampleroom.rules.space import exactly
from ampleroom.words import weighed_message
from ampleroom.worksheet import RACEWAY_FILL as PURPOSE
from ampleroom.worksheet import Finding, OpenFact, Verdict, Worksheet

NAME = PURPOSE.name


class Sleeve(Record):
    """A short piece of raceway that only protects cable from damage."""

    cite: str
    confidence: str


SLEEVE = Table("raceways.sleeve", Sleeve, __file__)


@rule(
    NAME,
    title="Raceway fill",
    topic="finding",
    about="raceway",
    tables=(
        *(
            RACEWAY_FILL,
            ROUNDING,
            METRIC_SIZES,
            BORES,
            INSULATED_WIRES,
            COMPACT_WIRES,
            BARE_WIRES,
            CABLE_IN_RACEWAY,
            NIPPLE,
        ),
        SLEEVE,
    ),
    readings=("fill-column", "nipple-rounding", "unknown-ground"),
    ends=ENDS,
)
def raceway_fill(filled: FilledRaceway, book: CodeBook) -> Iterator[Finding]:
    """Every conductor in a raceway counts, grounds and spares too, by its area with its insulation. One conductor may
    fill 53 % of the bore, two 31 %, more than two 40 %. A nipple of up to 24 in. may be filled to 60 %.

    A cable counts as one conductor, as thick as its wider side. Where all conductors are one size, a count is rounded
    up from a decimal of 0.8. A short sleeve that only protects cable from damage has no limit; with single wires in it,
    it is no sleeve and is judged as any raceway. Two runs that name a raceway by kind and size alone, between the same
    places, may share one: where they fit only apart, that is asked.

    Why: Conductors need air around them to shed heat, and slack to be pulled in without tearing.
    """
    name, raceway = filled.name, filled.raceway
    if not filled.lying:
        fact = OpenFact(f"what lies in {name}", Decimal(0), "no run or wires name it", raceway.at)
        message = f"{name} has nothing in it yet"
        cite = book[RACEWAY_FILL].cite
        yield Finding(NAME, Verdict.OPEN, name, message, cite, raceway.at, facts=(fact,))
        return
    if filled.is_sleeve:
        message = f"{name} is a sleeve that protects cable: no fill limit"
        cite, sure = book[SLEEVE].cite, book[SLEEVE].confidence
        yield Finding(NAME, Verdict.PASSES, name, message, cite, raceway.at, confidence=sure)
        return
    if is_whip(filled):
        return  # it has a table of its own
    cite = book[RACEWAY_FILL].cite
    if filled.row is None:
        sizes = [row.size for row in bore_rows(raceway.kind, book)]
        fact = OpenFact(
            f"the trade size of {name}", Decimal(0), f"{raceway.kind} comes in {sizes[0]} to {sizes[-1]}", raceway.at
        )
        message = f"{name}: the table has no {raceway.kind} {raceway.size}"
        yield Finding(NAME, Verdict.OPEN, name, message, cite, raceway.at, facts=(fact,))
        return
    sheet, readings = fill_worksheet(filled, filled.row, book)
    verdict = sheet.verdict
    yield Finding(
        NAME,
        verdict,
        name,
        weighed_message(name, verdict, sheet),
        book[NIPPLE].cite if filled.is_nipple else cite,
        raceway.at,
        worst=sheet,
        readings=readings,
        confidence=book[RACEWAY_FILL].confidence,
    )


def fill_worksheet(filled: FilledRaceway, row: Bore, book: CodeBook) -> tuple[Worksheet, tuple[str, ...]]:
    """What may lie in a raceway and what does, in2, and the disputed points that decide."""
    need = tuple([lying_line(lying, book) for lying in filled.lying if lying.count])
    pieces = filled.pieces
    limit = fill_limit(row, pieces, filled.is_nipple, book)
    readings = ["fill-column"] if limit.leans else []
    kind = filled.raceway.kind
    label = f"{'Nipple' if filled.is_nipple else 'Raceway'}, {row.size} {kind}"
    cite = book[NIPPLE].cite if filled.is_nipple else book[RACEWAY_FILL].cite
    sure = book.confidence(BORES, row)
    have: Line
    count = conductors_in(pieces)
    each = filled.one_area if filled.may_round else None
    if each is not None and 2 < count < NO_LIMIT:
        most = whole_count(limit.area, each, book)
        matters = most > int(limit.area / each) and count >= most
        if filled.is_nipple and matters:
            readings.append("nipple-rounding")
        if matters and may_round_up(count, filled.is_nipple, book):
            why = f"{limit.why}, is {count_text(limit.area, each)} of {each} in2: rounded up to {most} of one size"
            cite = book[ROUNDING].cite
            have = Counted(NAME, label, exactly(most), each, why, cite, sure, tuple(readings), Unit.IN2)
            return Worksheet((have,), need, PURPOSE), tuple(readings)
    bore = Figure(NAME, "Bore", row.area, Unit.IN2, f"{row.diameter} in. across", book[BORES].cite, sure)
    if limit.is_printed:
        have = Figure(NAME, label, limit.area, Unit.IN2, limit.why, cite, sure, tuple(readings))
    else:
        have = Share(NAME, label, limit.percent, bore, limit.why, cite, sure, tuple(readings))
    return Worksheet((have,), need, PURPOSE), tuple(readings)


def lying_line(lying: Lying, book: CodeBook) -> Counted:
    """Like conductors, or like cables, and the area they take."""
    if lying.is_cable:
        cite, sure = book[CABLE_IN_RACEWAY].cite, book[CABLE_IN_RACEWAY].confidence
    else:
        cite, sure = book[lying.table].cite, book.confidence(lying.table, lying.wire)
    return Counted(NAME, lying.label, lying.count, lying.area, lying.why, cite, sure, lying.readings, Unit.IN2)
