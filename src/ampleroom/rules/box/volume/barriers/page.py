"""What ``rule box-room-barriers`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.quantities import number
from ampleroom.rules.box.volume.barriers import BARRIER, SPACES
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("barrier", "divider", "partition", "space", "box volume")


def barriers(book: CodeBook) -> str:
    """What a barrier takes off the box volume, in3."""
    terms = book[BARRIER]
    metal, nonmetallic = terms.metal, terms.nonmetallic
    if not terms.stated:
        return (
            "The code does not say what a barrier takes off. By default nothing comes off, marked or not; leave room "
            "for "
            "it anyway (disputed: early-barrier)."
        )
    return (
        f"A barrier takes off the volume marked on it. With no marking it takes {number(metal)} in3 if it is metal and "
        f"{number(nonmetallic)} in3 if it is not."
    )


def spaces(book: CodeBook) -> str:
    """How the spaces a barrier makes are counted."""
    return "Each space is counted by itself."


SENTENCES = (Sentence((BARRIER,), barriers), Sentence((SPACES,), spaces))
