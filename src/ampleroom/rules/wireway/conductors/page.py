"""What ``rule wireway-conductors`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.page import Sentence
from ampleroom.rules.wireway.conductors import GUTTER, WIREWAY, Many

TRADE_WORDS = ("thirty conductors", "30 conductors", "derating in a wireway", "conductors in a wireway")


def wireway(book: CodeBook) -> str:
    """Up to how many conductors in a wireway need no adjustment, and where they are counted."""
    return f"In a metal wireway {many(book[WIREWAY])}"


def gutter(book: CodeBook) -> str:
    """The same of a gutter."""
    return f"In a metal auxiliary gutter {many(book[GUTTER])}"


def many(terms: Many) -> str:
    """Up to how many, in a sentence: ``30 conductors that carry current``."""
    return (
        f"{terms.conductors} conductors that carry current, counted {terms.counted}, need no adjustment of their "
        "ampacity; with more of them all do. It is no limit."
    )


SENTENCES = (Sentence((WIREWAY,), wireway), Sentence((GUTTER,), gutter))
