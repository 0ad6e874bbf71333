"""What ``rule raceway-flexible-whip`` says besides the rule itself: words it is found by, and its sentences by
edition.
"""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.page import Sentence, words
from ampleroom.rules.raceway.flexible import WHIPS

TRADE_WORDS = ("flexible conduit", "flex", "fmc", "whip", "3/8 flex")


def whip(book: CodeBook) -> str:
    """How many conductors and grounds the narrowest flexible conduit may hold, by its table."""
    grounds = words(book[WHIPS].grounds)
    return f"The table has the most conductors by size and insulation, and {grounds} ground of that size besides."


SENTENCES = (Sentence((WHIPS,), whip),)
