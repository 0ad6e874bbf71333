"""What ``rule old-circuit`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.by_place import ARC_FAULT, EXTENSION, REPLACEMENT
from ampleroom.quantities import count
from ampleroom.rules.circuit.arc_fault.page import rooms
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("replacement receptacle", "two prong", "no ground", "extension of a circuit", "panel change")


def replacement(book: CodeBook) -> str:
    """What a replaced receptacle gets."""
    arcs = book[REPLACEMENT].arc_fault
    return f"A replaced receptacle gets {'ground-fault and arc-fault' if arcs else 'ground-fault'} protection."


def extension(book: CodeBook) -> str:
    """What an extended circuit gets, and how much wire is let be."""
    terms = book[EXTENSION]
    if not terms.asked:
        return "The edition has no sentence on circuits that are made longer."
    let_be = f"up to {count(terms.feet)} ft of wire more is let be" if terms.feet else "any length counts"
    return f"A circuit that is made longer in such a room gets arc-fault protection; {let_be}."


SENTENCES = (Sentence((REPLACEMENT,), replacement), Sentence((EXTENSION,), extension), Sentence((ARC_FAULT,), rooms))
