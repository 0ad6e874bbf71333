"""Ground-fault protection of what is wired in outdoors and in garages."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.by_place import GROUND_FAULT, OUTDOORS
from ampleroom.rules.circuit.appliance_ground_fault import row_of
from ampleroom.rules.circuit.outlets import Outlet, Outlets, names_of
from ampleroom.rules.registry import rule
from ampleroom.words import (
    HVAC_QUESTION,
    HVAC_REMEDY,
    OUTDOOR_QUESTION,
    OUTDOOR_REMEDY,
    PROTECTION_ASKED,
    PROTECTION_LACKS,
    PROTECTION_THERE,
)
from ampleroom.worksheet import Finding, OpenFact, Verdict

NAME = "outdoor-equipment"
KIND = "ground-fault"


@rule(
    NAME,
    title="Ground faults of outdoor equipment",
    topic="finding",
    about="outlets",
    tables=(OUTDOORS, GROUND_FAULT),
)
def outdoor_equipment(outlets: Outlets, book: CodeBook) -> Iterator[Finding]:
    """What is wired in outdoors at a dwelling has ground-fault protection, and later in garages and accessory buildings
    too; lights do without. Heating and cooling equipment was let off for a time, so of that it is asked.

    Why: A cabinet outdoors may be live without tripping anything, and people touch it standing on wet ground.
    """
    terms, circuit = book[OUTDOORS], outlets.circuit
    if not outlets.is_judged or outlets.is_three_phase or outlets.volts > book[GROUND_FAULT].volts:
        return
    if outlets.amperes is not None and outlets.amperes > terms.amperes:
        return
    if row_of(outlets, book) is not None:
        return  # it has that protection wherever it stands
    places = [place for place in outlets.new_places if place.is_wired_in and place.room in terms.rooms]
    if not places:
        return
    names = names_of(places)
    facts: tuple[OpenFact, ...] = ()
    if circuit.gfci or all(place.fed_through for place in places):
        verdict, message = Verdict.PASSES, PROTECTION_THERE.format(outlets.name, KIND, names)
    elif circuit.gfci is False and not outlets.ground_fault_devices and not is_hvac(outlets):
        verdict, message = Verdict.FAILS, PROTECTION_LACKS.format(outlets.name, KIND, names)
    else:
        verdict, message = Verdict.OPEN, PROTECTION_ASKED.format(outlets.name, KIND, names)
        facts = (question_of(outlets, places, terms.hvac),)
    at, sure = circuit.at, terms.confidence
    also = tuple([place.at for place in places]) if not verdict.is_allowed else ()
    yield Finding(NAME, verdict, outlets.name, message, terms.cite, at, facts=facts, also=also, confidence=sure)


def is_hvac(outlets: Outlets) -> bool:
    """Whether a circuit feeds heating or cooling equipment: it has a nameplate of such, or serves heat."""
    circuit = outlets.circuit
    return circuit.mca is not None or circuit.mocp is not None or circuit.serves == "heat"


def question_of(outlets: Outlets, places: list[Outlet], hvac: str) -> OpenFact:
    """What to find out: of heating and cooling equipment without protection whether it is let off."""
    names = names_of(places)
    if is_hvac(outlets) and outlets.circuit.gfci is False:
        return OpenFact(HVAC_QUESTION.format(names, hvac), Decimal(0), HVAC_REMEDY, outlets.circuit.at)
    return OpenFact(OUTDOOR_QUESTION.format(outlets.name, names), Decimal(0), OUTDOOR_REMEDY, outlets.circuit.at)


__all__ = ["NAME", "outdoor_equipment"]
