"""What ``rule existing-load`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.loads import EXISTING
from ampleroom.rules.load.told import CHARGED, LARGER, OF_GENERAL, RATINGS, steps
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("existing dwelling", "existing service", "220.83", "added load")


def existing(book: CodeBook) -> str:
    """The steps."""
    return f"Of all but new heat or cooling counts: {steps(book[EXISTING].rows, 'VA')}."


SENTENCES = (*OF_GENERAL, Sentence((EXISTING,), existing), CHARGED, LARGER, RATINGS)
