"""What ``rule metered-load`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.loads import METERED
from ampleroom.quantities import count
from ampleroom.rules.load.told import CHARGED, RATINGS
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("metered demand", "measured demand", "existing load by record", "220.87")


def metered(book: CodeBook) -> str:
    """The percent."""
    return f"Of the greatest demand that was measured {count(book[METERED].percent)}% counts."


SENTENCES = (Sentence((METERED,), metered), CHARGED, RATINGS)
