"""Ground-fault protection of receptacles, by the room they are in."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.by_place import GROUND_FAULT, GroundFault
from ampleroom.job.trade import ROOMS_WITH_SINKS
from ampleroom.rules.circuit.outlets import Outlet, Outlets, Receptacle, has, names_of
from ampleroom.rules.registry import rule
from ampleroom.words import (
    END_QUESTION,
    END_REMEDY,
    GROUND_FAULT_QUESTION,
    GROUND_FAULT_REMEDY,
    NEAR_QUESTION,
    NEAR_REMEDY,
    PROTECTION_ASKED,
    PROTECTION_LACKS,
    PROTECTION_NOT_ASKED,
    PROTECTION_OPEN,
    PROTECTION_THERE,
    ROOM_QUESTION,
    ROOM_REMEDY,
    WHICH_CIRCUIT_QUESTION,
    WHICH_CIRCUIT_REMEDY,
)
from ampleroom.worksheet import Finding, OpenFact, Verdict

NAME = "ground-fault"
KIND = "ground-fault"
ZERO = Decimal(0)


@rule(NAME, title="Ground-fault protection by room", topic="finding", about="outlets", tables=(GROUND_FAULT,))
def ground_fault(outlets: Outlets, book: CodeBook) -> Iterator[Finding]:
    """In some rooms of a dwelling, and near sinks, receptacles have ground-fault protection: by the breaker, by a
    device in the receptacle, or by one upstream that feeds it from its load terminals.

    The sheet says the room of a box, what its receptacles are near to, and what the breaker protects from. Where a room
    or what protects a receptacle is not written, it is asked.

    Why: Wet hands and a wet floor let a current through a person that no breaker notices.
    """
    terms = book[GROUND_FAULT]
    if not outlets.is_judged:
        return
    if outlets.volts > terms.volts or outlets.is_three_phase:
        return
    by_answer: dict[str, list[Outlet]] = {"asked": [], "free": [], "near": [], "room": []}
    for place in outlets.new_places:
        is_light = place.is_outlet and place.room in terms.outlets_in
        if not place.is_found or is_light or any(is_meant(each, outlets, terms) for each in place.receptacles):
            by_answer[asked_at(place, terms)].append(place)
    yield from found(outlets, terms, by_answer)


def room_asked(place: Outlet) -> OpenFact:
    """The question which room a place is in; of an end nobody found, where it is."""
    if not place.is_found:
        return OpenFact(END_QUESTION.format(place.name), ZERO, END_REMEDY, place.at)
    return OpenFact(ROOM_QUESTION.format(place.name), ZERO, ROOM_REMEDY, place.at)


def is_meant(receptacle: Receptacle, outlets: Outlets, terms: GroundFault) -> bool:
    """Whether a receptacle is of a rating the edition speaks of. One without a rating has that of a small circuit."""
    if not terms.amperes:
        return True
    if receptacle.amperes is not None:
        return receptacle.amperes in terms.amperes
    return outlets.amperes is None or outlets.amperes <= max(terms.amperes)


def asked_at(place: Outlet, terms: GroundFault) -> str:
    """``asked``, ``free``; ``room`` or ``near`` where that is not written and decides."""
    if not place.room:
        return "room"
    part = next((row.receptacles for row in terms.rows if row.room == place.room), "")
    if part == "all" or (part == "counter" and place.near == "counter"):
        return "asked"
    if place.near == "sink" and place.room not in terms.but_near_sinks:
        return "asked"
    if place.near == "tub" and terms.near_tubs:
        return "asked"
    is_said = place.near in ("sink", "tub", "away")
    return "near" if place.room in ROOMS_WITH_SINKS and not is_said else "free"


def protected_at(place: Outlet, outlets: Outlets) -> bool | None:
    """Whether the receptacles of a place are behind a ground-fault device; None where the sheet does not say."""
    own = bool(place.receptacles) and all("gfci" in each.protects for each in place.receptacles)
    if outlets.circuit.gfci or place.fed_through or own:
        return True
    others = [name for name in outlets.ground_fault_devices if name != place.name]
    if outlets.circuit.gfci is None or others or has(place, "gfci"):
        return None
    return False if all(each.is_certain for each in place.receptacles) else None


def found(outlets: Outlets, terms: GroundFault, by_answer: dict[str, list[Outlet]]) -> Iterator[Finding]:
    """What is found of the places where protection is asked for, of those where that is open, and of the rest."""
    asked, unsure = by_answer["asked"], [*by_answer["near"], *by_answer["room"]]
    lacking = [place for place in asked if protected_at(place, outlets) is False]
    unsaid = [place for place in asked if protected_at(place, outlets) is None]
    unsure = [place for place in unsure if not (place.is_found and protected_at(place, outlets))]
    if outlets.circuit.gfci:
        unsure = []
    if lacking:
        verdict, message = Verdict.FAILS, PROTECTION_LACKS.format(outlets.name, KIND, names_of(lacking))
    elif unsaid:
        verdict, message = Verdict.OPEN, PROTECTION_ASKED.format(outlets.name, KIND, names_of(unsaid))
    elif unsure:
        verdict, message = Verdict.OPEN, PROTECTION_OPEN.format(outlets.name, KIND)
    elif there := [*asked, *by_answer["near"], *by_answer["room"]]:
        verdict, message = Verdict.PASSES, PROTECTION_THERE.format(outlets.name, KIND, names_of(there))
    elif by_answer["free"]:
        verdict, message = Verdict.PASSES, PROTECTION_NOT_ASKED.format(outlets.name, KIND, names_of(by_answer["free"]))
    else:
        return
    facts = [*[question_of(place, outlets) for place in unsaid], *[place_asked(place) for place in unsure]]
    yield Finding(
        NAME,
        verdict,
        outlets.name,
        message,
        terms.cite,
        outlets.circuit.at,
        facts=tuple(facts) if verdict is Verdict.OPEN else (),
        also=tuple([place.at for place in (*lacking, *unsaid)]),
        confidence=terms.confidence,
    )


def place_asked(place: Outlet) -> OpenFact:
    """What is to be known of a place before it is clear whether protection is asked for there."""
    if place.room:
        return OpenFact(NEAR_QUESTION.format(place.name), ZERO, NEAR_REMEDY, place.at)
    return room_asked(place)


def question_of(place: Outlet, outlets: Outlets) -> OpenFact:
    """What to look at where protection is asked for and the sheet does not say that it is there."""
    if outlets.circuit.gfci is False and not all(each.is_certain for each in place.receptacles):
        return OpenFact(WHICH_CIRCUIT_QUESTION.format(place.name), ZERO, WHICH_CIRCUIT_REMEDY, place.at)
    return OpenFact(GROUND_FAULT_QUESTION.format(place.name), ZERO, GROUND_FAULT_REMEDY, place.at)


__all__ = ["NAME", "ground_fault", "room_asked"]
