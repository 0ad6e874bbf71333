"""What ``rule outdoor-equipment`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.by_place import GROUND_FAULT, OUTDOORS
from ampleroom.quantities import count
from ampleroom.rules.circuit.ground_fault.page import rooms
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("outdoor outlet", "condenser gfci", "heat pump gfci", "hvac gfci", "hard wired outdoors")


def outdoors(book: CodeBook) -> str:
    """What is wired in where."""
    terms = book[OUTDOORS]
    if not terms.rooms:
        return f"Nothing is said of what is wired in (up to {count(terms.amperes)} A where it is)."
    let_off = f" Listed heating and cooling equipment was let off until {terms.hvac}." if terms.hvac else ""
    return f"Wired in, up to {count(terms.amperes)} A, one phase: {', '.join(terms.rooms)}.{let_off}"


SENTENCES = (Sentence((OUTDOORS,), outdoors), Sentence((GROUND_FAULT,), rooms))
