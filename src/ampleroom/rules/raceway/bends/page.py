"""What ``rule raceway-bends`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.page import Sentence
from ampleroom.rules.raceway.bends import BENDS

TRADE_WORDS = ("bend", "360", "four bends", "pull point", "offset", "conduit bend")


def bends(book: CodeBook) -> str:
    """How far a raceway may turn between pull points, in degrees."""
    return f"A raceway turns through {book[BENDS].most} degrees at most between pull points."


SENTENCES = (Sentence((BENDS,), bends),)
