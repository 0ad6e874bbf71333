"""The least rating of a range's circuit."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.arithmetic import Figure, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.equipment import RANGE
from ampleroom.facts import Ends
from ampleroom.quantities import number
from ampleroom.rules.circuit.cooking import kilowatts_of
from ampleroom.rules.circuit.weighed import asked, weighed
from ampleroom.rules.circuit.wired import ENDS as OF_A_LEG
from ampleroom.rules.circuit.wired import Leg
from ampleroom.rules.registry import rule
from ampleroom.worksheet import RANGE_CIRCUIT as PURPOSE
from ampleroom.worksheet import Finding

NAME = PURPOSE.name
ENDS: Ends = {**dict.fromkeys(OF_A_LEG, "neither"), "breaker": "small", "load": "large"}


@rule(NAME, title="Least circuit for a range", topic="finding", about="circuit", tables=(RANGE,), ends=ENDS)
def range_circuit(leg: Leg, book: CodeBook) -> Iterator[Finding]:
    """The circuit of a large household range has a rating of its own at least, whatever the range counts for. Where its
    nameplate is not written that is asked, if the breaker is smaller.

    Why: A cook turns everything on for a holiday dinner.
    """
    terms, kilowatts = book[RANGE], kilowatts_of(leg)
    if leg.circuit.serves != "range":
        return
    if kilowatts is None:
        if leg.breaker < terms.amperes:
            question = "the load of its range is not written"
            yield asked(NAME, leg, question, "read it on the nameplate and write it: 12 kW", terms.cite)
        return
    if kilowatts < terms.kilowatts:
        return
    have = Figure(NAME, "Breaker", leg.breaker, Unit.AMPERE)
    why = f"for {number(terms.kilowatts, 0)} kW and more"
    need = Figure(NAME, "Least for a range", terms.amperes, Unit.AMPERE, why, terms.cite, terms.confidence)
    yield weighed(PURPOSE, leg, have, (need,), terms.cite, terms.confidence, of_wire=False)
