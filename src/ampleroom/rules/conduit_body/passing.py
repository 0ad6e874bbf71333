"""Conduit bodies: conductors that pass through."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_FLOOR, Decimal
from typing import Any

from ampleroom.editions import CodeBook
from ampleroom.job.trade import size_text
from ampleroom.quantities import NO_LIMIT, number, plural
from ampleroom.rules.allowance import is_large
from ampleroom.rules.conduit_body.splices import holds_splices
from ampleroom.rules.meetings import run_name
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Entering, Space, exactly
from ampleroom.worksheet import Fact, Finding, Line, Verdict, Worksheet

NAME = "conduit-body-passing"
Row = dict[str, Any]
EXAMPLE = """
box C1
  conduit body c 1/2 on rmc
panel P
wires P > ? 5 x #10 thhn, ground #10 thhn green through C1
"""


@rule(
    NAME,
    title="Conductors passing a conduit body",
    topic="finding",
    tables=(
        "conduit_bodies.cross_section",
        "raceways.fill",
        "raceways.rounding",
        "raceways.bore",
        "raceways.insulated",
        "raceways.bare",
    ),
    example=EXAMPLE,
)
def passing_findings(space: Space, book: CodeBook) -> Iterator[Finding]:
    """As many conductors of 6 AWG and smaller may pass a conduit body as the raceway it is on may hold, and the body's own
    cross-section must be at least twice that of the largest raceway it takes. The raceway's count for conductors all of
    one size is rounded up from a decimal of 0.8; a count by volume never is.

    Why: pulled straight past, the wires lie as they do in the raceway; the body only has to leave them that room.
    """
    base = space.base
    if base is None or not space.is_conduit_body or holds_splices(space) or not space.entering:
        return
    if any(is_large(entering.size, book) for entering in space.entering):
        return  # told by the rule for large conductors
    name = space.subject
    cite = book["conduit_bodies.cross_section"]["cite"]
    bore = bore_row(base.raceway, base.trade_size, book)
    if bore is None:
        question = (
            f"the kind of raceway {name} is on"
            if not base.raceway
            else f"a raceway {base.raceway} {base.trade_size} that is in the tables"
        )
        facts: tuple[Fact, ...] = (Fact(question, Decimal(0), "then its fill can be judged", base.at),)
        yield Finding(NAME, Verdict.OPEN, name, f"{name}: how much may pass is not known", cite, base.at, facts=facts)
        return
    areas = [(entering, wire_row(entering, book)) for entering in space.entering]
    missing = [entering for entering, row in areas if row is None]
    if missing:
        facts = tuple(
            Fact(f"the insulation of {run_name(entering.run, name)}", Decimal(0), "such as thhn", entering.run.at)
            for entering in missing[:1]
        )
        message = f"{name}: the size of what passes is not known"
        yield Finding(NAME, Verdict.OPEN, name, message, cite, base.at, facts=facts)
        return
    sheet = passing_worksheet(space, [(entering, row) for entering, row in areas if row is not None], bore, book)
    verdict = Verdict.PASSES if sheet.passes else Verdict.FAILS
    spare = number(abs(sheet.margin))
    said = f"{spare} in2 to spare" if sheet.passes else f"{spare} in2 too much"
    message = f"{name} lets {number(sheet.there)} in2 of conductors pass, and {number(sheet.needed)} do: {said}"
    if not sheet.needed.is_finite():
        message = f"{name} lets {number(sheet.there)} in2 of conductors pass, and nobody has counted them"
    sure = book.confidence("conduit_bodies.cross_section")
    yield Finding(NAME, verdict, name, message, cite, base.at, worst=sheet, confidence=sure)
    if base.area is not None:
        yield cross_section_finding(space, base.area, bore["area"], book)


def passing_worksheet(space: Space, areas: list[tuple[Entering, Row]], bore: Row, book: CodeBook) -> Worksheet:
    """What may pass and what does, in in2."""
    total = sum((entering.count for entering, _ in areas), Decimal(0))
    percent = fill_percent(total, book)
    fill = tuple(fill_line(entering, row, space, book) for entering, row in areas)
    each = {row["area"] for _, row in areas}
    base = space.base
    what = f"What {base.trade_size} {base.raceway} holds" if base else ""
    cite, sure = book["raceways.fill"]["cite"], book.confidence("raceways.bore", bore)
    if len(each) == 1 and 2 < total < NO_LIMIT:
        only = each.pop()
        exact = bore["area"] * percent / (100 * only)
        most = whole_count(exact, Decimal(book["raceways.rounding"]["up_from"]))
        why = f"{percent} % of {bore['area']} in2 over {only} is {exact.quantize(Decimal('0.01'), ROUND_FLOOR)}: {most} of one size"
        return Worksheet((Line(NAME, what, exactly(most), only, why, cite, sure),), fill, "in2")
    why = f"{percent} % of its bore for {plural(int(total), 'conductor') if total < NO_LIMIT else 'more than 2 conductors'}"
    return Worksheet((Line(NAME, what, Decimal(percent) / 100, bore["area"], why, cite, sure),), fill, "in2")


def fill_line(entering: Entering, row: Row, space: Space, book: CodeBook) -> Line:
    """What one group of like conductors takes of a bore."""
    table = "raceways.bare" if entering.insulation == "bare" else "raceways.insulated"
    why = run_name(entering.run, space.box.name)
    if entering.insulation == "thickest":
        why += "; its insulation is not written: the thickest there is"
    elif entering.insulation == "bare" and entering.role == "ground":
        why += ", bare"
    what = f"Conductors, {size_text(entering.size)}"
    return Line(NAME, what, entering.count, row["area"], why, book[table]["cite"], book.confidence(table, row))


def whole_count(exact: Decimal, up_from: Decimal) -> int:
    """The whole number of conductors of one size: rounded up only from the decimal the book names."""
    whole = int(exact)
    return whole + 1 if exact - whole >= up_from else whole


def fill_percent(total: Decimal, book: CodeBook) -> int:
    terms = book["raceways.fill"]
    percent: int = terms["one"] if total <= 1 else terms["two"] if total <= 2 else terms["more"]
    return percent


def bore_row(kind: str, trade_size: str, book: CodeBook) -> Row | None:
    """The row of a raceway, with its whole inside area in in2."""
    rows: list[Row] = book["raceways.bore"]["rows"]
    return next((row for row in rows if row["kind"] == kind and row["size"] == trade_size), None)


def wire_row(entering: Entering, book: CodeBook) -> Row | None:
    """The row of one conductor, with its area in in2; None where its insulation is not known."""
    table = "raceways.bare" if entering.insulation == "bare" else "raceways.insulated"
    rows: list[Row] = [row for row in book[table]["rows"] if row["size"] == entering.size]
    if entering.insulation == "thickest":
        return max(rows, key=lambda row: row["area"], default=None)
    if entering.insulation == "bare":
        return next(iter(rows), None)
    return next((row for row in rows if entering.insulation in row["types"].split()), None)


def cross_section_finding(space: Space, area: Decimal, bore: Decimal, book: CodeBook) -> Finding:
    """Whether the body itself is wide enough."""
    terms = book["conduit_bodies.cross_section"]
    needed = bore * terms["times"]
    verdict = Verdict.PASSES if area >= needed else Verdict.FAILS
    message = f"{space.subject} has a cross-section of {number(area)} in2 and needs {terms['times']} times its raceway's, {number(needed)}"
    at = space.base.at if space.base else space.box.at
    return Finding(
        NAME,
        verdict,
        space.subject,
        message,
        terms["cite"],
        at,
        confidence=terms["confidence"],
    )
