"""What ``rule apartments-load`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.loads import APARTMENTS
from ampleroom.quantities import count
from ampleroom.rules.load.told import CHARGED, LARGER, OF_GENERAL, RATINGS, steps
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("apartments", "multifamily", "apartment building", "220.84")


def apartments(book: CodeBook) -> str:
    """The percents."""
    terms = book[APARTMENTS]
    return (
        f"For {count(terms.least_units)} dwellings or more, of all that is connected: {steps(terms.rows, 'dwellings')}."
    )


SENTENCES = (*OF_GENERAL, Sentence((APARTMENTS,), apartments), CHARGED, LARGER, RATINGS)
