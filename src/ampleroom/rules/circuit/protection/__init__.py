"""The breaker that protects a wire."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Figure, Line, Next, Pick, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.ampacity import ADJUSTMENT, AMBIENT, AMPACITY, BUNDLE, LOWEST, ROOFTOP
from ampleroom.editions.cable_ampacity import ARMORED, CABLES_HEAT
from ampleroom.editions.protection import DWELLING, NEXT_SIZE, SMALL, STANDARD, TERMINALS
from ampleroom.editions.raceways import INSULATIONS
from ampleroom.job.trade import size_text
from ampleroom.rules.circuit.heat import NoAmpacity, ampacity
from ampleroom.rules.circuit.weighed import weighed
from ampleroom.rules.circuit.wired import ENDS, Leg
from ampleroom.rules.registry import rule
from ampleroom.worksheet import WIRE_PROTECTION as PURPOSE
from ampleroom.worksheet import Finding, OpenFact, Verdict

NAME = PURPOSE.name
OF_AMPACITY = (AMPACITY, AMBIENT, ADJUSTMENT, BUNDLE, ROOFTOP, LOWEST, CABLES_HEAT, ARMORED, INSULATIONS, TERMINALS)
"""The tables an ampacity is made of."""


@rule(
    NAME,
    title="Breaker that protects a wire",
    topic="finding",
    about="circuit",
    tables=(NEXT_SIZE, STANDARD, SMALL, DWELLING, *OF_AMPACITY),
    ends=ENDS,
)
def wire_protection(leg: Leg, book: CodeBook) -> Iterator[Finding]:
    """A wire is protected by a breaker no larger than its ampacity. Where that is no standard rating the next one up to
    800 A will do, unless the circuit feeds more than one receptacle. Small wires have a largest breaker of their own:
    15 A for #14 copper, 20 A for #12, 30 A for #10.

    The ampacity is that of the table, by the wire's own insulation, times a factor for how warm it is and one for how
    many conductors carry current beside it; never more than the column of its terminals and of the cable's own article.
    Insulation for dry places alone has none underground.

    Why: A wire that carries more than it can shed as heat cooks its insulation inside the wall, with the breaker on.
    """
    if leg.run.tap or leg.by_nameplate or leg.motor is not None or is_dwelling_service(leg, book):
        return  # a rule of its own decides
    try:
        carries = ampacity(NAME, leg, book)
    except NoAmpacity as missing:
        yield unknown_ampacity(NAME, leg, missing, book)
        return
    have = largest_breaker(leg, carries, book)
    need = Figure(NAME, "Breaker", leg.breaker, Unit.AMPERE, leg.circuit.label)
    yield weighed(PURPOSE, leg, have, (need,), have.cite, have.confidence)


def is_dwelling_service(leg: Leg, book: CodeBook) -> bool:
    """Whether it is a single-phase service or feeder of a whole dwelling, of a rating the code has a rule for."""
    terms = book[DWELLING]
    return leg.circuit.serves == "dwelling" and leg.single_phase and terms.least <= leg.breaker <= terms.most


def largest_breaker(leg: Leg, carries: Line, book: CodeBook) -> Line:
    """The largest breaker a leg may have: its ampacity, or the next rating, and no more than its size allows."""
    lines: list[Line] = [protected(leg, carries, book)]
    small = book[SMALL]
    row = next((row for row in small.rows if (row.material, row.size) == (leg.run.material, leg.size)), None)
    if row is not None:
        label = f"Most for {size_text(leg.size)}"
        sure = book.confidence(SMALL, row)
        lines.append(Figure(NAME, label, row.most, Unit.AMPERE, leg.run.material, small.cite, sure))
    if len(lines) == 1:
        return lines[0]
    least = min(lines, key=lambda line: line.amount)
    return Pick(NAME, "Largest breaker", "least", tuple(lines), cite=least.cite, confidence=least.confidence)


def protected(leg: Leg, carries: Line, book: CodeBook) -> Line:
    """The largest breaker by the ampacity alone."""
    terms, ratings = book[NEXT_SIZE], tuple(map(Decimal, book[STANDARD].ratings))
    up = Next(NAME, "Next standard rating", carries, ratings, "", terms.cite, terms.confidence)
    if leg.many_receptacles or up.amount > terms.up_to or carries.amount <= 0:
        return carries
    return up if up.amount > carries.amount else carries


def unknown_ampacity(rule: str, leg: Leg, missing: NoAmpacity, book: CodeBook) -> Finding:
    """The finding on a leg for which the book has no number."""
    fact = OpenFact(str(missing), Decimal(0), missing.remedy, leg.run.at)
    message = f"{leg.title}: {missing}"
    return Finding(rule, Verdict.OPEN, leg.name, message, book[AMPACITY].cite, leg.circuit.at, facts=(fact,))
