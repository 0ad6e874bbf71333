"""The circuits every dwelling has of its own: small appliances, laundry, bathroom, garage."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Figure, Line, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table
from ampleroom.job.trade import USUAL_VOLTS
from ampleroom.quantities import count, listed
from ampleroom.record import Record
from ampleroom.rules.circuit.outlets import Outlet, Outlets, names_of
from ampleroom.rules.panel.laid_out import LaidOut
from ampleroom.rules.registry import remind, rule
from ampleroom.worksheet import REQUIRED_CIRCUITS as PURPOSE
from ampleroom.worksheet import Finding, OpenFact, Reminder, Verdict, Worksheet

NAME = PURPOSE.name


class Required(Record):
    """Circuits a dwelling has of its own: so many, of so many amperes."""

    cite: str
    confidence: str
    number: Decimal
    amperes: Decimal


SMALL_APPLIANCE = Table("panels.small_appliance", Required, __file__)
LAUNDRY = Table("panels.laundry", Required, __file__)
BATHROOM = Table("panels.bathroom", Required, __file__)
GARAGE = Table("panels.garage", Required, __file__)


class Wanted(Record):
    """One of the required kinds, by the rooms a circuit of it feeds."""

    name: str
    table: Table[Required]
    room: str
    """Where a receptacle of it stands for certain."""
    also: tuple[str, ...]
    """Other rooms it may feed."""
    near: str = ""
    """Where in the room."""


KINDS = (
    Wanted("small appliances", SMALL_APPLIANCE, "kitchen", ("dining room",), "counter"),
    Wanted("the laundry", LAUNDRY, "laundry", ()),
    Wanted("bathrooms", BATHROOM, "bathroom", ()),
    Wanted("the garage", GARAGE, "garage", ("outdoors",)),
)
"""What such a circuit feeds: from memory, 210.52(B), 210.11(C)."""


@rule(
    NAME,
    title="Required circuits of a dwelling",
    topic="finding",
    about="panel",
    tables=(SMALL_APPLIANCE, LAUNDRY, BATHROOM, GARAGE),
)
def required_circuits(known: LaidOut, book: CodeBook) -> Iterator[Finding]:
    """A dwelling has at least two 20 A circuits for the receptacles of its kitchen counters, and one 20 A circuit each
    for the receptacles of the laundry and of the bathrooms; since 2017 one for those of a garage with power. A circuit
    counts where the sheet says the rooms of all its outlets and no other room is among them. Where fewer are plain from
    the sheet, the rest is asked; where no place of such a room is in the sheet, it is not judged.

    Why: A toaster and a kettle on the circuit of the living room would trip it every morning.
    """
    for wanted in KINDS if known.of_dwelling is not None else ():
        terms = book[wanted.table]
        if not terms.number or not has_room(known, wanted.room):
            continue
        there = [each for each in known.of_dwelling or () if counts(each, wanted, terms)]
        have: tuple[Line, ...] = tuple(
            [
                Figure(NAME, f"{each.name}: {names_of(places_in(each, wanted))}", Decimal(1), Unit.COUNT)
                for each in there
            ]
        )
        need = Figure(NAME, f"Circuits for {wanted.name}", terms.number, Unit.COUNT, "", terms.cite, terms.confidence)
        sheet = Worksheet(have, (need,), PURPOSE, Verdict.OPEN)
        many, amperes = count(terms.number), count(terms.amperes)
        if sheet.passes:
            text = f"{listed([each.name for each in there])} for {wanted.name}, {many} of {amperes} A required"
            yield Finding(NAME, Verdict.PASSES, known.name, f"{known.name}: {text}", terms.cite, known.panel.at, sheet,
                          confidence=terms.confidence)  # fmt: skip
            continue
        text = f"which {amperes} A circuits are for {wanted.name}: {len(there)} of {many} plain from the sheet"
        fact = OpenFact(text, Decimal(0), "write the room of every box on them, or add what is missing", known.panel.at)
        yield Finding(NAME, Verdict.OPEN, known.name, f"{known.name}: {text}", terms.cite, known.panel.at, sheet, None,
                      (fact,), (), terms.confidence)  # fmt: skip


def has_room(known: LaidOut, room: str) -> bool:
    """Whether a place of the dwelling is known to stand in such a room."""
    return any(place.room == room for each in known.of_dwelling or () for place in each.places)


def counts(each: Outlets, wanted: Wanted, terms: Required) -> bool:
    """Whether a circuit is one of a kind for certain."""
    if each.amperes != terms.amperes or each.is_three_phase or each.circuit.serves or each.circuit.volts not in USUAL:
        return False
    rooms = {place.room for place in each.places if place.is_outlet}
    return bool(places_in(each, wanted)) and rooms <= {wanted.room, *wanted.also}


USUAL = (None, USUAL_VOLTS)
"""The volts of a circuit for receptacles; where none are written they are the usual ones."""


def places_in(each: Outlets, wanted: Wanted) -> list[Outlet]:
    """The places of a circuit that have a receptacle of it where such a circuit must have one."""
    return [
        place
        for place in each.places
        if place.room == wanted.room
        and (not wanted.near or place.near == wanted.near)
        and any(receptacle.is_certain for receptacle in place.receptacles)
    ]


def reminders(known: LaidOut, book: CodeBook) -> Iterator[Reminder]:
    """What of the required circuits is not judged, as no room of the kind is in the sheet."""
    for wanted in KINDS if known.of_dwelling is not None else ():
        terms = book[wanted.table]
        if terms.number and not has_room(known, wanted.room):
            many = f"{count(terms.number)} circuit{'s' if terms.number > 1 else ''} of {count(terms.amperes)} A"
            text = f"Not judged: {many} for {wanted.name}. No box in the sheet says 'room {wanted.room}'."
            yield remind(NAME, text, terms)


__all__ = ["NAME", "reminders", "required_circuits"]
