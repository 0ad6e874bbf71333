"""What ``rule cable-without-clamp`` says besides the rule itself: words it is found by, and its sentences by
edition.
"""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.quantities import plural
from ampleroom.rules.page import Sentence
from ampleroom.rules.reminders.cable_clamp import UNCLAMPED

TRADE_WORDS = ("clamp", "no clamp", "stapled", "single gang")


def unclamped(book: CodeBook) -> str:
    """Which box takes cable with no clamp, and how near the cable is fastened, inches."""
    terms = book[UNCLAMPED]
    gangs = plural(terms.gangs, "gang").replace("1 gang", "a single gang")
    return (
        f"Cable may enter a nonmetallic box of {gangs} with no clamp if it is fastened within {terms.within} in. of "
        "the box."
    )


SENTENCES = (Sentence((UNCLAMPED,), unclamped),)
