"""What ``rule neutral-load`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.loads import NEUTRAL
from ampleroom.quantities import count
from ampleroom.rules.load.told import OF_THE_STANDARD, RATINGS
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("neutral load", "service neutral", "70 percent")


def neutral(book: CodeBook) -> str:
    """The percents."""
    terms = book[NEUTRAL]
    return (
        f"Ranges and dryers load the neutral with {count(terms.cooking)}% of what they count for. Of what is over "
        f"{count(terms.over)} A counts {count(terms.percent)}%."
    )


SENTENCES = (*OF_THE_STANDARD, Sentence((NEUTRAL,), neutral), RATINGS)
