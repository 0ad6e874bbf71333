"""Ground-fault protection of appliances, wherever they stand."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.by_place import APPLIANCES, ApplianceRow
from ampleroom.rules.circuit.outlets import Outlets
from ampleroom.rules.registry import remind, rule
from ampleroom.words import APPLIANCE_ASKED, APPLIANCE_LACKS, APPLIANCE_REMEDY, APPLIANCE_THERE, APPLIANCE_UNSAID
from ampleroom.worksheet import Finding, OpenFact, Reminder, Verdict

NAME = "appliance-ground-fault"


@rule(NAME, title="Ground-fault protected appliances", topic="finding", about="outlets", tables=(APPLIANCES,))
def appliance_ground_fault(outlets: Outlets, book: CodeBook) -> Iterator[Finding]:
    """Some appliances of a dwelling have ground-fault protection wherever they stand, with a cord or wired in. The
    circuit says what it serves.

    A circuit of which the sheet says no room and nothing of its protection gets a reminder instead.

    Why: These appliances have hurt people who touched them and something grounded at once.
    """
    row = row_of(outlets, book)
    if row is None or not outlets.is_placed or outlets.is_old:
        return
    circuit, terms = outlets.circuit, book[APPLIANCES]
    with_receptacles = [place for place in outlets.places if place.receptacles]
    behind_devices = bool(with_receptacles) and all(
        place.fed_through or all("gfci" in each.protects for each in place.receptacles) for place in with_receptacles
    )
    facts: tuple[OpenFact, ...] = ()
    if circuit.gfci or behind_devices:
        verdict, message = Verdict.PASSES, APPLIANCE_THERE.format(outlets.name, row.name)
    elif circuit.gfci is False and not outlets.ground_fault_devices:
        verdict, message = Verdict.FAILS, APPLIANCE_LACKS.format(outlets.name, row.name)
    else:
        verdict, message = Verdict.OPEN, APPLIANCE_ASKED.format(outlets.name, row.name)
        question = f"whether {row.name} on {outlets.name} has ground-fault protection"
        facts = (OpenFact(question, Decimal(0), APPLIANCE_REMEDY, circuit.at),)
    cite, sure = row.cite or terms.cite, book.confidence(APPLIANCES, row)
    yield Finding(NAME, verdict, outlets.name, message, cite, circuit.at, facts=facts, confidence=sure)


def row_of(outlets: Outlets, book: CodeBook) -> ApplianceRow | None:
    """The row of what a circuit serves; None where the edition has none, or not for so much current."""
    terms = book[APPLIANCES]
    if outlets.amperes is not None and outlets.amperes > terms.amperes:
        return None
    return next((row for row in terms.rows if row.serves == outlets.circuit.serves), None)


def reminders(outlets: Outlets, book: CodeBook) -> Iterator[Reminder]:
    """That an appliance has it, where the sheet says nothing that could be judged."""
    row = row_of(outlets, book)
    if row is not None and not outlets.is_placed and not outlets.is_old:
        text = APPLIANCE_UNSAID.format(row.name[:1].upper() + row.name[1:])
        yield remind(NAME, text, book[APPLIANCES], cite=row.cite)


__all__ = ["NAME", "appliance_ground_fault", "reminders"]
