"""Arc-fault protection of branch circuits, by the rooms they feed."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.by_place import ARC_FAULT
from ampleroom.job.trade import NOMINAL_120
from ampleroom.rules.circuit.ground_fault import room_asked
from ampleroom.rules.circuit.outlets import Outlet, Outlets, has, names_of
from ampleroom.rules.registry import rule
from ampleroom.words import (
    ARC_DEVICE_REMEDY,
    ARC_FAULT_QUESTION,
    ARC_FAULT_REMEDY,
    PROTECTION_ASKED,
    PROTECTION_LACKS,
    PROTECTION_NOT_ASKED,
    PROTECTION_OPEN,
    PROTECTION_THERE,
)
from ampleroom.worksheet import Finding, OpenFact, Verdict

NAME = "arc-fault"
KIND = "arc-fault"
ZERO = Decimal(0)


@rule(NAME, title="Arc-fault protection by room", topic="finding", about="outlets", tables=(ARC_FAULT,))
def arc_fault(outlets: Outlets, book: CodeBook) -> Iterator[Finding]:
    """A small 120 V branch circuit with an outlet in a room where people live has arc-fault protection, as a rule by
    its breaker. Later editions count a device too, such as a switch.

    A receptacle with arc-fault protection does it only where the wiring before it is of a kind the code lists; the
    sheet then says so with the word afci on its circuit.

    Why: A loose or damaged wire can spark for weeks and start a fire without ever tripping a breaker.
    """
    terms = book[ARC_FAULT]
    circuit = outlets.circuit
    if not outlets.is_judged or outlets.volts not in NOMINAL_120:
        return
    if outlets.amperes is not None and outlets.amperes not in terms.amperes:
        return
    places = [place for place in outlets.new_places if place.is_outlet or (terms.devices and place.is_device)]
    asked = [place for place in places if place.room in terms.rooms]
    unwritten = [place for place in places if not place.room]
    if not places:
        return
    if not asked and not unwritten:
        verdict, message = Verdict.PASSES, PROTECTION_NOT_ASKED.format(outlets.name, KIND, names_of(places))
    elif circuit.afci:
        verdict, message = Verdict.PASSES, PROTECTION_THERE.format(outlets.name, KIND, names_of(asked or places))
    elif not asked:
        verdict, message = Verdict.OPEN, PROTECTION_OPEN.format(outlets.name, KIND)
    elif outlets.amperes is None or circuit.afci is None or any(has(place, "afci") for place in outlets.places):
        verdict, message = Verdict.OPEN, PROTECTION_ASKED.format(outlets.name, KIND, names_of(asked))
    else:
        verdict, message = Verdict.FAILS, PROTECTION_LACKS.format(outlets.name, KIND, names_of(asked))
    facts = tuple(facts_of(outlets, asked, unwritten)) if verdict is Verdict.OPEN else ()
    also = tuple([place.at for place in asked]) if not verdict.is_allowed else ()
    at, sure = circuit.at, terms.confidence
    yield Finding(NAME, verdict, outlets.name, message, terms.cite, at, facts=facts, also=also, confidence=sure)


def facts_of(outlets: Outlets, asked: list[Outlet], unwritten: list[Outlet]) -> Iterator[OpenFact]:
    """What to look at: the breaker where its protection is asked for, else the rooms nobody wrote."""
    circuit = outlets.circuit
    if not asked:
        yield from map(room_asked, unwritten)
        return
    if outlets.amperes is None:
        yield OpenFact(f"the breaker of {outlets.name}", ZERO, "write its rating, such as 20 A", circuit.at)
    devices = any(has(place, "afci") for place in outlets.places)
    remedy = ARC_DEVICE_REMEDY if devices else ARC_FAULT_REMEDY
    if circuit.afci is None or devices:
        yield OpenFact(ARC_FAULT_QUESTION.format(outlets.name), ZERO, remedy, circuit.at)


__all__ = ["NAME", "arc_fault"]
