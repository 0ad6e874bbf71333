"""What ``rule arc-fault`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.by_place import ARC_FAULT
from ampleroom.quantities import count
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("afci", "arc fault", "bedroom", "dual function", "cafci")


def rooms(book: CodeBook) -> str:
    """Which circuits, and in which rooms."""
    terms = book[ARC_FAULT]
    what = "outlets or devices" if terms.devices else "outlets"
    ratings = " or ".join(map(str, terms.amperes))
    return f"Circuits of {count(terms.volts)} V and {ratings} A with {what} in: {', '.join(terms.rooms)}."


SENTENCES = (Sentence((ARC_FAULT,), rooms),)
