"""The wire of equipment that has a minimum circuit ampacity on its nameplate."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.arithmetic import Figure, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.equipment import AIR_CONDITIONER
from ampleroom.rules.circuit.heat import NoAmpacity, ampacity
from ampleroom.rules.circuit.protection import OF_AMPACITY, unknown_ampacity
from ampleroom.rules.circuit.weighed import asked, weighed
from ampleroom.rules.circuit.wired import ENDS, Leg
from ampleroom.rules.registry import rule
from ampleroom.worksheet import NAMEPLATE_WIRE as PURPOSE
from ampleroom.worksheet import Finding

NAME = PURPOSE.name


@rule(
    NAME,
    title="Wire by a nameplate",
    topic="finding",
    about="circuit",
    tables=(AIR_CONDITIONER, *OF_AMPACITY),
    ends={**ENDS, "breaker": "small"},
)
def nameplate_wire(leg: Leg, book: CodeBook) -> Iterator[Finding]:
    """The nameplate of an air conditioner or heat pump says how much ampacity its wire needs at least: the minimum
    circuit ampacity. What motors and heaters add is in it, so nothing is added here. Heat and company along the way
    count as for any wire.

    Why: The maker knows which of its motors and heaters run together.
    """
    if not leg.by_nameplate:
        return
    terms, least = book[AIR_CONDITIONER], leg.circuit.mca
    if least is None:
        question = "the minimum circuit ampacity on its nameplate is not written"
        yield asked(NAME, leg, question, "read it there and write it: mca 22 A", terms.cite)
        return
    try:
        carries = ampacity(NAME, leg, book)
    except NoAmpacity as missing:
        yield unknown_ampacity(NAME, leg, missing, book)
        return
    need = Figure(NAME, "Minimum circuit ampacity", least, Unit.AMPERE, "on the nameplate", terms.cite)
    yield weighed(PURPOSE, leg, carries, (need,), terms.cite, terms.confidence)
