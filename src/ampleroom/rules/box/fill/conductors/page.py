"""What ``rule box-fill-conductors`` says besides the rule itself: words it is found by, and its sentences by
edition.
"""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.conductor_counts import CONDUCTORS
from ampleroom.rules.page import Sentence, times

TRADE_WORDS = (
    "conductor",
    "wire",
    "hot",
    "neutral",
    "splice",
    "traveler",
    "loop",
    "coil",
    "pigtail",
    "jumper",
    "pass through",
    "box fill",
    "allowance",
)


def conductors(book: CodeBook) -> str:
    """How often a conductor counts by what becomes of it in the box."""
    terms = book[CONDUCTORS]
    return (
        f"Spliced or terminated: {times(terms.ends)}. Straight through: {times(terms.passes)}. Unbroken with a "
        f"loop at least {times(terms.loop_times)} the free conductor: {times(terms.looped)}. Never leaves the box: "
        f"{times(terms.inside)}."
    )


SENTENCES = (Sentence((CONDUCTORS,), conductors),)
