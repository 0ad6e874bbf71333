"""What ``rule required-circuits`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.quantities import count
from ampleroom.rules.page import Sentence, words
from ampleroom.rules.panel.required import BATHROOM, GARAGE, LAUNDRY, SMALL_APPLIANCE

TRADE_WORDS = ("small appliance circuit", "laundry circuit", "bathroom circuit", "garage circuit", "kitchen circuits")


def kitchen(book: CodeBook) -> str:
    """How many circuits a kitchen has."""
    terms = book[SMALL_APPLIANCE]
    return f"At least {words(terms.number)} circuits of {count(terms.amperes)} A for small appliances in the kitchen."


def laundry(book: CodeBook) -> str:
    """How many a laundry has."""
    terms = book[LAUNDRY]
    return f"At least {words(terms.number)} circuit of {count(terms.amperes)} A for the laundry."


def bathroom(book: CodeBook) -> str:
    """How many the bathrooms have."""
    terms = book[BATHROOM]
    return f"At least {words(terms.number)} circuit of {count(terms.amperes)} A for the bathrooms."


def garage(book: CodeBook) -> str:
    """How many a garage has."""
    terms = book[GARAGE]
    if not terms.number:
        return "No circuit of its own for the garage."
    return f"At least {words(terms.number)} circuit of {count(terms.amperes)} A for a garage with power."


SENTENCES = (
    Sentence((SMALL_APPLIANCE,), kitchen),
    Sentence((LAUNDRY,), laundry),
    Sentence((BATHROOM,), bathroom),
    Sentence((GARAGE,), garage),
)
