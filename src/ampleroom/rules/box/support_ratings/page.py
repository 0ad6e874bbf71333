"""What ``rule support-ratings`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.box.support_ratings import FAN, LUMINAIRE
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("weight", "rating", "fan", "fan box", "luminaire", "fixture", "support")


def fan(book: CodeBook) -> str:
    """The heaviest fan a box carries, and from when its marking gives the weight, pounds."""
    terms = book[FAN]
    return (
        f"A fan on a box weighs {terms.most_lb} lb at most. Over {terms.marked_over_lb} lb the marking gives the "
        "weight."
    )


def luminaire(book: CodeBook) -> str:
    """Which luminaires a box carries, and which a device box, pounds."""
    terms = book[LUMINAIRE]
    return (
        f"A luminaire over {terms.ceiling_lb} lb hangs from the building or from a box listed for it. A luminaire "
        "of "
        f"{terms.light_lb} lb or less may hang on a device box on a wall."
    )


SENTENCES = (Sentence((FAN,), fan), Sentence((LUMINAIRE,), luminaire))
