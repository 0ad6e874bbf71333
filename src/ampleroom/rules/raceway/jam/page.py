"""What ``rule raceway-jam`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.page import Sentence, capital, words
from ampleroom.rules.raceway.jam import JAM

TRADE_WORDS = ("jam", "jam ratio", "jamming")


def jam(book: CodeBook) -> str:
    """Between which ratios of bore to conductor three alike may jam."""
    terms = book[JAM]
    return (
        f"{capital(words(terms.alike))} alike may jam where the bore is {terms.least} to {terms.most} times as "
        f"wide as one of them. By default the printed bore is compared, and not one {terms.at_bends} times as "
        "wide, as bends may make it (disputed: jam-at-bends)."
    )


SENTENCES = (Sentence((JAM,), jam),)
