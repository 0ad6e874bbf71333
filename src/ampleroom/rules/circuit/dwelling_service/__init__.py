"""The wire of a service or feeder that carries a whole dwelling."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.arithmetic import Figure, Line, Share, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.ampacity import ADJUSTMENT, USUAL_AMBIENT
from ampleroom.editions.protection import DWELLING, NEXT_SIZE, SMALL, STANDARD, TERMINALS
from ampleroom.job.trade import RANK, size_text
from ampleroom.rules.circuit.heat import NoAmpacity, ampacity, sun
from ampleroom.rules.circuit.protection import OF_AMPACITY, is_dwelling_service, largest_breaker, unknown_ampacity
from ampleroom.rules.circuit.weighed import asked, weighed
from ampleroom.rules.circuit.wired import ENDS, Leg
from ampleroom.rules.registry import rule
from ampleroom.worksheet import DWELLING_SERVICE as PURPOSE
from ampleroom.worksheet import Finding

NAME = PURPOSE.name


@rule(
    NAME,
    title="Service or feeder of a dwelling",
    topic="finding",
    about="circuit",
    tables=(DWELLING, NEXT_SIZE, STANDARD, SMALL, *OF_AMPACITY),
    ends=ENDS,
)
def dwelling_service(leg: Leg, book: CodeBook) -> Iterator[Finding]:
    """A single-phase service or feeder that carries the whole load of a dwelling may have a thinner wire than its
    rating asks for elsewhere: by a table of sizes, or by a part of its rating, as the edition has it. Heat and company
    still count: the table holds only where neither needs a correction, and for 75 C terminals.

    Why: A dwelling hardly ever draws all it is rated for, and never for long.
    """
    if not is_dwelling_service(leg, book):
        return
    terms = book[DWELLING]
    try:
        carries = ampacity(NAME, leg, book)
    except NoAmpacity as missing:
        yield unknown_ampacity(NAME, leg, missing, book)
        return
    rating = Figure(NAME, "Rating", leg.breaker, Unit.AMPERE)
    found = []
    listed = by_table(leg, book)
    if listed is not None and is_as_listed(leg, book):
        found.append(weighed(PURPOSE, leg, listed, (rating,), terms.cite, terms.confidence))
    if terms.percent is not None:
        part = Share(NAME, "Part of the rating", terms.percent, rating, "", terms.cite, terms.confidence)
        found.append(weighed(PURPOSE, leg, carries, (part,), terms.cite, terms.confidence))
    else:
        plain = largest_breaker(leg, carries, book)
        found.append(weighed(PURPOSE, leg, plain, (rating,), terms.cite, terms.confidence))
    best = next((finding for finding in found if finding.verdict.is_allowed), found[0])
    if not best.verdict.is_allowed and terms.percent is None and listed is not None and listed.amount >= leg.breaker:
        question = "the table of dwelling services does not say what heat or company takes of its sizes"
        yield asked(NAME, leg, question, "ask your authority, or take a thicker wire", terms.cite)
        return
    yield best


def by_table(leg: Leg, book: CodeBook) -> Line | None:
    """The largest rating its size is listed for; None where the edition lists no sizes, or none so thin."""
    terms = book[DWELLING]
    listed = [
        row
        for row in terms.rows
        if leg.size and RANK[row.aluminum if leg.run.material == "aluminum" else row.copper] <= RANK[leg.size]
    ]
    if not listed or leg.sets > 1:
        return None
    row = max(listed, key=lambda row: row.rating)
    label, why = f"{size_text(leg.size)} {leg.run.material}", "by the table of dwelling services"
    return Figure(NAME, label, row.rating, Unit.AMPERE, why, terms.cite, book.confidence(DWELLING, row))


def is_as_listed(leg: Leg, book: CodeBook) -> bool:
    """Whether nothing along it needs a correction, and its insulation, cable and terminals allow the 75 C column."""
    large = book[TERMINALS].large
    cable_ends = [end for end in (leg.cable.ends, leg.cable.insulated_ends) if end is not None] if leg.cable else []
    if min(leg.starts, leg.terminals, *cable_ends) < large:
        return False
    return all(
        piece.ambient + sun(leg, piece, book)[0] <= USUAL_AMBIENT
        and (not piece.is_adjusted or piece.carrying <= book[ADJUSTMENT].free)
        for piece in leg.pieces
    )
