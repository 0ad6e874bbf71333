"""What ``rule box-room-marked`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.box.volume.marked import MARKED, MEASURED
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("marked box", "plastic box", "nonmetallic box", "box volume", "box room", "unmarked box", "measured box")


def marked(book: CodeBook) -> str:
    """That a marking gives the volume, and which boxes must have one."""
    return "A marked box has the volume marked in it. A nonmetallic box must be marked."


def measured(book: CodeBook) -> str:
    """Which boxes are measured inside, in3."""
    limit = book[MEASURED].larger_than
    return (
        f"A metal box over {limit} in3 with no marking is measured inside. A smaller one must be marked or of a "
        "standard size."
    )


SENTENCES = (Sentence((MARKED,), marked), Sentence((MEASURED,), measured))
