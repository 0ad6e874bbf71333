"""What ``rule free-conductor`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.page import Sentence
from ampleroom.rules.reminders.free_conductor import FREE_CONDUCTOR

TRADE_WORDS = ("free conductor", "free length", "6 inches", "slack", "tail")


def free_conductor(book: CodeBook) -> str:
    """The free length to leave, inches."""
    terms = book[FREE_CONDUCTOR]
    return (
        f"Leave {terms.length} in. free, reaching {terms.outside} in. outside an opening under "
        f"{terms.opening_under} in."
    )


def spliced_free_conductor(book: CodeBook) -> str:
    """Whether a splice may make up that length."""
    if book[FREE_CONDUCTOR].spliced:
        return "A splice may make up the length."
    return "By default a splice may not make up the length (disputed: spliced-free-length)."


SENTENCES = (Sentence((FREE_CONDUCTOR,), free_conductor), Sentence((FREE_CONDUCTOR,), spliced_free_conductor))
