"""The breaker against the load of its circuit."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.arithmetic import Figure, Line, Share, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.protection import CONTINUOUS
from ampleroom.facts import Ends
from ampleroom.rules.circuit.wired import ENDS as OF_A_LEG
from ampleroom.rules.circuit.wired import Leg
from ampleroom.rules.registry import rule
from ampleroom.words import weighed_message
from ampleroom.worksheet import BREAKER_LOAD as PURPOSE
from ampleroom.worksheet import Finding, Worksheet

NAME = PURPOSE.name
ENDS: Ends = {**dict.fromkeys(OF_A_LEG, "neither"), "breaker": "small", "load": "large"}


@rule(NAME, title="Load on a breaker", topic="finding", about="circuit", tables=(CONTINUOUS,), ends=ENDS)
def breaker_load(leg: Leg, book: CodeBook) -> Iterator[Finding]:
    """A breaker is rated for the load of its circuit, and for 125 % of a continuous one, which lasts for hours. A
    breaker listed for all of its rating is the exception; no sheet says that, so it is not taken.

    Why: A breaker in a warm panel trips below its rating when it is loaded for hours.
    """
    if leg.load is None or leg.circuit.horsepower:
        return
    terms = book[CONTINUOUS]
    load: Line = Figure(NAME, "Load", leg.load, Unit.AMPERE, leg.load_why, terms.cite, terms.confidence)
    if leg.circuit.continuous:
        load = Share(NAME, "Continuous load", terms.percent, load, "three hours or more", terms.cite, terms.confidence)
    have = Figure(NAME, "Breaker", leg.breaker, Unit.AMPERE)
    sheet = Worksheet((have,), (load,), PURPOSE)
    verdict = sheet.verdict
    yield Finding(
        NAME,
        verdict,
        leg.name,
        weighed_message(leg.name, verdict, sheet),
        terms.cite,
        leg.circuit.at,
        worst=sheet,
        confidence=terms.confidence,
    )
