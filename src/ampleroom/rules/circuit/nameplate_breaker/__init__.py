"""The breaker of equipment whose nameplate says how large it may be."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Figure, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.equipment import AIR_CONDITIONER
from ampleroom.facts import Ends
from ampleroom.rules.circuit.weighed import asked, weighed
from ampleroom.rules.circuit.wired import ENDS as OF_A_LEG
from ampleroom.rules.circuit.wired import Leg
from ampleroom.rules.registry import rule
from ampleroom.worksheet import NAMEPLATE_BREAKER as PURPOSE
from ampleroom.worksheet import Finding

NAME = PURPOSE.name
ENDS: Ends = {**dict.fromkeys(OF_A_LEG, "neither"), "breaker": "large"}


@rule(NAME, title="Breaker by a nameplate", topic="finding", about="circuit", tables=(AIR_CONDITIONER,), ends=ENDS)
def nameplate_breaker(leg: Leg, book: CodeBook) -> Iterator[Finding]:
    """A breaker or fuse is no larger than the maximum on the nameplate of its equipment. The next standard size up does
    not count, nor do the largest breakers of small wires.

    Why: The maker tested the equipment behind that device and no larger one.
    """
    terms, most = book[AIR_CONDITIONER], leg.circuit.mocp
    if most is None:
        if leg.by_nameplate:
            question = "the largest breaker its nameplate allows is not written"
            yield asked(NAME, leg, question, "read it there and write it: mocp 35 A", terms.cite)
        return
    have = Figure(NAME, "Maximum overcurrent device", Decimal(most), Unit.AMPERE, "on the nameplate", terms.cite)
    need = Figure(NAME, "Breaker", leg.breaker, Unit.AMPERE)
    yield weighed(PURPOSE, leg, have, (need,), terms.cite, terms.confidence, of_wire=False)
