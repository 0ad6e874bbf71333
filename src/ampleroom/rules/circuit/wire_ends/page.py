"""What ``rule wire-ends`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.circuit.wire_ends import METALS, NEUTRAL, ONE_WIRE, SERVICE, TORQUE_TERMS
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("torque", "double tap", "lug", "co/alr", "copper clad", "bonding", "subpanel neutral")


def ends(book: CodeBook) -> str:
    """What is asked where wires end."""
    return (
        "One wire a terminal unless it is marked for more; tightened to the torque marked on it; aluminum and "
        "copper-clad in terminals marked for them."
    )


def bonding(book: CodeBook) -> str:
    """What is bonded, and what is kept apart."""
    return (
        "Neutral and ground are bonded at the service and kept apart in the panels after it. Metal raceways of a "
        "service are bonded around their knockouts."
    )


SENTENCES = (Sentence((ONE_WIRE, TORQUE_TERMS, METALS), ends), Sentence((NEUTRAL, SERVICE), bonding))
