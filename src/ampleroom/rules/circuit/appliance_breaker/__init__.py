"""The largest breaker before one appliance without a motor."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Figure, Next, Share, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.equipment import APPLIANCE
from ampleroom.editions.protection import STANDARD
from ampleroom.facts import Ends
from ampleroom.rules.circuit.weighed import weighed
from ampleroom.rules.circuit.wired import ENDS as OF_A_LEG
from ampleroom.rules.circuit.wired import Leg
from ampleroom.rules.registry import rule
from ampleroom.worksheet import APPLIANCE_BREAKER as PURPOSE
from ampleroom.worksheet import Finding

NAME = PURPOSE.name
WITHOUT_MOTOR = ("water heater", "oven", "cooktop")
"""What a circuit may serve that is one appliance without a motor."""
ENDS: Ends = {**dict.fromkeys(OF_A_LEG, "neither"), "breaker": "large", "load": "small"}


@rule(NAME, title="Breaker of an appliance", topic="finding", about="circuit", tables=(APPLIANCE, STANDARD), ends=ENDS)
def appliance_breaker(leg: Leg, book: CodeBook) -> Iterator[Finding]:
    """One appliance without a motor, such as a storage water heater, has a breaker or fuse no larger than 150 % of the
    current on its nameplate, or than the next standard rating; where its nameplate names a largest one, that one
    decides. It is looked at for water heaters, ovens and cooktops over 13.3 A, which a sheet names.

    Why: The wires inside it are as thin as its own current lets them be.
    """
    terms, load = book[APPLIANCE], leg.load
    if leg.circuit.serves not in WITHOUT_MOTOR or load is None or leg.circuit.mocp is not None:
        return
    if not load.is_finite() or load <= terms.over:
        return
    nameplate = Figure(NAME, "Load", load, Unit.AMPERE, leg.load_why)
    part = Share(NAME, "Part of the nameplate", terms.percent, nameplate, "", terms.cite, terms.confidence)
    ratings = tuple(map(Decimal, book[STANDARD].ratings))
    have = Next(NAME, "Next standard rating", part, ratings, "", terms.cite, terms.confidence)
    need = Figure(NAME, "Breaker", leg.breaker, Unit.AMPERE)
    yield weighed(PURPOSE, leg, have, (need,), terms.cite, terms.confidence, of_wire=False)
