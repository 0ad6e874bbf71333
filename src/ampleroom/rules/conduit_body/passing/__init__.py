"""Conduit bodies: conductors that pass through."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_FLOOR, Decimal

from ampleroom.arithmetic import Counted, Figure, Share, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import (
    BARE_WIRES,
    BORES,
    CABLE_IN_RACEWAY,
    INSULATED_WIRES,
    RACEWAY_FILL,
    ROUNDING,
    Bore,
    Wire,
    WireSizes,
)
from ampleroom.editions.tables import Table
from ampleroom.facts import Ends
from ampleroom.job.cables import makeup
from ampleroom.job.model import Base, Run
from ampleroom.job.trade import size_text
from ampleroom.quantities import NO_LIMIT, circle, inches, number, plural
from ampleroom.record import Record, TupleRecord
from ampleroom.rules.allowance import is_large
from ampleroom.rules.conduit_body.splices import holds_splices
from ampleroom.rules.effects import empty_facts
from ampleroom.rules.fields import LEANS_ON_NONE, SIZES
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Entering, Space, exactly
from ampleroom.words import empty_message
from ampleroom.worksheet import Finding, OpenFact, Purpose, Verdict, Worksheet

NAME = "conduit-body-passing"
PURPOSE = Purpose(NAME, Unit.IN2, "Allowed fill", "Conductors", is_drawn=True)
FEW = tuple(map(exactly, (0, 1, 2, 2 + 1)))
"""One conductor, two and more than two fill a raceway by different parts, and two by the least: from none to three each
number has to be tried, from there on more is worse."""
ENDS: Ends = {
    **{field: end for field, end in LEANS_ON_NONE.items() if field not in (*SIZES, "insulation")},
    "wires count": (*FEW, NO_LIMIT),
    "run count": (*FEW[1:], NO_LIMIT),
}
"""Sizes and insulation are tried at every value: where all that passes is of one size, the count is rounded up."""


class CrossSection(Record):
    """How many times the area of its raceway a body has at least."""

    cite: str
    confidence: str
    times: Decimal


CROSS_SECTION = Table("conduit_bodies.cross_section", CrossSection, __file__)


class Piece(TupleRecord):
    """What passes as one conductor: so many like wires, or cables, each of so many in2."""

    count: Decimal  # type: ignore[assignment]  # a tuple's own count() is of no use here
    area: Decimal
    label: str
    why: str
    cite: str
    confidence: str
    is_cable: bool = False


@rule(
    NAME,
    title="Conductors through a conduit body",
    topic="finding",
    drawn_as="conductors",
    tables=(
        CROSS_SECTION,
        RACEWAY_FILL,
        ROUNDING,
        BORES,
        INSULATED_WIRES,
        BARE_WIRES,
        CABLE_IN_RACEWAY,
    ),
    ends=ENDS,
    of_bodies=True,
)
def passing_findings(space: Space, book: CodeBook) -> Iterator[Finding]:
    """A conduit body may hold as many conductors passing through as the raceway it is on. This goes for #6 and smaller.
    Where all conductors are one size, a raceway's count is rounded up from a decimal of 0.8; a count by box volume
    is never rounded up. A cable counts as one conductor, as thick as its wider side.

    The cross-section of the body itself must be at least twice that of the largest raceway it takes, whether conductors
    pass through it or are spliced in it. Short-radius bodies, capped elbows and service elbows are exempt from that.

    Why: Wires pulled straight through lie as they do in the raceway. The body only has to leave them that much room.
    """
    base = space.base
    if base is None or not space.is_conduit_body or not space.entering:
        return
    if all(is_large(entering.size, book) for entering in space.entering):
        return  # told by the rule for large conductors
    bore = bore_row(base.raceway, base.trade_size, book)
    if not holds_splices(space):
        yield passing_finding(space, base, bore, book)
    if base.area is not None and not base.short_radius:
        yield cross_section_finding(space, base, base.area, bore, book)


def passing_finding(space: Space, base: Base, bore: Bore | None, book: CodeBook) -> Finding:
    """Whether the raceway the body is on may hold what passes."""
    name = space.subject
    cite = book[CROSS_SECTION].cite
    if bore is None:
        message = f"{name}: the allowed fill is not known"
        return Finding(NAME, Verdict.OPEN, name, message, cite, base.at, facts=(raceway_fact(name, base),))
    pieces: list[Piece] = []
    for entering in space.entering:
        if entering.run.cable is not None and entering.role != "insulated":
            continue  # inside the cable's sheath
        piece = (
            cable_piece(entering, space, book) if entering.run.cable is not None else wire_piece(entering, space, book)
        )
        if piece is None:
            message = f"{name}: the size of its conductors is not known"
            return Finding(NAME, Verdict.OPEN, name, message, cite, base.at, facts=(thickness_fact(entering, name),))
        pieces.append(piece)
    sheet = passing_worksheet(base, pieces, bore, book)
    verdict = Verdict.PASSES if sheet.passes else Verdict.FAILS
    left = f"has {number(sheet.margin)} in2 spare" if sheet.passes else f"is {number(-sheet.margin)} in2 over"
    message = f"{name} {left}: conductors {number(sheet.needed)} in2, allowed {number(sheet.there)} in2"
    if not sheet.needed.is_finite():
        message = f"{name}: the conductors are not counted yet; allowed {number(sheet.there)} in2"
    sure = book.confidence(CROSS_SECTION)
    return Finding(NAME, verdict, name, message, cite, base.at, worst=sheet, confidence=sure)


def raceway_fact(name: str, base: Base) -> OpenFact:
    """The fact to find out before fill is judged: which raceway the conduit body is on."""
    question = (
        f"a raceway {base.raceway} {base.trade_size} that is in the tables"
        if base.raceway
        else f"the kind of raceway {name} is on"
    )
    return OpenFact(question, Decimal(0), "then its fill can be judged", base.at)


def thickness_fact(entering: Entering, name: str) -> OpenFact:
    """What has to be known of something that passes before its area is."""
    run = entering.run_name(name)
    if entering.run.cable is not None:
        return OpenFact(f"the width of {run}", Decimal(0), "its maker's data sheet says", entering.run.at)
    return OpenFact(f"the insulation of {run}", Decimal(0), "such as thhn", entering.run.at)


def passing_worksheet(base: Base, pieces: list[Piece], bore: Bore, book: CodeBook) -> Worksheet:
    """What may pass and what does, in in2."""
    total = sum((piece.count for piece in pieces), Decimal(0))
    percent = fill_percent(total, book)
    fill = tuple(
        Counted(NAME, piece.label, piece.count, piece.area, piece.why, piece.cite, piece.confidence, unit=Unit.IN2)
        for piece in pieces
    )
    each = {piece.area for piece in pieces}
    line_label = f"Allowed in {base.trade_size} {base.raceway}"
    cite, sure = book[RACEWAY_FILL].cite, book.confidence(BORES, bore)
    if len(each) == 1 and 2 < total < NO_LIMIT and not any(piece.is_cable for piece in pieces):
        only = each.pop()
        exact = bore.area * percent / (100 * only)
        most = whole_count(exact, book[ROUNDING].up_from)
        why = (
            f"{percent} % of {bore.area} in2 over {only} is {exact.quantize(Decimal('0.01'), ROUND_FLOOR)}: {most} "
            "of one size"
        )
        return Worksheet(
            (Counted(NAME, line_label, exactly(most), only, why, cite, sure, unit=Unit.IN2),), fill, PURPOSE
        )
    word = "cable" if all(piece.is_cable for piece in pieces) else "conductor"
    why = (
        f"{percent} % of the inside area for {plural(int(total), word) if total < NO_LIMIT else f'more than 2 {word}s'}"
    )
    label = f"Inside area of {base.trade_size} {base.raceway}"
    area = Figure(NAME, label, bore.area, Unit.IN2, cite=book[BORES].cite, confidence=sure)
    return Worksheet((Share(NAME, line_label, percent, area, why, cite, sure),), fill, PURPOSE)


def wire_piece(entering: Entering, space: Space, book: CodeBook) -> Piece | None:
    """What one group of like wires takes of a bore; None where their insulation is not known."""
    row = wire_row(entering, book)
    if row is None:
        return None
    table = wire_table(entering)
    why = entering.own_name(space.box.name)
    if entering.insulation == "thickest":
        why += "; insulation not in the sheet: assumed the thickest"
    elif entering.insulation == "bare" and entering.role == "ground":
        why += ", bare"
    label = f"Conductors, {size_text(entering.size)}"
    return Piece(entering.count, row.area, label, why, book[table].cite, book.confidence(table, row))


def cable_piece(entering: Entering, space: Space, book: CodeBook) -> Piece | None:
    """What a cable takes of a bore: a circle as wide as its wider side; None where its width is not known."""
    cable = entering.run.cable
    assert cable is not None
    width = width_of(entering.run, entering.size)
    if width is None:
        return None
    terms = book[CABLE_IN_RACEWAY]
    area = circle(width)
    inside = sum(int(part) for part in cable.of.split("/"))
    label = f"Cable {cable._replace(size=entering.size).name}"
    why = f"{entering.run_name(space.box.name)}; one conductor, {inches(width)} wide"
    return Piece(entering.count * terms.counts / inside, area, label, why, terms.cite, terms.confidence, True)


def width_of(run: Run, size: str) -> Decimal | None:
    """How wide a run's cable is at its widest, inches; None where no data sheet was seen of one made up so."""
    if run.cable is None or run.wires:
        return None
    usual = makeup(run.cable._replace(size=size, ground=None))
    as_written = makeup(run.cable._replace(size=size))
    if usual is None or as_written is None or usual.wires != as_written.wires:
        return None
    if usual.width is None or usual.height is None:
        return None
    return max(usual.width, usual.height)


def whole_count(exact: Decimal, up_from: Decimal) -> int:
    """The whole number of conductors of one size: rounded up only from the decimal the book names."""
    whole = int(exact)
    return whole + 1 if exact - whole >= up_from else whole


def fill_percent(total: Decimal, book: CodeBook) -> Decimal:
    """How much of its bore so many conductors may fill, in percent."""
    terms = book[RACEWAY_FILL]
    return terms.one if total <= 1 else terms.two if total <= 2 else terms.more


def bore_row(kind: str, trade_size: str, book: CodeBook) -> Bore | None:
    """The row of a raceway, with its whole inside area in in2."""
    return next((row for row in book[BORES].rows if row.kind == kind and row.size == trade_size), None)


def wire_table(entering: Entering) -> Table[WireSizes]:
    """The table that has a conductor's area: of bare or of insulated ones."""
    return BARE_WIRES if entering.insulation == "bare" else INSULATED_WIRES


def wire_row(entering: Entering, book: CodeBook) -> Wire | None:
    """The row of one conductor, with its area in in2; None where its insulation is not known."""
    rows = [row for row in book[wire_table(entering)].rows if row.size == entering.size]
    if entering.insulation == "thickest":
        return max(rows, key=lambda row: row.area, default=None)
    if entering.insulation == "bare":
        return next(iter(rows), None)
    return next((row for row in rows if entering.insulation in row.types.split()), None)


def cross_section_finding(space: Space, base: Base, area: Decimal, bore: Bore | None, book: CodeBook) -> Finding:
    """Whether the body itself is wide enough."""
    terms = book[CROSS_SECTION]
    name, sure = space.subject, terms.confidence
    if bore is None:
        message = f"{name} has a cross-section of {number(area)} in2, and its raceway's is not known"
        fact = raceway_fact(name, base)
        return Finding(NAME, Verdict.OPEN, name, message, terms.cite, base.at, facts=(fact,), confidence=sure)
    needed = bore.area * terms.times
    verdict = Verdict.PASSES if area >= needed else Verdict.FAILS
    message = (
        f"{name} has a cross-section of {number(area)} in2 and needs {terms.times} times its raceway's, "
        f"{number(needed)}"
    )
    return Finding(NAME, verdict, name, message, terms.cite, base.at, confidence=sure)


def empty_body_finding(space: Space, book: CodeBook) -> Finding:
    """A conduit body through which nothing passes yet: there is nothing to judge, and that is no pass."""
    terms = book[CROSS_SECTION]
    return Finding(
        NAME,
        Verdict.OPEN,
        space.subject,
        empty_message(space.subject, None, False),
        terms.cite,
        space.box.at,
        facts=empty_facts(space),
        confidence=terms.confidence,
    )
