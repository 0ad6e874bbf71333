"""Conduit bodies: conductors that pass through."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_FLOOR, Decimal

from ampleroom.editions import CodeBook
from ampleroom.job.trade import size_text
from ampleroom.quantities import number, plural
from ampleroom.rules.allowance import is_large
from ampleroom.rules.conduit_body.splices import holds_splices
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Entering, Space, exactly, run_name
from ampleroom.worksheet import Fact, Finding, Line, Verdict, Worksheet

NAME = "conduit-body-passing"
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
    bore = bore_area(base.raceway, base.trade_size, book)
    if bore is None:
        question = (
            f"the kind of raceway {name} is on"
            if not base.raceway
            else f"a raceway {base.raceway} {base.trade_size} that is in the tables"
        )
        facts: tuple[Fact, ...] = (Fact(question, Decimal(0), "then its fill can be judged", base.at),)
        yield Finding(NAME, Verdict.OPEN, name, f"{name}: how much may pass is not known", cite, base.at, facts=facts)
        return
    areas = [(entering, wire_area(entering, book)) for entering in space.entering]
    missing = [entering for entering, area in areas if area is None]
    if missing:
        facts = tuple(
            Fact(f"the insulation of {run_name(entering.run, name)}", Decimal(0), "such as thhn", entering.run.at)
            for entering in missing[:1]
        )
        yield Finding(
            NAME, Verdict.OPEN, name, f"{name}: the size of what passes is not known", cite, base.at, facts=facts
        )
        return
    sheet = passing_worksheet(space, [(entering, area) for entering, area in areas if area is not None], bore, book)
    verdict = Verdict.PASSES if sheet.passes else Verdict.FAILS
    spare = number(abs(sheet.margin))
    said = f"{spare} in2 to spare" if sheet.passes else f"{spare} in2 too much"
    message = f"{name} lets {number(sheet.there)} in2 of conductors pass, and {number(sheet.needed)} do: {said}"
    yield Finding(
        NAME,
        verdict,
        name,
        message,
        cite,
        base.at,
        worst=sheet,
        confidence=book.confidence("conduit_bodies.cross_section"),
    )
    if base.area is not None:
        yield cross_section_finding(space, base.area, bore, book)


def passing_worksheet(space: Space, areas: list[tuple[Entering, Decimal]], bore: Decimal, book: CodeBook) -> Worksheet:
    """What may pass and what does, in in2."""
    total = sum((entering.count for entering, _ in areas), Decimal(0))
    percent = fill_percent(total, book)
    fill = tuple(
        Line(
            NAME,
            f"Conductors, {size_text(entering.size)}",
            entering.count,
            area,
            run_name(entering.run, space.box.name),
            book["raceways.insulated"]["cite"],
        )
        for entering, area in areas
    )
    cite = book["raceways.fill"]["cite"]
    each = {area for _, area in areas}
    base = space.base
    raceway = f"{base.trade_size} {base.raceway}" if base else ""
    if len(each) == 1 and total > 2:
        only = each.pop()
        exact = bore * percent / (100 * only)
        most = whole_count(exact, Decimal(book["raceways.rounding"]["up_from"]))
        why = f"{percent} % of {bore} in2 over {only} is {exact.quantize(Decimal('0.01'), ROUND_FLOOR)}: {most} of one size"
        return Worksheet((Line(NAME, f"What {raceway} holds", exactly(most), only, why, cite),), fill, "in2")
    why = f"{percent} % of its bore for {plural(int(total), 'conductor')}"
    return Worksheet((Line(NAME, f"What {raceway} holds", Decimal(percent) / 100, bore, why, cite),), fill, "in2")


def whole_count(exact: Decimal, up_from: Decimal) -> int:
    """The whole number of conductors of one size: rounded up only from the decimal the book names."""
    whole = int(exact)
    return whole + 1 if exact - whole >= up_from else whole


def fill_percent(total: Decimal, book: CodeBook) -> int:
    terms = book["raceways.fill"]
    percent: int = terms["one"] if total <= 1 else terms["two"] if total <= 2 else terms["more"]
    return percent


def bore_area(kind: str, trade_size: str, book: CodeBook) -> Decimal | None:
    """The whole inside area of a raceway, in2."""
    for row in book["raceways.bore"]["rows"]:
        if row["kind"] == kind and row["size"] == trade_size:
            area: Decimal = row["area"]
            return area
    return None


def wire_area(entering: Entering, book: CodeBook) -> Decimal | None:
    """The area of one conductor with its insulation, in2; None where its insulation is not known."""
    wires = next(
        (wires for wires in entering.run.wires if wires.size == entering.size and wires.role == entering.role), None
    )
    insulation = wires.insulation if wires else ""
    if entering.role == "ground" and (not insulation or (wires and wires.color == "bare")):
        return next((row["area"] for row in book["raceways.bare"]["rows"] if row["size"] == entering.size), None)
    for row in book["raceways.insulated"]["rows"]:
        if row["size"] == entering.size and insulation in row["types"].split():
            area: Decimal = row["area"]
            return area
    return None


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
