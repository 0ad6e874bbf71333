"""The main of a panel, against its bus and its largest breaker."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import ZERO, Figure, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Cited, Table
from ampleroom.job.unknown import UNKNOWN
from ampleroom.rules.panel.laid_out import LaidOut, Placed
from ampleroom.rules.registry import rule
from ampleroom.words import weighed_message
from ampleroom.worksheet import PANEL_MAIN as PURPOSE
from ampleroom.worksheet import Finding, OpenFact, Verdict, Worksheet

NAME = PURPOSE.name
BUS = Table("panels.bus", Cited, __file__)
BRANCH = Table("panels.branch", Cited, __file__)


@rule(NAME, title="Main of a panel", topic="finding", about="panel", tables=(BUS, BRANCH))
def panel_main(known: LaidOut, book: CodeBook) -> Iterator[Finding]:
    """What protects a panel, its main or the breaker of its feeder, is no larger than its bus. A breaker in the panel
    larger than its main is told as advice: the main opens first.

    Why: A bus that carries more than its rating burns where nobody sees it.
    """
    panel = known.panel
    if panel.bus is not None:
        yield from against_bus(known, Decimal(panel.bus), book[BUS])
    largest = largest_of(known)
    if panel.main is None or largest is None:
        return
    each, amperes = largest
    terms = book[BRANCH]
    if amperes <= panel.main:
        verdict, text = Verdict.PASSES, f"main {panel.main} A, largest breaker {amperes} A ({each.name})"
    else:
        verdict = Verdict.ADVICE
        text = f"{each.name} has {amperes} A behind a main of {panel.main} A: the main opens first"
    message = f"{known.name}: {text}"
    yield Finding(NAME, verdict, known.name, message, terms.cite, panel.at, also=(each.circuit.at,),
                  confidence=terms.confidence)  # fmt: skip


def against_bus(known: LaidOut, bus: Decimal, terms: Cited) -> Iterator[Finding]:
    """The main, else the breaker of the feeder, against the bus."""
    panel, feeder = known.panel, known.feeder
    amperes, label = panel.main, "Main"
    if amperes is None and feeder is not None and feeder.amperes is not UNKNOWN:
        amperes, label = feeder.amperes, f"Breaker of its feeder, circuit {feeder.name}"
    if amperes is None:
        text = f"what protects the bus of {known.name}"
        remedy = f"passes if {panel.bus} A or less; write main {panel.bus} A"
        fact = OpenFact(text, ZERO, remedy, panel.at)
        yield Finding(NAME, Verdict.OPEN, known.name, f"{known.name}: {text}", terms.cite, panel.at, facts=(fact,),
                      confidence=terms.confidence)  # fmt: skip
        return
    have = Figure(NAME, "Bus", bus, Unit.AMPERE)
    sheet = Worksheet((have,), (Figure(NAME, label, Decimal(amperes), Unit.AMPERE, "", terms.cite),), PURPOSE)
    message = weighed_message(known.name, sheet.verdict, sheet)
    yield Finding(NAME, sheet.verdict, known.name, message, terms.cite, panel.at, sheet, confidence=terms.confidence)


def largest_of(known: LaidOut) -> tuple[Placed, int] | None:
    """The circuit with the largest breaker, and its amperes; None where none is written."""
    rated = [(each.circuit.amperes, each) for each in known.circuits if isinstance(each.circuit.amperes, int)]
    if not rated:
        return None
    most = max(amperes for amperes, _ in rated)
    return next(each for amperes, each in rated if amperes == most), most


__all__ = ["NAME", "panel_main"]
