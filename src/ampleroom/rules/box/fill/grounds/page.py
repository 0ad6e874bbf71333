"""What ``rule box-fill-grounds`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.quantities import count
from ampleroom.rules.box.fill.grounds import GROUNDS
from ampleroom.rules.page import Sentence, words

TRADE_WORDS = (
    "ground",
    "equipment ground",
    "egc",
    "equipment grounding conductor",
    "bonding jumper",
    "bare",
    "green",
    "isolated ground",
    "pigtail",
    "box fill",
)

PARTS = {Decimal("0.25"): "a quarter", Decimal("0.5"): "half", Decimal("0.75"): "three quarters", Decimal(1): "all"}


def grounds(book: CodeBook) -> str:
    """How many grounds one allowance covers, what each further one adds, and how isolated grounds count."""
    terms = book[GROUNDS]
    if terms.covered is None:
        text = "One allowance covers all equipment grounds, however many there are."
    else:
        more = f"{PARTS.get(terms.extra) or count(terms.extra)} of an allowance"
        text = (
            f"One allowance covers the first {words(terms.covered)} equipment grounds, and each one after that adds "
            f"{more}."
        )
    if terms.isolated_set:
        return f"{text} An isolated-ground set takes {words(terms.isolated_set)} more of its own."
    return f"{text} Isolated grounds count with the rest."


SENTENCES = (Sentence((GROUNDS,), grounds),)
