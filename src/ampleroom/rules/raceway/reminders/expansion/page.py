"""What ``rule raceway-expansion`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.quantities import inches
from ampleroom.rules.page import Sentence
from ampleroom.rules.raceway.reminders.expansion import EXPANSION

TRADE_WORDS = ("expansion", "expansion fitting", "expansion joint", "pvc")


def expansion(book: CodeBook) -> str:
    """How much PVC conduit grows with heat, and from how many inches on a fitting is needed."""
    terms = book[EXPANSION]
    growth, least = format(terms.growth, "f"), inches(terms.least)
    return f"PVC conduit grows by {growth} of its length for each °F. A fitting is needed from a change of {least} on."


SENTENCES = (Sentence((EXPANSION,), expansion),)
